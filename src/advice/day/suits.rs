//! Each kind of piece on each source: whether it suits, with what rests, how fast at best,
//! and what the looks go by.

use crate::advice::bounds::Bounds;
use crate::advice::checks;
use crate::advice::checks::{FURTHEST_S, latest_look};
use crate::advice::cycle::{Cycle, Warmth};
use crate::advice::error::AdviceError;
use crate::advice::fast::fast_case;
use crate::advice::held::own_density;
use crate::advice::settled::near;
use crate::advice::size::{Looked, Reason, judge};
use crate::job::{HandTimes, Job, Source};
use crate::laws::cell::resistance_factor;
use crate::run::{Extremes, Precision, RunError, Setup, Trace, run};
use crate::stock::Stock;

/// A piece that suits a source.
#[derive(Debug, Clone)]
pub struct Suited {
    /// Every number of it, the pack fresh.
    pub setup: Setup,
    /// On and off in turn, where heat asks for it.
    pub cycle: Option<Cycle>,
    /// Temperatures that the cells stay under.
    pub limits: Warmth,
    /// Every other limit.
    bounds: Bounds,
    /// Depth over time in the fast case.
    fast: Trace,
    tolerance: f64,
    /// Longest time from one look's start to the next one's.
    look_s: f64,
    /// Least time with the current on, s, whatever the pack has behind it.
    pub least_on_s: f64,
    /// Looks that this takes at least.
    pub least_looks: u32,
}

/// Draws that tell whether a source does a piece.
pub const LOOKED: Looked = Looked { near: 400, far: 100, seed: 1 };
/// One part in a million over a limit is rounding.
const ROUNDING: f64 = 1.000_001;
/// What the least time leaves for a bath that has cooled or warmed in a pause.
const CUSHION: f64 = 0.995;

/// Whether a piece suits a source, and why not.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn suits(
    job: &Job,
    source: &Source,
    stock: &Stock,
    hands: &HandTimes,
) -> Result<Result<Suited, Vec<Reason>>, AdviceError> {
    let mut job = job.clone();
    // How many pieces a charge gives is for the day to say.
    job.limits.pieces_per_charge = None;
    let mut judged = judge(&job, source, stock)?;
    if judged.feasible() && near(&judged.held) {
        judged.draw(LOOKED)?;
    }
    if !judged.feasible() {
        return Ok(Err(judged.reasons));
    }
    let rest = judged.rest.map(|r| r.cycle);
    let case = judged.case;
    let tolerance = case.weighed().tolerance_m();
    let fast = fast_case(&job, source, stock, &case.run)?;
    let mut suited = Suited {
        cycle: rest,
        limits: case.warmth(),
        bounds: case.bounds,
        fast: fast.map_or_else(Trace::default, |f| going_on(f.trace)),
        tolerance,
        look_s: hands.look_s,
        least_on_s: least_on(&case.setup)?.min(case.run.time_s),
        least_looks: 0,
        setup: case.setup,
    };
    suited.least_looks = suited.looks_within(suited.least_on_s);
    Ok(Ok(suited))
}

impl Suited {
    /// The user's limit of current density, where it was passed.
    pub fn passed(&self, extremes: &Extremes) -> Option<Reason> {
        let density = extremes.current_a / self.setup.piece.exposed_area;
        let row = own_density(self.bounds.own_density, density);
        row.filter(|row| row.value > ROUNDING * row.bears).map(Reason::Over)
    }

    /// The latest time for the next look, in s with the current on, after one at `on_s`.
    /// From the start of one look to that of the next no more than 15 min pass.
    pub fn next_look(&self, on_s: f64) -> f64 {
        let furthest = if on_s > 0.0 { FURTHEST_S - self.look_s } else { FURTHEST_S };
        latest_look(&self.fast, on_s, self.setup.piece.depth, self.tolerance, furthest)
    }

    /// Looks, as late as they may be, of a piece that needs `on_s` with the current on.
    fn looks_within(&self, on_s: f64) -> u32 {
        let (mut at, mut looks) = (0.0, 0);
        loop {
            at = self.next_look(at);
            if at >= on_s - 0.5 * checks::CLOSEST_S {
                return looks;
            }
            looks += 1;
        }
    }

    /// Time from the hands' first touch to their last, with the current on at its least, s.
    pub fn least_s(&self, hands: &HandTimes) -> f64 {
        self.least_on_s + self.least_hands_s(hands)
    }

    /// What it takes of the hands' time at least, s.
    pub fn least_hands_s(&self, hands: &HandTimes) -> f64 {
        hands.hang_up_s + f64::from(self.least_looks) * hands.look_s + hands.take_down_s
    }
}

/// The fast case followed beyond its end at the pace that it ends with: a pack that has
/// served before takes longer, and must be looked after as long.
fn going_on(mut fast: Trace) -> Trace {
    const BEYOND: f64 = 20.0;
    let n = fast.t_s.len();
    if n >= 2 {
        let (t, d) = (fast.t_s[n - 1], fast.depth_m[n - 1]);
        let pace = (d - fast.depth_m[n - 2]) / (t - fast.t_s[n - 2]);
        if pace.is_finite() {
            fast.t_s.push((1.0 + BEYOND) * t);
            fast.depth_m.push(d + pace * BEYOND * t);
        }
    }
    fast
}

/// Least time to depth from any state of the pack: cells that stay full, are as warm as
/// they may be and never polarise.
fn least_on(setup: &Setup) -> Result<f64, RunError> {
    let mut best = setup.clone();
    if let crate::run::Source::Pack(pack) = &mut best.source {
        let c = &mut pack.cell;
        c.r0_ohm *= resistance_factor(c.r0_temp_k, pack.temperature_limit_k);
        c.r0_temp_k = 0.0;
        c.wells.capacity *= 1e6;
        c.c1_f *= 1e9;
        pack.charge_left = 1.0;
        pack.temperature_limit_k = f64::INFINITY;
    }
    Ok(CUSHION * run(&best, Precision::COARSE)?.time_s)
}
