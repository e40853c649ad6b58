//! The most likely bench: maximum a posteriori by Levenberg-Marquardt on the logarithms of
//! the factors, the prior being as much evidence as the readings.
//!
//! The logarithms are theta = L z, L the Cholesky factor of the prior's covariance, so that
//! the prior is |z|^2/2. What is made least is the sum of squares of every reading's misfit
//! over its standard deviation, and of z. The curvature at the least (J'J, J the slopes of
//! all those) is the inverse of the posterior's covariance (Laplace).
//!
//! Moré, "The Levenberg-Marquardt algorithm: implementation and theory", Numerical Analysis,
//! 1978, 105; Gelman et al., Bayesian Data Analysis, 3rd ed., 4.1 and 13.3.

use super::evidence::{Evidence, taken};
use crate::advice::cores::on_all_cores;
use crate::advice::error::AdviceError;
use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};

/// The most likely bench and its curvature.
#[derive(Debug, Clone)]
pub struct Fit {
    /// Whitened logarithms.
    pub z: DVector<f64>,
    /// Misfits of the readings used, in standard deviations, in the order of `used`.
    pub misfits: DVector<f64>,
    /// Their slopes along z.
    pub slopes: DMatrix<f64>,
    /// Posterior covariance of z.
    pub covariance: DMatrix<f64>,
}

/// Step of the slopes, in prior standard deviations: well above what a run's tolerance
/// leaves uncertain, well below where slopes bend.
const STEP: f64 = 0.02;
/// Rounds of Levenberg-Marquardt per factor; it takes a tenth of them.
const PATIENCE: usize = 20;

/// Fits the factors from a start.
///
/// # Errors
/// When a run cannot be worked out, or the curvature is not that of a least.
pub fn fit(evidence: &Evidence, start: &DVector<f64>) -> Result<Fit, AdviceError> {
    let problem = Problem { evidence, z: start.clone() };
    let search = LevenbergMarquardt::new()
        .with_ftol(1e-9)
        .with_xtol(1e-7)
        .with_gtol(1e-9)
        .with_patience(PATIENCE);
    // Where it ends for want of progress it is as near as the runs' tolerance lets it come.
    let (problem, _) = search.minimize(problem);
    let z = problem.z;
    let misfits = evidence.misfits(&z)?;
    let slopes = slopes(evidence, &z)?;
    let curvature = slopes.tr_mul(&slopes) + DMatrix::identity(z.len(), z.len());
    let covariance = curvature.cholesky().map(|c| c.inverse()).ok_or(AdviceError::Curvature)?;
    Ok(Fit { z, misfits, slopes, covariance })
}

/// Slopes of the misfits along z, by central differences; a bench cannot dissolve more than
/// Faraday's law, so an efficiency at its cap is looked at from below.
fn slopes(evidence: &Evidence, z: &DVector<f64>) -> Result<DMatrix<f64>, AdviceError> {
    let columns: Vec<usize> = (0..z.len()).collect();
    let columns = on_all_cores(&columns, |k| {
        let moved = |by: f64| {
            let mut z = z.clone();
            z[*k] += by;
            evidence.misfits(&z)
        };
        let capped = evidence.parameters.list[*k].key == "efficiency" && z[*k].abs() < STEP;
        if capped {
            return Ok((moved(0.0)? - moved(-STEP)?) / STEP);
        }
        Ok::<_, AdviceError>((moved(STEP)? - moved(-STEP)?) / (2.0 * STEP))
    })?;
    let rows = columns.first().map_or(0, DVector::len);
    Ok(DMatrix::from_fn(rows, columns.len(), |i, k| columns[k][i]))
}

struct Problem<'a> {
    evidence: &'a Evidence<'a>,
    z: DVector<f64>,
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, z: &DVector<f64>) {
        self.z.copy_from(z);
    }

    fn params(&self) -> DVector<f64> {
        self.z.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let misfits = self.evidence.misfits(&self.z).ok()?;
        let all = misfits.iter().chain(self.z.iter()).copied();
        Some(DVector::from_iterator(misfits.len() + self.z.len(), all))
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let (n, k) = (self.evidence.count(), self.z.len());
        let slopes = slopes(self.evidence, &self.z).ok()?;
        let mut all = DMatrix::zeros(n + k, k);
        all.rows_mut(0, n).copy_from(&slopes);
        all.rows_mut(n, k).fill_with_identity();
        Some(all)
    }
}

/// Misfits over what a fit leaves of them: standardised residuals, in the order of the
/// misfits. A reading that the fit follows closely has less of its own left.
pub fn standardised(fit: &Fit) -> Vec<f64> {
    let pulled = &fit.slopes * &fit.covariance;
    let left = |n: usize| (1.0 - pulled.row(n).dot(&fit.slopes.row(n))).max(0.01).sqrt();
    fit.misfits.iter().enumerate().map(|(n, m)| m / left(n)).collect()
}

/// Readings less what the fit has used of them.
pub fn freedom(fit: &Fit) -> f64 {
    let used = (&fit.slopes * &fit.covariance).component_mul(&fit.slopes).sum();
    fit.misfits.len() as f64 - used
}

impl Evidence<'_> {
    /// Readings used.
    pub fn count(&self) -> usize {
        self.used.iter().flatten().filter(|used| **used).count() + self.trials.len()
    }

    /// Misfits of everything used, in standard deviations.
    ///
    /// # Errors
    /// When a run cannot be worked out.
    pub fn misfits(&self, z: &DVector<f64>) -> Result<DVector<f64>, AdviceError> {
        let theta = &self.whiten * z;
        let mut list = Vec::with_capacity(self.count());
        for (n, run) in self.log.runs.iter().enumerate() {
            if !self.used[n].iter().any(|used| *used) {
                continue;
            }
            let factors = self.parameters.factors(n, &theta);
            let expected = taken(run).expected(self.stock, &factors, 0.0)?;
            for (k, expected) in expected.iter().enumerate().filter(|(k, _)| self.used[n][*k]) {
                list.push((expected - run.readings[k].value) / (self.sds[n][k] * self.scatter));
            }
        }
        list.extend(self.trials.iter().map(|t| (theta[t.parameter] - t.ln_factor) / t.ln_sd));
        Ok(DVector::from_vec(list))
    }
}
