//! The answer while the current is on: what was read, and what it makes of the run.

use super::posterior::{Drawn, Progress};
use super::suspect::{Compared, compare};
use crate::advice::case::{Case, own_source};
use crate::advice::checks::{FURTHEST_S, latest_look};
use crate::advice::error::AdviceError;
use crate::advice::reads::Taken;
use crate::advice::spread::Sampling;
use crate::advice::spread::quantile::Quantiles;
use crate::advice::spread::sample::Inputs;
use crate::advice::spread::weighted::quantiles;
use crate::advice::verdict::{Chances, MOSTLY};
use crate::job::Job;
use crate::job::log::{Accuracies, Reading, What};
use crate::run::Trace;
use crate::stock::Stock;
use crate::units::say;

/// How a run in progress stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Stand {
    /// Time to depth from the start, s.
    pub done_s: Quantiles,
    /// What is left of it, s.
    pub left_s: Quantiles,
    /// Depth now, m.
    pub depth_now_m: Quantiles,
    /// When to look next, since the start, s; none once it is time to stop.
    pub next_look_s: Option<f64>,
    /// How often each limit is broken.
    pub chances: Chances,
}

/// The answer.
#[derive(Debug, Clone)]
pub struct Look<'a> {
    /// The case as it was planned.
    pub case: Case<'a>,
    /// Time since the current went on, s.
    pub now_s: f64,
    /// By the readings.
    pub now: Stand,
    /// Without them.
    pub before: Stand,
    /// What the readings say of the set-up.
    pub compared: Compared,
    /// The last depth that was measured, m, where that is as deep as the piece should be.
    pub deep_enough: Option<f64>,
    /// Draws, and what those by the readings are worth.
    pub draws: (usize, f64),
}

impl Look<'_> {
    /// Whether it still does the job, more often than not, and nothing is to be put right first.
    pub fn does(&self) -> bool {
        self.compared.suspect.is_none() && self.now.chances.firm <= MOSTLY
    }
}

/// What the place where a cell is touched, the sun or the room may make of its warmth, K: one
/// standard deviation (judgement).
const TOUCHED_K: f64 = 3.0;
/// Draws with the readings, and without.
pub const DRAWS: Sampling = Sampling::OF_A_PLAN;
/// Times between now and well after the end at which the fast case is known.
const AHEAD: usize = 24;
/// How far ahead, over what is left of the likeliest run.
const BEYOND: f64 = 1.6;
/// Works the answer out. Readings in the order of time.
///
/// # Errors
/// When the job has no source, stock lacks a number or a run cannot be worked out.
pub fn look<'a>(
    job: &'a Job,
    stock: &'a Stock,
    readings: &[Reading],
    accuracies: Accuracies,
    sampling: Sampling,
) -> Result<Look<'a>, AdviceError> {
    let case = Case::of(job, own_source(job)?, stock)?;
    let inputs = Inputs::of(job, &case.source);
    let taken = Taken { job, source: &case.source, readings, accuracies };
    believed(&case, readings)?;
    let mut sds = taken.deviations(stock)?;
    for (sd, reading) in sds.iter_mut().zip(readings) {
        if reading.what == What::CellTemperature {
            *sd = libm::hypot(*sd, TOUCHED_K);
        }
    }
    let now_s = readings.iter().map(|r| r.at_s).fold(0.0, f64::max);
    let progress = Progress { case: &case, taken, sds: &sds, inputs: &inputs };
    let peak = progress.peak()?;
    // What is left of the run as it was planned says how far ahead to look; twice where that is
    // over by now.
    let left = (case.run.time_s - now_s).max(0.5 * now_s).max(60.0);
    let times: Vec<f64> =
        (0..=AHEAD).map(|n| now_s + BEYOND * left * n as f64 / AHEAD as f64).collect();
    let by_readings = progress.draws(Some(&peak), &times, sampling.draws, sampling.seed)?;
    let without = progress.draws(None, &times, sampling.draws, sampling.seed)?;
    let target = (case.setup.piece.depth, case.weighed().tolerance_m());
    let now = stand(&by_readings, &times, now_s, target);
    let before = stand(&without, &times, now_s, target);
    let compared = compare(&taken, stock, &inputs, &sds)?;
    let measured = readings.iter().rev().find(|r| r.what == What::Depth).map(|r| r.value);
    let deep_enough = measured.filter(|depth| *depth >= target.0);
    let squares: f64 = by_readings.iter().map(|d| d.weight * d.weight).sum();
    let draws = (sampling.draws, 1.0 / squares);
    drop(by_readings);
    Ok(Look { now_s, now, before, compared, deep_enough, draws, case })
}

/// Refuses what no piece can have lost.
fn believed(case: &Case, readings: &[Reading]) -> Result<(), AdviceError> {
    let piece = &case.setup.piece;
    let all_kg = piece.density * piece.exposed_area * piece.thickness;
    for reading in readings {
        let (most, unit) = match reading.what {
            What::Depth => (piece.thickness * 1e3, "mm"),
            What::WeightLoss => (all_kg * 1e3, "g"),
            _ => continue,
        };
        let value = reading.value * 1e3;
        if value > most {
            return Err(AdviceError::Reading {
                found: format!("{} {unit}", say::figures(value, 3)),
                most: format!("{} {unit}", say::figures(most, 3)),
            });
        }
    }
    Ok(())
}

fn stand(draws: &[Drawn], times: &[f64], now_s: f64, (target, tolerance): (f64, f64)) -> Stand {
    let of = |value: &dyn Fn(&Drawn) -> f64| quantiles(draws.iter().map(|d| (value(d), d.weight)));
    let fast: Vec<f64> =
        (0..times.len()).map(|k| of(&|d: &Drawn| d.depth_m[k]).p90.unwrap_or(0.0)).collect();
    let fast = Trace { t_s: times.to_vec(), depth_m: fast, ..Trace::default() };
    let done_s = of(&|d| d.done_s);
    let next = latest_look(&fast, now_s, target, tolerance, FURTHEST_S);
    // Where the middle is done before that, that is the time to look, and to stop.
    let stop = done_s.p50.filter(|done| *done <= next).map(|done| done.max(now_s));
    let weighed: Vec<_> = draws.iter().map(|d| (d.broke, d.weight)).collect();
    Stand {
        left_s: of(&|d| (d.done_s - now_s).max(0.0)),
        depth_now_m: of(&|d| d.depth_m[0]),
        next_look_s: Some(stop.unwrap_or(next)).filter(|at| *at > now_s),
        chances: Chances::weighed(&weighed),
        done_s,
    }
}
