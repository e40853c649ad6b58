//! What readings are to be expected of a set-up that is right, or has a fault, and how they
//! scatter: to first order in the logarithms of the uncertain inputs.
//!
//! The readings are taken on scales on which they are nearly linear: for currents and depths the
//! inverse hyperbolic sine of the value over the least that a meter tells apart, which is a
//! logarithm for all that is more and has room for nothing and for less than nothing. Propagation
//! of distributions to first order: JCGM 100:2008, 5.1.

use super::fault::{Fault, Faulty};
use crate::advice::error::AdviceError;
use crate::advice::reads::Taken;
use crate::advice::spread::sample::Inputs;
use crate::job::log::{Accuracies, Reading, What};
use crate::job::resolve::Factors;
use crate::stock::Stock;
use nalgebra::{DMatrix, DVector};

/// Readings as they are to be expected.
#[derive(Debug, Clone)]
pub struct Expected {
    /// What they would be, each in its own unit.
    pub values: Vec<f64>,
    /// The same on their scales.
    pub mean: DVector<f64>,
    /// Their covariance, of the inputs alone.
    pub covariance: DMatrix<f64>,
}

/// Step of the slopes, in standard deviations of an input.
const STEP: f64 = 0.5;

impl Expected {
    /// With the fault in the set-up, or with none.
    ///
    /// # Errors
    /// When a run cannot be worked out.
    pub fn of(
        taken: &Taken,
        stock: &Stock,
        inputs: &Inputs,
        fault: Option<Fault>,
    ) -> Result<Self, AdviceError> {
        let read = |factors: &Factors| -> Result<Vec<f64>, AdviceError> {
            let Some(fault) = fault else {
                return taken.expected(stock, factors, 0.0);
            };
            match fault.put(taken.job, taken.source, stock, factors)? {
                Faulty::Etches(setup) => taken.of_setup(&setup, 0.0),
                Faulty::Stands(amps, volts) => {
                    Ok(taken.readings.iter().map(|r| standing(r, amps, volts)).collect())
                }
            }
        };
        let scaled = |values: &[f64]| -> DVector<f64> {
            let scales = taken.readings.iter().zip(values);
            DVector::from_iterator(values.len(), scales.map(|(r, v)| scale(r.what, *v)))
        };
        let values = read(&Factors::default())?;
        let mean = scaled(&values);
        let mut slopes = DMatrix::zeros(values.len(), inputs.list.len());
        for k in 0..inputs.list.len() {
            let mut z = DVector::zeros(inputs.list.len());
            z[k] = STEP;
            let moved = scaled(&read(&inputs.factors(&(inputs.lower() * z)))?);
            slopes.set_column(k, &((moved - &mean) / STEP));
        }
        Ok(Self { values, mean, covariance: &slopes * slopes.transpose() })
    }

    /// Logarithm of how likely readings on their scales are, and how far off they are, in standard
    /// deviations.
    pub fn likelihood(&self, read: &DVector<f64>, noise: &DVector<f64>) -> Option<(f64, f64)> {
        let all = &self.covariance + DMatrix::from_diagonal(noise);
        let lower = all.cholesky()?;
        let off = read - &self.mean;
        let square = off.dot(&lower.solve(&off));
        let ln_det: f64 = lower.l().diagonal().iter().map(|d| 2.0 * libm::log(*d)).sum();
        Some((-0.5 * (square + ln_det), square.sqrt()))
    }

    /// How far two expectations are apart, in standard deviations of either.
    pub fn apart(&self, other: &Self, noise: &DVector<f64>) -> f64 {
        let both = (&self.covariance + &other.covariance) * 0.5 + DMatrix::from_diagonal(noise);
        let off = &self.mean - &other.mean;
        both.cholesky().map_or(0.0, |lower| off.dot(&lower.solve(&off)).max(0.0).sqrt())
    }
}

/// What is read where nothing is etched and the meters stand still.
fn standing(reading: &Reading, amps: f64, volts: f64) -> f64 {
    match reading.what {
        What::Amps => amps,
        What::BathVolts | What::SourceVolts => volts,
        What::Depth | What::WeightLoss => 0.0,
        What::CellTemperature => reading.value, // not asked
    }
}

/// A reading on its scale.
pub fn scale(what: What, value: f64) -> f64 {
    match least(what) {
        Some(least) => libm::asinh(value / least),
        None => value,
    }
}

/// Under about this a reading's scale is straight, over it logarithmic: five times what a usual
/// meter is good to. None where it is straight all along.
fn least(what: What) -> Option<f64> {
    match what {
        What::Amps => Some(0.05),
        What::Depth => Some(1e-4),
        What::WeightLoss => Some(1e-4),
        _ => None,
    }
}

/// Variance of each reading on its scale, of one standard deviation `sd` in its own unit.
pub fn noise(readings: &[Reading], sds: &[f64]) -> DVector<f64> {
    let one = |(r, sd): (&Reading, &f64)| {
        let slope = least(r.what).map_or(1.0, |least| 1.0 / libm::hypot(r.value, least));
        (slope * sd) * (slope * sd)
    };
    DVector::from_iterator(readings.len(), readings.iter().zip(sds).map(one))
}

/// One standard deviation of each reading by the meter alone.
pub fn of_meters(readings: &[Reading], accuracies: &Accuracies) -> Vec<f64> {
    readings.iter().map(|r| accuracies.of(r.what).sd(r.value)).collect()
}

/// As [`noise`], at the values that are expected rather than at those that were read.
pub fn noise_of(readings: &[Reading], values: &[f64], sds: &[f64]) -> DVector<f64> {
    let at: Vec<Reading> =
        readings.iter().zip(values).map(|(r, v)| Reading { value: *v, ..r.clone() }).collect();
    noise(&at, sds)
}

/// A reading off its scale.
pub fn unscale(what: What, scaled: f64) -> f64 {
    match least(what) {
        Some(least) => least * libm::sinh(scaled),
        None => scaled,
    }
}
