//! The whole spread of a plan: what comes of the draws, what it stems from, what to measure.

use super::against::Against;
use super::bands::{self, Bands};
use super::draw::Draw;
use super::drivers::{Driver, Measure, drivers, measure};
use super::metered::Metered;
use super::outcomes::Outcomes;
use super::quantile::Quantiles;
use super::sample::Inputs;
use super::sampling::Sampling;
use crate::advice::case::Case;
use crate::advice::cores::on_all_cores;
use crate::advice::error::AdviceError;
use crate::job::resolve::resolve;
use crate::job::{Job, Source};
use crate::run::{Precision, Stop, run};
use crate::stock::Stock;

/// When the ammeter is read, s after switching on: the needle stands, and little has changed.
const METER_S: f64 = 60.0;

/// How sure the plan is.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// What came of the draws.
    pub outcomes: Outcomes,
    /// What the spread of the rate comes from, the largest first.
    pub drivers: Vec<Driver>,
    /// R2 of the straight line that the drivers' shares rest on.
    pub line_r2: f64,
    /// What the best measurement would make of it.
    pub measure: Option<Measure>,
    /// Depth, current and warmth over time, eight times in ten.
    pub bands: Option<Bands>,
    /// What the ammeter shows soon after switching on.
    pub metered: Metered,
}

/// Draws a case; none when the nominal run does not etch at all.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn spread(case: &Case, sampling: Sampling) -> Result<Option<Spread>, AdviceError> {
    if case.run.charge_c <= 0.0 {
        return Ok(None);
    }
    let meter_s = METER_S.min(0.5 * case.run.time_s);
    let against = Against { case, stop_s: case.run.time_s, meter_s: Some(meter_s) };
    let inputs = Inputs::of(case.job, &case.source);
    let sample = inputs.sample(sampling.draws, sampling.seed);
    let times = bands::times(case.run.time_s);
    let followed = against.follow_all(&inputs, &sample, &times)?;
    let draws: Vec<Draw> = followed.iter().map(|f| f.draw).collect();
    let courses: Vec<_> = followed.iter().filter_map(|f| f.course.as_ref()).collect();
    let drivers = drivers(&inputs, &sample, &draws);
    let metered = Metered::of(meter_s, &followed);
    let times_s: Vec<f64> = draws.iter().map(|d| d.time_s).collect();
    let measure = measure(&inputs, &drivers.list, &sample, &times_s);
    Ok(Some(Spread {
        outcomes: Outcomes::of(&followed, &case.setup, (&inputs, &sample), sampling),
        drivers: drivers.list,
        line_r2: drivers.r2,
        measure,
        metered,
        bands: Bands::of(times, &courses, case.setup.cells().is_some()),
    }))
}

/// Time to depth alone, s, drawn as [`spread`] draws it.
///
/// # Errors
/// As [`spread`].
pub fn time_to_depth(
    job: &Job,
    source: &Source,
    stock: &Stock,
    sampling: Sampling,
) -> Result<Quantiles, AdviceError> {
    let inputs = Inputs::of(job, source);
    let sample = inputs.sample(sampling.draws, sampling.seed);
    let times = on_all_cores(&sample, |draw| {
        let setup = resolve(job, source, stock, &inputs.factors(draw))?;
        let run = run(&setup, Precision::DRAWN)?;
        let done = run.stop == Stop::Depth;
        Ok::<_, AdviceError>(if done { run.time_s } else { f64::INFINITY })
    })?;
    Ok(inputs.quantiles(&sample, times.into_iter()))
}
