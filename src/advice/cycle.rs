//! Current on and off in turn: how a cycle gets the piece to depth, and how warm the cells
//! get in this run and when the cycle goes on and on.
//!
//! The session's figures are those of the periodic steady state (IEC 60034-1, duty type
//! S3): the cycle is repeated, each time with the pack's charge, the dissolved metal and
//! the depth put back to the start, until heat no longer changes from cycle to cycle. So
//! the worst heat of a session is found, that of a pack as full as at the start.

use crate::run::{Bench, Precision, RunError, Setup, Stop};

/// A cycle of on and off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycle {
    /// On, s.
    pub on_s: f64,
    /// Off, s.
    pub off_s: f64,
}

impl Cycle {
    /// Cyclic duration factor (IEC 60034-1): on over the whole cycle.
    pub fn duration_factor(&self) -> f64 {
        self.on_s / (self.on_s + self.off_s)
    }
}

/// What a cycle comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycled {
    /// The cycle.
    pub cycle: Cycle,
    /// Why the run ended.
    pub stop: Stop,
    /// From the first on to the end, rests and all, s.
    pub elapsed_s: f64,
    /// Time with the current on, s.
    pub on_s: f64,
    /// Hottest spot and surface in this run, K.
    pub peak: (f64, f64),
    /// The same at the periodic steady state; none where this run was enough to tell.
    pub session_peak: Option<(f64, f64)>,
}

/// Temperatures that must not be passed, K: hot spot and surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warmth {
    /// Hot spot.
    pub hot_spot_k: f64,
    /// Surface that one touches.
    pub surface_k: f64,
}

impl Warmth {
    /// Whether a pair of peaks stays within.
    pub fn holds(&self, (hot, surface): (f64, f64)) -> bool {
        hot <= self.hot_spot_k && surface <= self.surface_k
    }
}

/// As fine as comparing needs.
const COARSE: Precision = Precision { relative: 1e-6 };
/// Change of the peak from one cycle to the next at which heat counts as periodic, K.
const SETTLED_K: f64 = 1e-3;
const MOST_CYCLES: usize = 2_000;

/// Runs the piece with a cycle until it is done or an end comes; rests count against the
/// time limit.
///
/// # Errors
/// When a run cannot be worked out.
pub fn this_run(setup: &Setup, cycle: Cycle) -> Result<Cycled, RunError> {
    let mut bench = Bench::new(setup, COARSE);
    let mut on_s = 0.0;
    let stop = loop {
        let before = bench.time_s();
        if before >= setup.time_limit_s {
            break Stop::Time;
        }
        let on = cycle.on_s.min(setup.time_limit_s - before);
        let stop = bench.on(on)?;
        on_s += bench.time_s() - before;
        if let Some(stop) = stop {
            break stop;
        }
        bench.off(cycle.off_s.min((setup.time_limit_s - bench.time_s()).max(0.0)))?;
    };
    let (elapsed_s, peak) = (bench.time_s(), bench.take_peaks());
    Ok(Cycled { cycle, stop, elapsed_s, on_s, peak, session_peak: None })
}

/// Hottest spot and surface of a cycle repeated until heat is periodic, K; given up, with
/// what it has come to, once a limit is passed.
///
/// # Errors
/// When a run cannot be worked out.
pub fn session_peak(setup: &Setup, cycle: Cycle, limits: &Warmth) -> Result<(f64, f64), RunError> {
    let endless = without_ends(setup);
    let mut bench = Bench::new(&endless, COARSE);
    let mut last = bench.take_peaks();
    for _ in 0..MOST_CYCLES {
        bench.refill();
        bench.on(cycle.on_s)?;
        bench.off(cycle.off_s)?;
        let peak = bench.take_peaks();
        let settled = (peak.0 - last.0).abs() < SETTLED_K && (peak.1 - last.1).abs() < SETTLED_K;
        if settled || !limits.holds(peak) {
            return Ok(peak);
        }
        last = peak;
    }
    Ok(last)
}

/// The same setup with no depth, floor or temperature to stop at.
fn without_ends(setup: &Setup) -> Setup {
    let mut endless = setup.clone();
    endless.piece.depth = f64::INFINITY;
    endless.piece.floor = None;
    if let crate::run::Source::Pack(pack) = &mut endless.source {
        pack.temperature_limit_k = f64::INFINITY;
    }
    endless
}

/// The cycle of whole minutes that is soonest done with heat under its limits in this run
/// and in a session; none when no cycle up to an hour each way does it, or none is soon
/// enough. `on_minutes` are the on-times to try.
///
/// # Errors
/// When a run cannot be worked out.
pub fn soonest(
    setup: &Setup,
    limits: &Warmth,
    on_minutes: &[u32],
) -> Result<Option<Cycled>, RunError> {
    const LONGEST_OFF: u32 = 60;
    let mut best: Option<Cycled> = None;
    for on in on_minutes {
        let cycle = |off: u32| Cycle { on_s: f64::from(*on) * 60.0, off_s: f64::from(off) * 60.0 };
        let cool = |off: u32| session_peak(setup, cycle(off), limits).map(|p| limits.holds(p));
        if !cool(LONGEST_OFF)? {
            continue;
        }
        // Longer rests are never hotter: the shortest that will do, by halving.
        let (mut short, mut long) = (0, LONGEST_OFF);
        while long - short > 1 {
            let middle = (short + long) / 2;
            if cool(middle)? { long = middle } else { short = middle }
        }
        let mut cycled = this_run(setup, cycle(long))?;
        let done = cycled.stop == Stop::Depth && limits.holds(cycled.peak);
        if done && best.is_none_or(|b| cycled.elapsed_s < b.elapsed_s) {
            cycled.session_peak = Some(session_peak(setup, cycle(long), limits)?);
            best = Some(cycled);
        }
    }
    Ok(best)
}
