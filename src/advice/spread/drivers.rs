//! What the spread of the rate comes from, and what to measure next.
//!
//! The rate's logarithm is fitted by a straight line through the draws of the plan (R2 tells
//! how much of it the line explains). An input's share is what knowing it would take away,
//! whatever hangs together with it included: its squared correlation with the rate, which is
//! good to about a hundredth from 2000 draws.

use super::draw::Draw;
use super::line::Line;
use super::quantile::Quantiles;
use super::sample::{self, Inputs};
use super::steadied::Mixture;
use super::weighted;
use nalgebra::DVector;

/// Least share of what is not known for which a measurement is worth telling of.
const WORTH: f64 = 0.1;
/// A reading with ordinary tools: to 5 %.
const MEASURED: f64 = 0.05;

/// One input's part in what is not known.
#[derive(Debug, Clone, PartialEq)]
pub struct Driver {
    /// Key under `[spread]`.
    pub key: String,
    /// In plain words.
    pub title: String,
    /// Share of the variance of the rate's logarithm.
    pub share: f64,
}

/// What measuring the largest driver would give.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// Its title.
    pub title: String,
    /// Its key.
    pub key: String,
    /// To which spread, as a share.
    pub to: f64,
    /// The time's P10 and P90 then, s.
    pub time_s: Quantiles,
}

/// Drivers, the largest first, and R2 of the straight line behind them.
pub(super) struct Drivers {
    pub list: Vec<Driver>,
    pub r2: f64,
}

/// Drivers of the draws at these points.
pub(super) fn drivers(inputs: &Inputs, logarithms: &[DVector<f64>], draws: &[Draw]) -> Drivers {
    let rates: Vec<f64> = draws.iter().map(|d| d.ln_rate).collect();
    let line = Line::through(logarithms, &rates);
    let row = |(input, share): (&sample::Input, &f64)| Driver {
        key: input.key.clone(),
        title: input.title.clone(),
        share: *share,
    };
    let mut list: Vec<Driver> = inputs.list.iter().zip(&line.shares).map(row).collect();
    list.sort_by(|a, b| b.share.total_cmp(&a.share));
    Drivers { list, r2: line.r2 }
}

/// The time with the largest driver that a reading would narrow known to 5 %.
pub(super) fn measure(
    inputs: &Inputs,
    drivers: &[Driver],
    sample: &[DVector<f64>],
    times_s: &[f64],
) -> Option<Measure> {
    let to = sample::sigma(MEASURED);
    let wide = |key: &str| {
        let k = inputs.list.iter().position(|i| i.key == key && i.measurable)?;
        (inputs.covariance()[(k, k)].sqrt() > 1.05 * to).then_some(k)
    };
    let worth = drivers.iter().filter(|d| d.share >= WORTH);
    let (driver, k) = worth.filter_map(|d| Some((d, wide(&d.key)?))).next()?;
    // No run anew: by what the time hangs on, or else the draws, each as likely as it makes the
    // reading of what the job says.
    let narrowed = inputs.after_reading(k, to);
    let by_mixture = Mixture::of(sample, inputs.covariance(), times_s)
        .and_then(|mixture| mixture.quantiles(narrowed.covariance()));
    let likely = |x: &DVector<f64>| libm::exp(-0.5 * (x[k] / to).powi(2));
    let weighted = || weighted::quantiles(times_s.iter().copied().zip(sample.iter().map(likely)));
    Some(Measure {
        title: driver.title.clone(),
        key: driver.key.clone(),
        to: MEASURED,
        time_s: by_mixture.unwrap_or_else(weighted),
    })
}
