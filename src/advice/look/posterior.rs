//! What may still be true of a bench once readings have been taken of a run in progress.
//!
//! The most likely inputs by Gauss and Newton's method, what is usual being as much evidence as
//! the readings; then draws of a slightly wider normal about them, each run to its end and weighed
//! by how likely it is over how often it was drawn (importance sampling: Gelman et al., Bayesian
//! Data Analysis, 3rd ed., 10.4), so that no straight line is left in the answer.

use crate::advice::case::Case;
use crate::advice::cores::on_all_cores;
use crate::advice::error::AdviceError;
use crate::advice::held::weigh;
use crate::advice::limit::Limit;
use crate::advice::reads::{Taken, value};
use crate::advice::spread::sample::{Inputs, points};
use crate::advice::verdict::Broke;
use crate::run::{Precision, Stop, trace_onward};
use nalgebra::{DMatrix, DVector};
use statrs::distribution::{ContinuousCDF, Normal};

/// One draw of what may be true.
#[derive(Debug, Clone)]
pub struct Drawn {
    /// How much it weighs; all together one.
    pub weight: f64,
    /// Time to depth from the start, s; infinite where it does not come to it.
    pub done_s: f64,
    /// Depth at each of the times asked for, m.
    pub depth_m: Vec<f64>,
    /// The limits that it broke.
    pub broke: Broke,
}

/// What readings say of the inputs, as a normal distribution in their whitened logarithms.
#[derive(Debug, Clone)]
pub struct Peak {
    z: DVector<f64>,
    /// Cholesky factor of the covariance.
    lower: DMatrix<f64>,
}

/// Step of the slopes, in standard deviations of an input.
const STEP: f64 = 0.05;
/// Rounds of Gauss and Newton's method at most.
const ROUNDS: usize = 8;
/// Furthest that an input is believed to be off, in standard deviations: readings that are nonsense
/// are not followed into it.
const FURTHEST: f64 = 5.0;
/// A step shorter than this, in standard deviations, ends it.
const SHORT: f64 = 0.02;
/// How much wider the draws are than the curvature says.
const WIDER: f64 = 1.1;

/// A run in progress and what was read of it.
pub struct Progress<'a> {
    /// The case as it was planned.
    pub case: &'a Case<'a>,
    /// The readings.
    pub taken: Taken<'a>,
    /// One standard deviation of each.
    pub sds: &'a [f64],
    /// The uncertain inputs.
    pub inputs: &'a Inputs,
}

impl Progress<'_> {
    /// Misfits in standard deviations.
    fn misfits(&self, values: &[f64]) -> DVector<f64> {
        let each = self.taken.readings.iter().zip(values).zip(self.sds);
        DVector::from_iterator(values.len(), each.map(|((r, v), sd)| (v - r.value) / sd))
    }

    fn misfits_at(&self, z: &DVector<f64>) -> Result<DVector<f64>, AdviceError> {
        let factors = self.inputs.factors(&(self.inputs.lower() * z));
        Ok(self.misfits(&self.taken.expected(self.case.stock, &factors, 0.0)?))
    }

    /// The most likely inputs.
    ///
    /// # Errors
    /// When a run cannot be worked out.
    pub fn peak(&self) -> Result<Peak, AdviceError> {
        let k = self.inputs.list.len();
        let mut z = DVector::zeros(k);
        let mut misfits = self.misfits_at(&z)?;
        let unlikely =
            |misfits: &DVector<f64>, z: &DVector<f64>| misfits.norm_squared() + z.norm_squared();
        let mut curvature = DMatrix::identity(k, k);
        for _ in 0..ROUNDS {
            let columns: Vec<usize> = (0..k).collect();
            let columns = on_all_cores(&columns, |k| {
                let mut moved = z.clone();
                moved[*k] += STEP;
                Ok::<_, AdviceError>((self.misfits_at(&moved)? - &misfits) / STEP)
            })?;
            let slopes = DMatrix::from_fn(misfits.len(), k, |i, j| columns[j][i]);
            curvature = slopes.tr_mul(&slopes) + DMatrix::identity(k, k);
            let Some(factor) = curvature.clone().cholesky() else {
                return Err(AdviceError::Curvature);
            };
            let step = -factor.solve(&(slopes.tr_mul(&misfits) + &z));
            // Halved until it is an improvement.
            let before = unlikely(&misfits, &z);
            let mut share = 1.0;
            let (mut next, mut there);
            loop {
                next = (&z + &step * share).map(|x| x.clamp(-FURTHEST, FURTHEST));
                there = self.misfits_at(&next)?;
                if unlikely(&there, &next) <= before || share < 1e-2 {
                    break;
                }
                share *= 0.5;
            }
            if unlikely(&there, &next) > before {
                break;
            }
            let length = (&next - &z).amax();
            (z, misfits) = (next, there);
            if length < SHORT {
                break;
            }
        }
        let covariance = curvature.cholesky().ok_or(AdviceError::Curvature)?.inverse();
        let lower = covariance.cholesky().ok_or(AdviceError::Curvature)?.unpack();
        Ok(Peak { z, lower })
    }

    /// Draws what may be true, each run on past its depth to the last of `times` (s). Without a
    /// peak the readings are not heeded.
    ///
    /// # Errors
    /// When a run cannot be worked out.
    pub fn draws(
        &self,
        peak: Option<&Peak>,
        times: &[f64],
        draws: usize,
        seed: u64,
    ) -> Result<Vec<Drawn>, AdviceError> {
        let k = self.inputs.list.len();
        let normal = Normal::standard();
        let points = points(draws, k, seed);
        let read: Vec<f64> = self.taken.readings.iter().map(|r| r.at_s).collect();
        let mut all: Vec<f64> = read.iter().chain(times).copied().collect();
        all.sort_by(f64::total_cmp);
        let place = |t: f64| all.partition_point(|a| *a < t);
        let latest = read.iter().copied().fold(0.0, f64::max);
        let mut drawn = on_all_cores(&points, |point| {
            let x = DVector::from_iterator(k, point.iter().map(|u| normal.inverse_cdf(*u)));
            let z = peak.map_or_else(|| x.clone(), |peak| &peak.z + &peak.lower * (&x * WIDER));
            let mut setup = self.case.moved(&self.inputs.factors(&(self.inputs.lower() * &z)))?;
            // Past the time allowed it was still going at the last reading.
            if latest >= setup.time_limit_s {
                setup.time_limit_s = ONWARD * latest;
            }
            let (run, trace) = trace_onward(&setup, Precision::DRAWN, &all)?;
            let ln_weight = match peak {
                None => 0.0,
                Some(_) => {
                    let values: Vec<f64> = self
                        .taken
                        .readings
                        .iter()
                        .map(|r| value(&setup, &trace, place(r.at_s), r))
                        .collect();
                    let likely = -0.5 * (self.misfits(&values).norm_squared() + z.norm_squared());
                    likely + 0.5 * x.norm_squared()
                }
            };
            let mut broke = Broke::of(&weigh(&self.case.weigh(&setup, &run), None));
            let depth_m: Vec<f64> = times.iter().map(|t| trace.depth_m[place(*t)]).collect();
            let deepest = setup.piece.thickness - setup.piece.floor.unwrap_or(0.0);
            if setup.piece.floor.is_some() && depth_m.first().is_some_and(|d| *d > deepest) {
                broke = broke.and(Limit::Floor);
            }
            let done_s = if run.stop == Stop::Depth { run.time_s } else { f64::INFINITY };
            Ok::<_, AdviceError>(Drawn { weight: ln_weight, done_s, depth_m, broke })
        })?;
        let top = drawn.iter().map(|d| d.weight).fold(f64::NEG_INFINITY, f64::max);
        drawn.iter_mut().for_each(|d| d.weight = libm::exp(d.weight - top));
        let sum: f64 = drawn.iter().map(|d| d.weight).sum();
        drawn.iter_mut().for_each(|d| d.weight /= sum);
        Ok(drawn)
    }
}

/// A run goes on at least so many times as long as it has.
const ONWARD: f64 = 3.0;
