//! Current on and off in turn: how a cycle gets the piece to depth, and how warm the cells
//! get in this run and when the cycle goes on and on.
//!
//! The session's figures are those of the periodic steady state (IEC 60034-1, duty type
//! S3): the cycle is repeated, each time with the pack's charge, the dissolved metal and
//! the depth put back to the start, until heat no longer changes from cycle to cycle. So
//! the worst heat of a session is found, that of a pack as full as at the start.

use super::periodic::{Body, periodic};
use super::shortest::shortest;
use crate::run::{Bench, Precision, Run, RunError, Setup, Stop};

/// A cycle of on and off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycle {
    /// On, s.
    pub on_s: f64,
    /// Off, s.
    pub off_s: f64,
}

impl Cycle {
    /// In one go, without a rest.
    pub const ONE_GO: Self = Self { on_s: f64::INFINITY, off_s: 0.0 };

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
    /// Hottest spot and surface at the periodic steady state, K; none where this run was
    /// enough to tell.
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

    /// Whether a run in one go passes a limit, or stops at one.
    pub fn passed_by(&self, run: &Run) -> bool {
        let peaks = run.peak_hot_spot_k.zip(run.peak_surface_k);
        run.stop == Stop::Hot || peaks.is_some_and(|peaks| !self.holds(peaks))
    }
}

/// Change of the peak from one cycle to the next at which heat counts as periodic, K.
const SETTLED_K: f64 = 1e-3;

/// Runs the piece with a cycle until it is done or an end comes; rests count against the
/// time limit.
///
/// # Errors
/// When a run cannot be worked out.
pub fn this_run(setup: &Setup, cycle: Cycle) -> Result<Cycled, RunError> {
    let mut bench = Bench::new(setup, Precision::COARSE);
    let (stop, on_s) = etch(&mut bench, setup, cycle)?;
    let (elapsed_s, peak) = (bench.time_s(), bench.take_peaks());
    Ok(Cycled { cycle, stop, elapsed_s, on_s, peak, session_peak: None })
}

/// Etches the piece that hangs, on and off in turn, until an end comes or the setup's time
/// limit is over, rests and all; why it ended, and how long the current was on, s.
///
/// # Errors
/// When a run cannot be worked out.
pub fn etch(bench: &mut Bench, setup: &Setup, cycle: Cycle) -> Result<(Stop, f64), RunError> {
    let until = bench.time_s() + setup.time_limit_s;
    let mut on_s = 0.0;
    loop {
        let before = bench.time_s();
        if before >= until {
            return Ok((Stop::Time, on_s));
        }
        let stop = bench.on(cycle.on_s.min(until - before))?;
        on_s += bench.time_s() - before;
        if let Some(stop) = stop {
            return Ok((stop, on_s));
        }
        bench.off(cycle.off_s.min((until - bench.time_s()).max(0.0)))?;
    }
}

/// Hottest spot and surface of a cycle repeated until heat is periodic, K. Without rest
/// (`off_s` 0) it is the steady state of running on.
///
/// # Errors
/// When a run cannot be worked out.
pub fn session_peak(setup: &Setup, cycle: Cycle) -> Result<(f64, f64), RunError> {
    let endless = without_ends(setup);
    let coldest_k = setup.ambient_k.min(setup.bath.temperature_k) - ENTROPY_COOLS_K;
    let bench = Bench::new(&endless, Precision::COARSE);
    periodic(&mut Cycling { bench, cycle, coldest_k }, SETTLED_K)
}

/// A bench that is switched on and off in turn, with fresh cells each time.
struct Cycling<'a> {
    bench: Bench<'a>,
    cycle: Cycle,
    coldest_k: f64,
}

/// How far under the room's warmth the entropy of a cell may cool it, K.
const ENTROPY_COOLS_K: f64 = 5.0;

impl Body for Cycling<'_> {
    fn cycle(&mut self) -> Result<(f64, f64), RunError> {
        self.bench.take_peaks();
        self.bench.refill();
        self.bench.on(self.cycle.on_s)?;
        self.bench.off(self.cycle.off_s)?;
        Ok(self.bench.take_peaks())
    }

    fn warmth(&self) -> [f64; 3] {
        self.bench.warmth()
    }

    fn set_warmth(&mut self, warmth: [f64; 3]) {
        self.bench.set_warmth(warmth);
    }

    fn coldest(&self) -> f64 {
        self.coldest_k
    }
}

/// A setup with no depth, floor or temperature to stop at: a bath that boils or freezes ends the run,
/// not the question how warm cells get.
fn without_ends(setup: &Setup) -> Setup {
    let mut endless = setup.clone();
    endless.go_on_for_ever();
    endless.in_every_stage(&|setup| {
        (setup.bath.boil_k, setup.bath.freeze_k) = (f64::INFINITY, f64::NEG_INFINITY);
        if let crate::run::Source::Pack(pack) = &mut setup.source {
            pack.temperature_limit_k = f64::INFINITY;
        }
    });
    endless
}

/// The cycle of whole minutes that is soonest done with heat under its limits in this run
/// and in a session; none when no cycle does it in the time. On a tie the shorter rest, then
/// the shorter on-time, is taken.
///
/// Two bounds keep the search short: the finer a cycle, the better it cools, so no on-time
/// can do with less rest for each minute on than the finest one; and a rest that would end
/// later than the best so far need not be tried.
///
/// # Errors
/// When a run cannot be worked out.
pub fn soonest(setup: &Setup, limits: &Warmth) -> Result<Option<Cycled>, RunError> {
    let search = Search { setup, limits, etching: etching(setup)? };
    let Some(ratio) = search.least_ratio()? else {
        return Ok(None);
    };
    if ratio == 0.0 {
        // Running on and on stays cool: one go, counted in whole minutes.
        let on_s = (search.etching / 60.0 - 1e-9).ceil() * 60.0;
        let cycle = Cycle { on_s, off_s: 0.0 };
        let mut cycled = this_run(setup, cycle)?;
        let done = cycled.stop == Stop::Depth && limits.holds(cycled.peak);
        cycled.session_peak = Some(session_peak(setup, cycle)?);
        return Ok(done.then_some(cycled));
    }
    let mut best: Option<Cycled> = None;
    let most = (search.etching / LEEWAY / 60.0).ceil().clamp(1.0, LONGEST_ON) as u32;
    for on in (1..=most).rev() {
        let by = best.map_or(setup.time_limit_s, |b| b.elapsed_s);
        let Some(cycled) = search.shortest_rest(on, ratio, by)? else {
            continue;
        };
        let better = |b: &Cycled| {
            let tie = (cycled.elapsed_s - b.elapsed_s).abs() <= 0.5;
            let shorter = cycled.cycle.off_s <= b.cycle.off_s;
            if tie { shorter } else { cycled.elapsed_s < b.elapsed_s }
        };
        if best.as_ref().is_none_or(better) {
            best = Some(cycled);
        }
    }
    if let Some(best) = &mut best {
        best.session_peak = Some(session_peak(setup, best.cycle)?);
    }
    Ok(best)
}

/// The cycle within a piece: the soonest one where `run`, in one go, passes a limit; none where
/// it does not, or no cycle helps. `found` is the soonest cycle where it is known.
///
/// # Errors
/// When a run cannot be worked out.
pub fn within_a_piece(
    setup: &Setup,
    limits: &Warmth,
    run: &Run,
    found: Option<Cycled>,
) -> Result<Option<Cycle>, RunError> {
    let cycled = match found {
        _ if !limits.passed_by(run) => None,
        None => soonest(setup, limits)?,
        found => found,
    };
    Ok(cycled.map(|c| c.cycle))
}

/// Longest on-time and longest rest in a cycle that are tried, min.
const LONGEST_ON: f64 = 120.0;
const LONGEST_OFF: f64 = 60.0;
/// With rests the current is on for a little less or more than without: wells that level
/// push harder, a bath that cools carries less.
const LEEWAY: f64 = 0.95;

struct Search<'a> {
    setup: &'a Setup,
    limits: &'a Warmth,
    /// Time with the current on that the piece needs without rests, s.
    etching: f64,
}

/// Time to depth were heat no matter, s.
fn etching(setup: &Setup) -> Result<f64, RunError> {
    let mut cool = setup.clone();
    if let crate::run::Source::Pack(pack) = &mut cool.source {
        pack.temperature_limit_k = f64::INFINITY;
    }
    let run = crate::run::run(&cool, Precision::COARSE)?;
    let begun = setup.piece.begun_worth();
    let worth = setup.piece.walls.charge_depth(setup.piece.depth) - begun;
    let share = ((run.charge_depth_m - begun) / worth).clamp(1e-3, 1.0);
    Ok((run.time_s / share).max(1.0))
}

impl Search<'_> {
    fn cool(&self, cycle: Cycle) -> Result<bool, RunError> {
        Ok(self.limits.holds(session_peak(self.setup, cycle)?))
    }

    /// Least rest for each minute on, from the finest cycle; none when an hour of rest for a
    /// minute on is not enough.
    fn least_ratio(&self) -> Result<Option<f64>, RunError> {
        let finest = |ratio: f64| Cycle { on_s: 60.0, off_s: 60.0 * ratio };
        if self.cool(finest(0.0))? {
            return Ok(Some(0.0));
        }
        // One rest of a minute at least; where there is no time for that there is none to look for.
        if LEEWAY * self.etching + 60.0 > self.setup.time_limit_s {
            return Ok(None);
        }
        if !self.cool(finest(LONGEST_OFF))? {
            return Ok(None);
        }
        let (mut low, mut high) = (0.0, LONGEST_OFF);
        while high - low > 0.02 * (1.0 + low) {
            let middle = 0.5 * (low + high);
            if self.cool(finest(middle))? { high = middle } else { low = middle }
        }
        Ok(Some(low))
    }

    /// The shortest rest of whole minutes with which this on-time keeps heat under its
    /// limits and the piece comes to depth by the time `by` (s).
    fn shortest_rest(&self, on: u32, ratio: f64, by: f64) -> Result<Option<Cycled>, RunError> {
        let on_s = f64::from(on) * 60.0;
        let etching = LEEWAY * self.etching;
        let rests = (etching / on_s).ceil() - 1.0;
        let room = if rests > 0.0 { (by - etching) / (60.0 * rests) } else { LONGEST_OFF };
        let shortest_off = (ratio * f64::from(on)).ceil() as i64;
        let longest_off = room.min(LONGEST_OFF).floor() as i64;
        let tried = |off_s: f64| -> Result<Option<Cycled>, RunError> {
            let cycle = Cycle { on_s, off_s };
            let run = this_run(self.setup, cycle)?;
            let warm = run.stop == Stop::Hot || !self.limits.holds(run.peak);
            Ok((!warm && self.cool(cycle)?).then_some(run))
        };
        let found = shortest(shortest_off..=longest_off, tried)?.map(|(_, run)| run);
        Ok(found.filter(|run| run.stop == Stop::Depth))
    }
}
