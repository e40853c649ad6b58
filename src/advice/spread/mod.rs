//! How sure: the run again and again with every uncertain input drawn anew.

pub mod bands;
pub mod charge;
mod draw;
mod drivers;
pub mod options;
mod outcomes;
pub mod quantile;
pub mod sample;
pub mod sobol;

use super::AdviceError;
use super::cores::on_all_cores;
use super::cycle::Warmth;
use crate::job::resolve::resolve;
use crate::job::{Job, Source};
use crate::run::{Precision, Run, Setup, Stop, run};
use crate::stock::Stock;
use bands::Bands;
use draw::{Draw, Followed};
pub use outcomes::Outcomes;
use quantile::Quantiles;
use sample::{Inputs, latin_hypercube};

/// How many draws, and which.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sampling {
    /// Draws.
    pub draws: usize,
    /// Seed; the same seed gives the same draws on every machine.
    pub seed: u64,
}

impl Default for Sampling {
    fn default() -> Self {
        Self { draws: 2000, seed: 1 }
    }
}

/// How sure the plan is.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// What came of the draws.
    pub outcomes: Outcomes,
    /// What the spread of the rate comes from, the largest first.
    pub drivers: Vec<Driver>,
    /// R2 of the straight line that the drivers' shares rest on, where one was used.
    pub line_r2: Option<f64>,
    /// What the best measurement would make of it.
    pub measure: Option<Measure>,
    /// Depth, current and warmth over time, eight times in ten.
    pub bands: Option<Bands>,
}

/// One input's part in what is not known.
#[derive(Debug, Clone, PartialEq)]
pub struct Driver {
    /// Key under `[spread]`.
    pub key: String,
    /// In plain words.
    pub title: String,
    /// Share of the variance of the rate's logarithm, by itself.
    pub share: f64,
    /// The same with its interplay.
    pub total: f64,
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

/// As fine as comparing needs.
const COARSE: Precision = Precision { relative: 1e-6 };
/// What a draw is held against.
struct Against<'a> {
    job: &'a Job,
    source: &'a Source,
    stock: &'a Stock,
    limits: Warmth,
    /// When the nominal piece is stopped, s.
    stop_s: f64,
}

/// Draws a plan; none when the nominal run does not etch at all.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn spread(
    job: &Job,
    source: &Source,
    stock: &Stock,
    nominal: (&Setup, &Run),
    limits: Warmth,
    sampling: Sampling,
) -> Result<Option<Spread>, AdviceError> {
    let (setup, run) = nominal;
    if run.depth_m <= 0.0 {
        return Ok(None);
    }
    let against = Against { job, source, stock, limits, stop_s: run.time_s };
    let inputs = Inputs::of(job, source);
    let points = latin_hypercube(sampling.draws, inputs.list.len(), sampling.seed);
    let times = bands::times(run.time_s);
    let followed = against.follow_all(&inputs, &points, &times)?;
    let draws: Vec<Draw> = followed.iter().map(|f| f.draw).collect();
    let courses: Vec<_> = followed.iter().filter_map(|f| f.course.as_ref()).collect();
    let drivers = against.drivers(&inputs, (&points, &draws), sampling.seed)?;
    let measure = against.measure(&inputs, &drivers.list, sampling)?;
    Ok(Some(Spread {
        outcomes: Outcomes::of(&followed, setup, sampling),
        drivers: drivers.list,
        line_r2: drivers.r2,
        measure,
        bands: Bands::of(times, &courses, setup.source.pack().is_some()),
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
    let points = latin_hypercube(sampling.draws, inputs.list.len(), sampling.seed);
    let times = on_all_cores(&points, |point| {
        let setup = resolve(job, source, stock, &inputs.factors(point))?;
        let run = run(&setup, COARSE)?;
        let done = run.stop == Stop::Depth;
        Ok::<_, AdviceError>(if done { run.time_s } else { f64::INFINITY })
    })?;
    Ok(Quantiles::of(times.into_iter()))
}

impl Against<'_> {
    /// All draws, on all cores, in order.
    fn all(&self, inputs: &Inputs, points: &[Vec<f64>]) -> Result<Vec<Draw>, AdviceError> {
        on_all_cores(points, |point| self.draw(inputs, point))
    }

    /// The same, followed to the nominal stop.
    fn follow_all(
        &self,
        inputs: &Inputs,
        points: &[Vec<f64>],
        times: &[f64],
    ) -> Result<Vec<Followed>, AdviceError> {
        let list: Vec<(usize, &Vec<f64>)> = points.iter().enumerate().collect();
        on_all_cores(&list, |(n, point)| {
            let kept = bands::kept(*n, points.len());
            self.follow(inputs, point, kept.then_some(times))
        })
    }
}
