//! Where depth, current and hot spot lie over time, eight times in ten: P10 and P90 of the
//! draws, each time by itself.
//!
//! The depth's upper edge is the fast case: what one draw in ten has passed by then. It is
//! on the target at the P10 of the time to depth.

use super::quantile::between;
use crate::advice::cores::on_all_cores;
use crate::run::{Run, Setup, Step, Trace, depth_of, hot_spot_of};
use std::convert::Infallible;

/// Share by which the sum of steps may miss the time that they were to end at.
pub const ROUNDING: f64 = 1e-9;
/// Times at which the draws are compared, from start to nominal stop.
const POINTS: usize = 201;
/// Most draws whose course is kept: 10 MB.
const MOST: usize = 4_000;

/// P10 and P90 over time.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// One in ten is under it.
    pub low: Vec<f64>,
    /// One in ten is over it.
    pub high: Vec<f64>,
}

/// The bands of a plan, from the start to its nominal stop; SI.
#[derive(Debug, Clone, PartialEq)]
pub struct Bands {
    /// Times, s.
    pub t_s: Vec<f64>,
    /// Depth, m.
    pub depth_m: Band,
    /// Current, A; none flows in a draw that has stopped for another reason than its depth.
    pub current_a: Band,
    /// Hot spot of the worst-placed cell, K; none without cells. A draw that has stopped
    /// counts as warm as it was then.
    pub hot_spot_k: Option<Band>,
}

/// The course of one draw, at the times of all.
#[derive(Debug, Clone)]
pub struct Course {
    times: Vec<f64>,
    current_before: f64,
    depth_m: Vec<f32>,
    current_a: Vec<f32>,
    hot_spot_k: Vec<f32>,
}

/// Even times from the start to `stop_s`.
pub fn times(stop_s: f64) -> Vec<f64> {
    (0..POINTS).map(|n| stop_s * n as f64 / (POINTS - 1) as f64).collect()
}

/// Which of `draws` have their course kept: every so many, so that few enough are.
pub fn kept(draw: usize, draws: usize) -> bool {
    draw.is_multiple_of(draws.div_ceil(MOST).max(1))
}

impl Course {
    /// None of it yet.
    pub fn new(times: &[f64]) -> Self {
        let room = || Vec::with_capacity(times.len());
        let times = times.to_vec();
        let (depth_m, current_a, hot_spot_k) = (room(), room(), room());
        Self { times, current_before: 0.0, depth_m, current_a, hot_spot_k }
    }

    /// The times that lie within a step. The current is straight within it.
    pub fn take(&mut self, setup: &Setup, step: &Step) {
        let end = (step.t + step.h) * (1.0 + ROUNDING);
        while let Some(t) = self.times.get(self.depth_m.len()).filter(|t| **t <= end) {
            let share = ((t - step.t) / step.h).clamp(0.0, 1.0);
            let y = if share < 1.0 { step.between(share) } else { step.to };
            let current = self.current_before + share * (step.at.current - self.current_before);
            self.depth_m.push(depth_of(setup, &y) as f32);
            self.current_a.push(current as f32);
            self.hot_spot_k.push(hot_spot_of(&y) as f32);
        }
        self.current_before = step.at.current;
    }

    /// The whole course of a run: after its last step it stands still, without current.
    pub fn done(mut self, run: &Run) -> Self {
        let points = self.times.len();
        let hot = run.peak_hot_spot_k.unwrap_or(f64::NAN) as f32;
        let last = |list: &[f32], or: f32| list.last().copied().unwrap_or(or);
        let (depth, hot) = (last(&self.depth_m, 0.0), last(&self.hot_spot_k, hot));
        self.depth_m.resize(points, depth);
        self.current_a.resize(points, 0.0);
        self.hot_spot_k.resize(points, hot);
        // Before the first step the current is the start's.
        if let Some(first) = self.current_a.first_mut() {
            *first = run.start_current_a as f32;
        }
        self.times = Vec::new();
        self
    }
}

impl Bands {
    /// Of courses at `t_s`; none without any.
    pub fn of(t_s: Vec<f64>, courses: &[&Course], cells: bool) -> Option<Self> {
        if courses.is_empty() {
            return None;
        }
        let band = |of: fn(&Course) -> &Vec<f32>| {
            let points: Vec<usize> = (0..t_s.len()).collect();
            let edges = on_all_cores(&points, |k| {
                let mut values: Vec<f64> = courses.iter().map(|c| f64::from(of(c)[*k])).collect();
                Ok::<_, Infallible>((between(&mut values, 0.1), between(&mut values, 0.9)))
            });
            let (low, high) = edges.unwrap_or_else(|never| match never {}).into_iter().unzip();
            Band { low, high }
        };
        Some(Self {
            depth_m: band(|c| &c.depth_m),
            current_a: band(|c| &c.current_a),
            hot_spot_k: cells.then(|| band(|c| &c.hot_spot_k)),
            t_s,
        })
    }

    /// The fast case: the depth that one draw in ten has passed.
    pub fn fast(&self) -> Trace {
        let (t_s, depth_m) = (self.t_s.clone(), self.depth_m.high.clone());
        Trace { t_s, depth_m, ..Trace::default() }
    }
}
