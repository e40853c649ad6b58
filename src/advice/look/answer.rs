//! The answer while the current is on: what was read, and what it makes of the run.

use super::expect::{Expected, noise, of_meters, scale};
use super::fault::Fault;
use super::meter::ALIKE;
use super::posterior::{Drawn, Progress};
use super::weighted::quantiles;
use crate::advice::case::{Case, own_source};
use crate::advice::checks::{FURTHEST_S, latest_look};
use crate::advice::error::AdviceError;
use crate::advice::reads::Taken;
use crate::advice::spread::Sampling;
use crate::advice::spread::quantile::Quantiles;
use crate::advice::spread::sample::Inputs;
use crate::advice::verdict::{Chances, MOSTLY};
use crate::job::Job;
use crate::job::log::{Accuracies, Reading};
use crate::run::Trace;
use crate::stock::Stock;
use nalgebra::DVector;

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

/// A fault that the readings fit better than the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspect {
    /// The fault.
    pub fault: Fault,
    /// How many times as likely as that nothing is wrong, faults being rare.
    pub odds: f64,
    /// Faults that these readings do not tell from it.
    pub like: Vec<Fault>,
}

/// A reading, and what it was expected to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Against {
    /// What was read.
    pub reading: Reading,
    /// What eight right set-ups in ten would have shown: the middle and the ends.
    pub expected: (f64, f64, f64),
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
    /// Every reading beside what it was expected to be.
    pub against: Vec<Against>,
    /// The likeliest fault, where one is likelier than none.
    pub suspect: Option<Suspect>,
    /// How far the readings are off what is right, in standard deviations, and the most that is
    /// still believed where nothing fits.
    pub off: (f64, f64),
    /// Draws, and what those by the readings are worth.
    pub draws: (usize, f64),
}

impl Look<'_> {
    /// Whether it still does the job, more often than not.
    pub fn does(&self) -> bool {
        self.now.chances.firm <= MOSTLY
    }
}

/// How likely a fault is before anything is read, over nothing being wrong (judgement).
const RARE: f64 = 0.02;
/// Draws with the readings, and without.
pub const DRAWS: Sampling = Sampling { draws: 600, seed: 1 };
/// Times between now and well after the end at which the fast case is known.
const AHEAD: usize = 24;
/// How far ahead, over what is left of the likeliest run.
const BEYOND: f64 = 1.6;
/// Readings that lie further off than one right set-up in a thousand, and no fault explains, are
/// read again: standard deviations for one reading, rising with their number.
const ASTRAY: f64 = 3.3;

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
    let sds = taken.deviations(stock)?;
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
    let (suspect, off, against) = against(&taken, stock, &inputs, &sds)?;
    let squares: f64 = by_readings.iter().map(|d| d.weight * d.weight).sum();
    let draws = (sampling.draws, 1.0 / squares);
    drop(by_readings);
    Ok(Look { now_s, now, before, against, suspect, off, draws, case })
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

/// Readings against what is expected of right set-ups and of faults.
type Compared = (Option<Suspect>, (f64, f64), Vec<Against>);

fn against(
    taken: &Taken,
    stock: &Stock,
    inputs: &Inputs,
    sds: &[f64],
) -> Result<Compared, AdviceError> {
    let readings = taken.readings;
    let read =
        DVector::from_iterator(readings.len(), readings.iter().map(|r| scale(r.what, r.value)));
    let noise = noise(readings, sds);
    let right = Expected::of(taken, stock, inputs, None)?;
    let (fits, off) = right.likelihood(&read, &noise).unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
    let most = ASTRAY + (readings.len() as f64).sqrt() - 1.0;
    let mut faults: Vec<(Fault, Expected, f64)> = Vec::new();
    for fault in Fault::ALL.into_iter().filter(|f| f.befalls(taken.job, taken.source)) {
        let expected = Expected::of(taken, stock, inputs, Some(fault))?;
        // What the meter does not see of a small reading it does of the fault's.
        let own = super::expect::noise_of(
            readings,
            &expected.values,
            &of_meters(readings, &taken.accuracies),
        );
        let noise = noise.zip_map(&own, f64::max);
        let (likely, away) =
            expected.likelihood(&read, &noise).unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
        // One that the readings are as far from is no explanation.
        let likely = if away > most { f64::NEG_INFINITY } else { likely };
        faults.push((fault, expected, likely));
    }
    let best = faults.iter().max_by(|a, b| a.2.total_cmp(&b.2));
    let suspect = best.and_then(|(fault, expected, likely)| {
        let odds = RARE * libm::exp((likely - fits).min(50.0));
        let others = faults.iter().filter(|(other, ..)| other != fault);
        let like = others.filter(|(_, other, _)| expected.apart(other, &noise) < ALIKE);
        (odds > 1.0).then(|| Suspect {
            fault: *fault,
            odds,
            like: like.map(|(f, ..)| *f).collect(),
        })
    });
    let against = readings
        .iter()
        .enumerate()
        .map(|(n, reading)| {
            let sd = right.covariance[(n, n)].max(0.0).sqrt();
            let at = |z: f64| super::expect::unscale(reading.what, right.mean[n] + z * sd);
            Against { reading: reading.clone(), expected: (at(0.0), at(-TENTH), at(TENTH)) }
        })
        .collect();
    Ok((suspect, (off, most), against))
}

/// Standard deviations from the middle of a normal to its tenth.
const TENTH: f64 = 1.281_551_565_544_600_4;
