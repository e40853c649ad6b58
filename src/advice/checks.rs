//! When to look.
//!
//! Once the piece could be within reach of the target, no more may be gained between two
//! looks, in the fast case, than the depth tolerance; and never more than 15 min apart
//! (common practice, no published source). The fast case is a depth over time that one piece
//! in ten passes.

use super::findings::Finding;
use crate::run::{Run, Trace};

/// One look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Check {
    /// When, s.
    pub at_s: f64,
    /// Depth to expect, m.
    pub depth_m: f64,
}

/// The looks of a run.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Looks {
    /// In order; the last is the end of the run.
    pub checks: Vec<Check>,
    /// When the fast case is at the target, s, where that is before the end.
    pub fast_s: Option<f64>,
    /// The tolerance they hold, m.
    pub tolerance_m: f64,
}

/// Longest time between two looks.
pub const FURTHEST_S: f64 = 15.0 * 60.0;
/// Nobody lifts a piece out more often than this.
pub const CLOSEST_S: f64 = 30.0;

/// Plans the looks by the fast case `fast`; a finding besides when the tolerance cannot be
/// held.
pub fn looks(
    run: &Run,
    trace: &Trace,
    fast: Option<&Trace>,
    target: f64,
    tolerance: f64,
) -> (Looks, Option<Finding>) {
    let mut checks = Vec::new();
    let mut widest_gain: f64 = 0.0;
    let mut at = 0.0;
    while let Some(fast) = fast.filter(|_| at < run.time_s) {
        let next = latest_look(fast, at, target, tolerance, FURTHEST_S);
        // Where one source gives way to the next, hands are at the bench anyway.
        let change = run.changes_s.iter().copied().find(|change| *change > at + 0.5 * CLOSEST_S);
        let next = change.map_or(next, |change| next.min(change));
        if next >= run.time_s - 0.5 * CLOSEST_S {
            break;
        }
        widest_gain = widest_gain.max(gain(fast, at, next, target - tolerance));
        checks.push(Check { at_s: next, depth_m: depth_at(trace, next) });
        at = next;
    }
    if run.time_s > 0.0 {
        if let Some(fast) = fast {
            let last = gain(fast, at, run.time_s, target - tolerance);
            widest_gain = widest_gain.max(last);
        }
        checks.push(Check { at_s: run.time_s, depth_m: run.depth_m });
    }
    let finding = (widest_gain > 1.05 * tolerance)
        .then_some(Finding::FineTolerance { tolerance, gain: widest_gain });
    let fast_s = fast.and_then(|f| time_at(f, target)).filter(|t| *t < run.time_s);
    (Looks { checks, fast_s, tolerance_m: tolerance }, finding)
}

/// The latest time for the next look after one at `at`, no further than `furthest` from it
/// (s), on a fast case `fast`.
pub fn latest_look(fast: &Trace, at: f64, target: f64, tolerance: f64, furthest: f64) -> f64 {
    // What is gained out of reach of the target does not count.
    let goal = depth_at(fast, at).max(target - tolerance) + tolerance;
    tidy(at, time_at(fast, goal).unwrap_or(f64::INFINITY).min(at + furthest))
}

/// A time a person would set a clock by, no later than the one worked out but at least
/// the closest distance on.
fn tidy(at: f64, next: f64) -> f64 {
    let step = if next >= 120.0 { 30.0 } else { 5.0 };
    ((next / step).floor() * step).max(at + CLOSEST_S)
}

/// Depth gained in reach of the target between two times.
fn gain(fast: &Trace, from: f64, to: f64, reach: f64) -> f64 {
    let (a, b) = (depth_at(fast, from), depth_at(fast, to));
    (b - a.max(reach)).max(0.0)
}

/// Depth at a time, straight between samples; the last sample's beyond the end.
pub fn depth_at(trace: &Trace, t: f64) -> f64 {
    between(&trace.t_s, &trace.depth_m, t)
}

fn time_at(trace: &Trace, depth: f64) -> Option<f64> {
    let last = trace.depth_m.last()?;
    (*last >= depth).then(|| between(&trace.depth_m, &trace.t_s, depth))
}

fn between(x: &[f64], y: &[f64], at: f64) -> f64 {
    let k = x.partition_point(|v| *v <= at);
    match (k.checked_sub(1), x.get(k)) {
        (None, _) => y.first().copied().unwrap_or(0.0),
        (Some(i), None) => y[i],
        (Some(i), Some(next)) => {
            let share = (at - x[i]) / (next - x[i]);
            y[i] + share * (y[k] - y[i])
        }
    }
}
