//! What was learned: the factors, how sure they are, and what they make of the next piece.

use super::evidence::Evidence;
use super::fit::Fit;
use super::next::{Next, next};
use super::outliers::{Outlier, without};
use super::parameters::{Parameter, Parameters};
use super::posterior::{Check, check};
use crate::advice::error::AdviceError;
use crate::advice::spread::Sampling;
use crate::advice::spread::quantile::TENTH;
use crate::job::log::{Log, LogRun};
use crate::job::resolve::resolve;
use crate::job::{Learned, Profile};
use crate::stock::Stock;
use nalgebra::{DMatrix, DVector};

/// What was learned.
#[derive(Debug, Clone)]
pub struct Learning {
    /// The factors on the inputs.
    pub factors: Vec<Factor>,
    /// Bath resistance of each piece in its bath, which is far better known than the gap and
    /// the conductivity that make it up.
    pub bath_resistance: Vec<Factor>,
    /// Covariance of the factors' logarithms.
    pub covariance: DMatrix<f64>,
    /// Readings that were left out.
    pub outliers: Vec<Outlier>,
    /// Readings used.
    pub used: usize,
    /// How many times as far as the meters would the readings scatter; 1 where they do not.
    pub scatter: f64,
    /// How well the curvature describes the posterior.
    pub check: Check,
    /// What it makes of the next piece.
    pub next: Option<Next>,
}

/// One factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// What it is.
    pub parameter: Parameter,
    /// Median.
    pub value: f64,
    /// One in ten is below.
    pub low80: f64,
    /// One in ten is above.
    pub high80: f64,
    /// Standard deviation of its logarithm.
    pub ln_sd: f64,
}

/// Draws of the posterior that check its curvature.
const CHECKED: usize = 256;

/// The most likely bench of a log.
struct Fitted<'a> {
    evidence: Evidence<'a>,
    fit: Fit,
    outliers: Vec<Outlier>,
    /// Logarithms of the factors.
    theta: DVector<f64>,
    /// Their covariance.
    covariance: DMatrix<f64>,
    factors: Vec<Factor>,
}

impl<'a> Fitted<'a> {
    fn of(log: &'a Log, stock: &'a Stock) -> Result<Self, AdviceError> {
        let mut evidence = Evidence::of(log, stock)?;
        let (fit, outliers) = without(&mut evidence)?;
        let theta = &evidence.whiten * &fit.z;
        let covariance = &evidence.whiten * &fit.covariance * evidence.whiten.transpose();
        let factors = factors(&evidence.parameters, &theta, &covariance);
        Ok(Self { evidence, fit, outliers, theta, covariance, factors })
    }
}

/// Learns from a log.
///
/// # Errors
/// When a run cannot be worked out, or no bench explains the readings even nearly.
pub fn learn(log: &Log, stock: &Stock, sampling: Sampling) -> Result<Learning, AdviceError> {
    let fitted = Fitted::of(log, stock)?;
    let evidence = &fitted.evidence;
    let known = as_profile(&fitted.factors, &fitted.covariance, log);
    Ok(Learning {
        bath_resistance: bath_resistance(evidence, &fitted.theta, &fitted.covariance)?,
        used: evidence.count(),
        scatter: evidence.scatter,
        check: check(evidence, &fitted.fit, CHECKED)?,
        factors: fitted.factors,
        covariance: fitted.covariance,
        outliers: fitted.outliers,
        next: next(log, known, stock, sampling)?,
    })
}

/// The factors alone, without the posterior's own sampling and the next piece: what a study
/// of many benches needs.
///
/// # Errors
/// As [`learn`].
pub fn profile(log: &Log, stock: &Stock) -> Result<Profile, AdviceError> {
    let fitted = Fitted::of(log, stock)?;
    Ok(as_profile(&fitted.factors, &fitted.covariance, log))
}

impl Learning {
    /// As a profile that a job can name.
    pub fn profile(&self, log: &Log) -> Profile {
        as_profile(&self.factors, &self.covariance, log)
    }

    /// How far the posterior's own sampling is off the curvature at worst, of all factors: the
    /// mean in standard deviations, and the standard deviation as a share.
    pub fn off(&self) -> (f64, f64) {
        let each = self.factors.iter().zip(self.check.means.iter().zip(&self.check.sds));
        each.fold((0.0, 0.0), |(shift, wide), (f, (mean, sd))| {
            let one: f64 = (mean - libm::log(f.value)).abs() / f.ln_sd;
            let two: f64 = (sd / f.ln_sd - 1.0).abs();
            (one.max(shift), two.max(wide))
        })
    }

    /// Correlation of two factors' logarithms.
    pub fn correlation(&self, i: usize, j: usize) -> f64 {
        self.covariance[(i, j)] / (self.factors[i].ln_sd * self.factors[j].ln_sd)
    }
}

fn as_profile(factors: &[Factor], covariance: &DMatrix<f64>, log: &Log) -> Profile {
    let learned = |f: &Factor| Learned {
        key: f.parameter.key.clone(),
        of: f.parameter.of.clone(),
        value: f.value,
        sd: f.ln_sd,
    };
    Profile {
        file: log.file.clone(),
        factors: factors.iter().map(learned).collect(),
        covariance: covariance.clone(),
        runs: log.runs.len(),
    }
}

fn factor(parameter: Parameter, ln: f64, ln_sd: f64) -> Factor {
    let at = |z: f64| libm::exp(ln + z * ln_sd);
    Factor { parameter, value: at(0.0), low80: at(-TENTH), high80: at(TENTH), ln_sd }
}

fn factors(all: &Parameters, theta: &DVector<f64>, covariance: &DMatrix<f64>) -> Vec<Factor> {
    let one = |(k, p): (usize, &Parameter)| {
        factor(p.clone(), theta[k], covariance[(k, k)].max(0.0).sqrt())
    };
    all.list.iter().enumerate().map(one).collect()
}

/// Bath resistance over that of the job as written, for every piece in its bath; its spread
/// by the slopes of its logarithm.
fn bath_resistance(
    evidence: &Evidence,
    theta: &DVector<f64>,
    covariance: &DMatrix<f64>,
) -> Result<Vec<Factor>, AdviceError> {
    const STEP: f64 = 1e-3;
    let prior = evidence.parameters.prior();
    let mut list: Vec<Factor> = Vec::new();
    for (n, run) in evidence.log.runs.iter().enumerate() {
        let (title, salt) = (&run.job.title, &run.job.bath.stock.name);
        let same = |other: &&LogRun| other.job.title == *title;
        let before = evidence.log.runs[..n].iter().filter(same);
        let of = match before.map(|other| &other.job.bath.stock.name).collect::<Vec<_>>() {
            salts if salts.contains(&salt) => continue,
            salts if salts.is_empty() => title.clone(),
            _ => format!("{title} in {salt}"),
        };
        let ln = |theta: &DVector<f64>| -> Result<f64, AdviceError> {
            let factors = evidence.parameters.factors(n, theta);
            let setup = resolve(&run.job, &run.source, evidence.stock, &factors)?;
            Ok(libm::log(setup.bath.shape_factor / setup.bath.kappa25))
        };
        let slope = |k: usize| -> Result<f64, AdviceError> {
            let mut up = theta.clone();
            up[k] += STEP;
            Ok((ln(&up)? - ln(theta)?) / STEP)
        };
        let slopes: Vec<f64> = (0..theta.len()).map(slope).collect::<Result<_, _>>()?;
        let slopes = DVector::from_vec(slopes);
        let sd = |c: &DMatrix<f64>| slopes.dot(&(c * &slopes)).max(0.0).sqrt();
        let usual = sd(&prior);
        let parameter = Parameter {
            key: "bath_resistance".into(),
            of,
            title: "bath resistance".into(),
            // As a share, as every other spread is given.
            prior_sd: libm::expm1(usual * usual).sqrt() * libm::exp(0.5 * usual * usual),
        };
        list.push(factor(
            parameter,
            ln(theta)? - ln(&DVector::zeros(theta.len()))?,
            sd(covariance),
        ));
    }
    Ok(list)
}
