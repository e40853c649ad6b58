//! The fast case of a piece in a day: how quickly it may etch, one time in ten.
//!
//! A plan draws its inputs thousands of times and takes its looks from those draws
//! (`spread/bands.rs`). A day weighs every kind of piece on every source, most of which it
//! never uses; there this first-order estimate, ten runs instead of thousands, has to do. The
//! two agree to a few per cent of the rate while it is nearly log-linear in the inputs.
//!
//! Each uncertain input is log-normal. The rate's logarithm is taken as linear in theirs:
//! one run with each input a standard deviation up gives its slope; the spread of the rate
//! follows from the slopes and the inputs' covariance (first-order propagation, JCGM
//! 100:2008, 5.1 and 5.2).
//! The 90th percentile is then run as a run of its own, all inputs moved along the slopes
//! to the most likely point that gives it.

use super::error::AdviceError;
use super::spread::sample::Inputs;
use crate::job::resolve::resolve;
use crate::job::{Job, Source};
use crate::run::{Precision, Run, Setup, Trace, run, trace};
use crate::stock::Stock;
use nalgebra::DVector;
use statrs::distribution::{ContinuousCDF, Normal};

/// The fast case of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct FastCase {
    /// Standard deviation of the rate's logarithm.
    pub ln_sd: f64,
    /// Depth over time, followed past the target to the nominal end.
    pub trace: Trace,
}

/// The quantile that counts as fast.
const FAST: f64 = 0.9;
const POINTS: usize = 400;

/// Works the fast case out; none when the nominal run does not etch at all.
///
/// # Errors
/// When a number is missing or a run cannot be worked out.
pub fn fast_case(
    job: &Job,
    source: &Source,
    stock: &Stock,
    nominal: &Run,
) -> Result<Option<FastCase>, AdviceError> {
    let Some(ln_rate) = ln_rate(nominal) else {
        return Ok(None);
    };
    let inputs = Inputs::of(job, source);
    let mut slopes = DVector::zeros(inputs.list.len());
    for k in 0..slopes.len() {
        let sigma = inputs.covariance()[(k, k)].sqrt();
        let mut up = DVector::zeros(slopes.len());
        up[k] = sigma;
        let setup = resolve(job, source, stock, &inputs.factors(&up))?;
        if let Some(other) = self::ln_rate(&run(&setup, Precision::COARSE)?).filter(|_| sigma > 0.0)
        {
            slopes[k] = (other - ln_rate) / sigma;
        }
    }
    let pull = inputs.covariance() * &slopes;
    let ln_sd = slopes.dot(&pull).max(0.0).sqrt();
    let z = Normal::standard().inverse_cdf(FAST);
    let point = if ln_sd > 0.0 { pull * (z / ln_sd) } else { pull };
    let setup = resolve(job, source, stock, &inputs.factors(&point))?;
    let setup = past_the_target(setup, nominal);
    let (_, trace) = trace(&setup, Precision::COARSE, POINTS)?;
    Ok(Some(FastCase { ln_sd, trace }))
}

/// Logarithm of the mean rate of depth; none without depth.
fn ln_rate(run: &Run) -> Option<f64> {
    (run.depth_m > 0.0 && run.time_s > 0.0).then(|| libm::log(run.depth_m / run.time_s))
}

/// A setup, followed to the nominal end rather than to its own target.
fn past_the_target(mut setup: Setup, nominal: &Run) -> Setup {
    setup.go_on_for_ever();
    setup.time_limit_s = nominal.time_s;
    setup
}

#[cfg(test)]
mod tests {
    #[test]
    fn log_normal_sigma_from_a_share() {
        // A log-normal's standard deviation is median * sqrt(w (w - 1)), w = exp(sigma^2)
        // (any text on statistics); the share given is that over the median.
        for sd in [0.05f64, 0.25, 0.5] {
            let sigma = crate::advice::spread::sample::sigma(sd);
            let w = (sigma * sigma).exp();
            assert!(((w * (w - 1.0)).sqrt() - sd).abs() < 1e-12);
        }
    }
}
