//! The fast case: how quickly the piece may etch, one time in ten.
//!
//! Each uncertain input is log-normal. The rate's logarithm is taken as linear in theirs:
//! one run with each input a standard deviation up gives its slope; the spread of the
//! rate is the root of the summed squares (first-order propagation, JCGM 100:2008, 5.1).
//! The 90th percentile is then run as a run of its own, all inputs moved along the slopes
//! to the most likely point that gives it.

use super::spread::sample::sigma;
use crate::job::resolve::{Factors, Gap, resolve};
use crate::job::{Job, Source};
use crate::run::{Precision, Run, RunError, Setup, Trace, run, trace};
use crate::stock::Stock;
use statrs::distribution::{ContinuousCDF, Normal};

/// The fast case of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct FastCase {
    /// Standard deviation of the rate's logarithm.
    pub ln_sd: f64,
    /// Depth over time, followed past the target to the nominal end.
    pub trace: Trace,
}

/// What may go wrong on the way.
#[derive(Debug)]
pub enum FastError {
    /// A number missing in stock.
    Gap(Gap),
    /// A numeric failure.
    Run(RunError),
}

impl From<Gap> for FastError {
    fn from(gap: Gap) -> Self {
        Self::Gap(gap)
    }
}

impl From<RunError> for FastError {
    fn from(error: RunError) -> Self {
        Self::Run(error)
    }
}

/// The quantile that counts as fast.
const FAST: f64 = 0.9;
/// The other runs are only compared, and this is fine enough.
const COARSE: Precision = Precision { relative: 1e-6 };
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
) -> Result<Option<FastCase>, FastError> {
    let Some(ln_rate) = ln_rate(nominal) else {
        return Ok(None);
    };
    let mut pulls = Vec::new();
    for spread in job.spread.0.iter().filter(|s| s.sd > 0.0) {
        let sigma = sigma(spread.sd);
        let mut factors = Factors::default();
        let Some(factor) = factors.named(&spread.key) else {
            continue;
        };
        *factor = sigma.exp();
        let setup = resolve(job, source, stock, &factors)?;
        if let Some(other) = self::ln_rate(&run(&setup, COARSE)?) {
            pulls.push((spread.key.as_str(), sigma, other - ln_rate));
        }
    }
    let ln_sd = pulls.iter().map(|(_, _, pull)| pull * pull).sum::<f64>().sqrt();
    let setup = at_the_fast_point(job, source, stock, &pulls, ln_sd)?;
    let setup = past_the_target(setup, nominal);
    let (_, trace) = trace(&setup, COARSE, POINTS)?;
    Ok(Some(FastCase { ln_sd, trace }))
}

/// Logarithm of the mean rate of depth; none without depth.
fn ln_rate(run: &Run) -> Option<f64> {
    (run.depth_m > 0.0 && run.time_s > 0.0).then(|| (run.depth_m / run.time_s).ln())
}

fn at_the_fast_point(
    job: &Job,
    source: &Source,
    stock: &Stock,
    pulls: &[(&str, f64, f64)],
    ln_sd: f64,
) -> Result<Setup, Gap> {
    let z = Normal::standard().inverse_cdf(FAST);
    let mut factors = Factors::default();
    for (key, sigma, pull) in pulls.iter().filter(|_| ln_sd > 0.0) {
        if let Some(factor) = factors.named(key) {
            *factor = (z * sigma * pull / ln_sd).exp();
        }
    }
    resolve(job, source, stock, &factors)
}

/// The same setup, followed to the nominal end rather than to its own target.
fn past_the_target(mut setup: Setup, nominal: &Run) -> Setup {
    setup.piece.depth = f64::INFINITY;
    setup.piece.floor = None;
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
            let sigma = super::sigma(sd);
            let w = (sigma * sigma).exp();
            assert!(((w * (w - 1.0)).sqrt() - sd).abs() < 1e-12);
        }
    }
}
