//! The posterior by its own sampling, to see whether its curvature describes it.
//!
//! Importance sampling (Gelman et al., Bayesian Data Analysis, 3rd ed., 10.4): draws from a
//! wider Student's t about the most likely bench, weighted by the posterior over the t; the
//! effective number of draws is that of Kong, (sum w)^2 / sum w^2.

use super::evidence::Evidence;
use super::fit::Fit;
use crate::advice::cores::on_all_cores;
use crate::advice::error::AdviceError;
use crate::advice::spread::sample::points;
use nalgebra::DVector;
use statrs::distribution::{ContinuousCDF, Normal};

/// How well the curvature describes the posterior.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Draws.
    pub draws: usize,
    /// What they are worth, in independent draws.
    pub effective: f64,
    /// Sampled median shift of each factor's logarithm from the most likely one.
    pub means: Vec<f64>,
    /// Sampled standard deviation of each factor's logarithm.
    pub sds: Vec<f64>,
}

/// Degrees of freedom of the t: tails heavy enough to cover the posterior's.
const FREEDOM: usize = 6;
/// How much wider than the curvature says.
const WIDER: f64 = 1.1;

/// Samples the posterior.
///
/// # Errors
/// When a run cannot be worked out.
pub fn check(evidence: &Evidence, fit: &Fit, draws: usize) -> Result<Check, AdviceError> {
    let k = fit.z.len();
    let lower = fit.covariance.clone().cholesky().ok_or(AdviceError::Curvature)?.unpack() * WIDER;
    let starts = student(draws, k);
    let sampled = on_all_cores(&starts, |x| {
        let z = &fit.z + &lower * x;
        let misfits = evidence.misfits(&z)?;
        let target = -0.5 * (misfits.norm_squared() + z.norm_squared());
        let nu = FREEDOM as f64;
        let proposal = -0.5 * (nu + k as f64) * libm::log(1.0 + x.norm_squared() / nu);
        Ok::<_, AdviceError>((target - proposal, evidence.capped(&evidence.whiten * z)))
    })?;
    let top = sampled.iter().map(|(w, _)| *w).fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = sampled.iter().map(|(w, _)| libm::exp(w - top)).collect();
    let sum: f64 = weights.iter().sum();
    let squares: f64 = weights.iter().map(|w| w * w).sum();
    let mean_of = |f: &dyn Fn(&DVector<f64>) -> f64| {
        sampled.iter().zip(&weights).map(|((_, theta), w)| w * f(theta)).sum::<f64>() / sum
    };
    let means: Vec<f64> = (0..k).map(|i| mean_of(&|theta| theta[i])).collect();
    let sds = (0..k).map(|i| mean_of(&|theta| (theta[i] - means[i]).powi(2)).sqrt()).collect();
    Ok(Check { draws, effective: sum * sum / squares, means, sds })
}

/// Draws of a standard Student's t in `k` dimensions.
fn student(draws: usize, k: usize) -> Vec<DVector<f64>> {
    let standard = Normal::standard();
    let student = |point: &Vec<f64>| {
        let z: Vec<f64> = point.iter().map(|u| standard.inverse_cdf(*u)).collect();
        let square: f64 = z[k..].iter().map(|z| z * z).sum();
        DVector::from_column_slice(&z[..k]) * (FREEDOM as f64 / square).sqrt()
    };
    points(draws, k + FREEDOM, 1).iter().map(student).collect()
}
