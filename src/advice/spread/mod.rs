//! How sure: the run again and again with every uncertain input drawn anew.

mod drivers;
pub mod quantile;
pub mod sample;
pub mod sobol;

use super::AdviceError;
use super::cores::on_all_cores;
use super::cycle::Warmth;
use crate::job::resolve::resolve;
use crate::job::{Job, Source};
use crate::run::{Precision, Run, Setup, Stop, depth_of, run, run_observed};
use crate::stock::Stock;
use quantile::{Chance, Quantiles};
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
    /// How it was drawn.
    pub sampling: Sampling,
    /// Time to depth, s; those that do not come to depth count as endless.
    pub time_s: Quantiles,
    /// Depth when it is stopped at the nominal time, m.
    pub depth_m: Quantiles,
    /// Hottest spot, K; none without cells.
    pub hot_spot_k: Option<Quantiles>,
    /// Chance of eating into the floor, when it is stopped at the nominal time.
    pub through: Chance,
    /// Chance of not coming to depth within the time limit, or at all.
    pub unfinished: Chance,
    /// Chance of passing a limit of warmth.
    pub hot: Chance,
    /// What the spread of the rate comes from, the largest first.
    pub drivers: Vec<Driver>,
    /// R2 of the straight line that the drivers' shares rest on, where one was used.
    pub line_r2: Option<f64>,
    /// What the best measurement would make of it.
    pub measure: Option<Measure>,
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

/// One draw.
#[derive(Debug, Clone, Copy)]
struct Draw {
    /// Time to depth, s; infinite when it is not reached.
    time_s: f64,
    /// Depth at the nominal stop, m.
    depth_m: f64,
    hot_spot_k: f64,
    hot: bool,
    ln_rate: f64,
}

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
    let draws = against.all(&inputs, &points)?;
    let drivers = against.drivers(&inputs, (&points, &draws), sampling.seed)?;
    let measure = against.measure(&inputs, &drivers.list, sampling)?;
    let floor = setup.piece.floor.unwrap_or(0.0);
    let bottom = setup.piece.thickness - floor;
    Ok(Some(Spread {
        sampling,
        time_s: Quantiles::of(draws.iter().map(|d| d.time_s)),
        depth_m: Quantiles::of(draws.iter().map(|d| d.depth_m)),
        hot_spot_k: setup.source.pack().map(|_| Quantiles::of(draws.iter().map(|d| d.hot_spot_k))),
        through: Chance::of(draws.iter().map(|d| d.depth_m > bottom)),
        unfinished: Chance::of(draws.iter().map(|d| d.time_s.is_infinite())),
        hot: Chance::of(draws.iter().map(|d| d.hot)),
        drivers: drivers.list,
        line_r2: drivers.r2,
        measure,
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

    fn draw(&self, inputs: &Inputs, point: &[f64]) -> Result<Draw, AdviceError> {
        let setup = resolve(self.job, self.source, self.stock, &inputs.factors(point))?;
        // The depth when the nominal piece is stopped, where this one gets that far.
        let mut at_stop = None;
        let stop_s = self.stop_s;
        let run = run_observed(&setup, COARSE, |step, _| {
            if at_stop.is_none() && step.t + step.h >= stop_s {
                let share = ((stop_s - step.t) / step.h).clamp(0.0, 1.0);
                at_stop = Some(depth_of(&step.between(share)));
            }
        })?;
        Ok(self.outcome(&setup, &run, at_stop))
    }

    fn outcome(&self, setup: &Setup, run: &Run, at_stop: Option<f64>) -> Draw {
        let p = &setup.piece;
        let per_coulomb = crate::laws::faraday::depth_per_coulomb(
            p.equivalent_weight,
            p.efficiency,
            p.density,
            p.exposed_area,
        );
        // Done before the nominal stop, it goes on at its last rate until then.
        let over = (self.stop_s - run.time_s).max(0.0) * run.end_current_a * per_coulomb;
        let peaks = run.peak_hot_spot_k.zip(run.peak_surface_k);
        Draw {
            time_s: if run.stop == Stop::Depth { run.time_s } else { f64::INFINITY },
            depth_m: at_stop.unwrap_or(run.depth_m + over),
            hot_spot_k: run.peak_hot_spot_k.unwrap_or(f64::NAN),
            hot: run.stop == Stop::Hot || peaks.is_some_and(|p| !self.limits.holds(p)),
            ln_rate: (run.depth_m / run.time_s.max(1e-9)).max(1e-300).ln(),
        }
    }
}
