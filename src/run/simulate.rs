//! The run itself: from a resolved setup through adaptive steps to an honest stop.

use super::events::{self, Margins};
use super::exchange::Exchange;
use super::operating::{Operating, Solver};
use super::outcome::{Extremes, Run, Stop, Work};
use super::rates::rates;
use super::setup::{Setup, Source};
use super::state::{
    BATH, CORE, DEPTH, HELD, LOOSE, METAL, METALS, METALS_END, PAN_COPPER, Q1, SIZE, SURFACE,
    Segments, Stage, State, TALLY, U, start,
};
use super::stepper::Step;
use crate::laws::cell;
use crate::laws::constants::FARADAY;
use std::fmt;

/// How finely a run is followed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Precision {
    /// Relative tolerance of a step, at most 1e-4.
    pub relative: f64,
}

impl Precision {
    /// As fine as comparing and counting need.
    pub const COARSE: Self = Self { relative: 1e-6 };
    /// As fine as one draw of many needs: its time is good to a ten-thousandth, its warmth to a
    /// fiftieth of a kelvin, where the draws lie tenths and kelvins apart.
    pub const DRAWN: Self = Self { relative: 1e-4 };
}

impl Default for Precision {
    /// Good to well under a millisecond in the longest usual run.
    fn default() -> Self {
        Self { relative: 1e-8 }
    }
}

/// A numeric failure, with where the run stood.
#[derive(Debug, Clone, PartialEq)]
pub struct RunError {
    /// When, s.
    pub time_s: f64,
    /// What went wrong.
    pub what: &'static str,
}

impl fmt::Display for RunError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the run could not be worked out: {} at {:.3} s", self.what, self.time_s)
    }
}

impl std::error::Error for RunError {}

/// First step, s: what changes sooner, the error test finds.
const FIRST_STEP_S: f64 = 0.1;
/// First step of a rest, s: only slow things change.
const OFF_STEP_S: f64 = 1.0;
/// Relative tolerance up to which steps are so short anyway that the exchange of heat in the cells
/// is as well taken explicitly.
const EXPLICIT: f64 = 1e-7;
/// How many times as long as the last a step is at most.
const GROWS: f64 = 100.0;
pub(super) const SMALLEST_STEP_S: f64 = 1e-9;
/// Most steps between two switches of the current.
const MOST_STEPS: u64 = 2_000_000;

/// Runs a setup to its stop.
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// use restbite::job::resolve::resolved;
/// use restbite::run::{Precision, Stop, run};
///
/// let setup = resolved(&job, source, &stock)?.setup;
/// let run = run(&setup, Precision::default())?;
/// assert_eq!(run.stop, Stop::Depth);
/// assert!((run.depth_m - setup.piece.depth).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When the numbers leave what can be computed; a valid job never does.
pub fn run(setup: &Setup, precision: Precision) -> Result<Run, RunError> {
    run_observed(setup, precision, |_, _| {})
}

/// Runs a setup to its stop, showing every accepted step and the segments it followed to `observe`.
///
/// # Errors
/// As [`run`].
pub fn run_observed(
    setup: &Setup,
    precision: Precision,
    observe: impl FnMut(&Step, Segments),
) -> Result<Run, RunError> {
    let mut march = March::new(setup, precision);
    let first = march.at;
    let stop = march.go_on(setup.time_limit_s, observe)?.unwrap_or(Stop::Time);
    Ok(march.outcome(stop, &first))
}

/// What flows at the start of a setup.
pub fn at_start(setup: &Setup) -> Operating {
    March::new(setup, Precision::COARSE).at
}

/// A run on its way.
#[derive(Clone)]
pub(super) struct March<'a> {
    pub(super) setup: &'a Setup,
    pub(super) relative: f64,
    pub(super) floors: State,
    pub(super) exchange: Option<Exchange>,
    /// Slope of what drives the exchange of heat in the cells, where the last step told it, K/s2.
    pub(super) drive_slope: Option<f64>,
    pub(super) solver: Solver<'a>,
    pub(super) t: f64,
    pub(super) y: State,
    dy: State,
    pub(super) at: Operating,
    pub(super) on: bool,
    pub(super) segments: Segments,
    pub(super) peaks: (f64, f64),
    pub(super) extremes: Extremes,
    pub(super) work: Work,
    /// Dissolved plating metals when the current last went on, mol/m3.
    pub(super) begun: [f64; METALS],
    /// The setup with its first source.
    pub(super) whole: &'a Setup,
    /// Which of its sources it is with, and how it came there.
    pub(super) stage: Stage,
    /// Steps up to the last switch: a session of many pieces may take more than one run.
    before: u64,
}

impl<'a> March<'a> {
    pub(super) fn new(setup: &'a Setup, precision: Precision) -> Self {
        let y = start(setup);
        let segments = Segments::of(setup, &y);
        let mut solver = Solver::new(setup);
        let at = solver.at(&y, segments);
        let mut dy = [0.0; SIZE];
        rates(setup, &y, &at, &mut dy);
        let segments = events::next_segments(setup, &y, &dy);
        let extremes = Extremes { limited: (limited(setup, &at), false), ..Extremes::NONE };
        let mut march = Self {
            setup,
            relative: precision.relative,
            floors: floors(setup, &y),
            exchange: exchange(setup, precision.relative),
            drive_slope: None,
            solver,
            t: 0.0,
            y,
            dy,
            at,
            on: true,
            segments,
            peaks: (cell::hot_spot(y[CORE], y[SURFACE]), y[SURFACE]),
            extremes,
            work: Work { evaluations: 1, ..Work::default() },
            begun: metals_of(&y),
            whole: setup,
            stage: Stage::default(),
            before: 0,
        };
        march.note_extremes();
        march
    }

    /// Goes on with one source until an end comes or, with none, until the time `until` (s).
    /// Without current no end can come.
    pub(super) fn go_on_with_this(
        &mut self,
        until: f64,
        observe: &mut impl FnMut(&Step, Segments),
    ) -> Result<Option<Stop>, RunError> {
        if self.on {
            if let Some(stop) = events::come(&self.margins()) {
                return Ok(Some(stop));
            }
            if self.at.current <= 0.0 && self.t == 0.0 {
                return Ok((until > 0.0).then_some(Stop::NoCurrent));
            }
        }
        let mut h = if self.on { FIRST_STEP_S } else { OFF_STEP_S };
        let mut step = Step::at_rest(self.at);
        while self.t < until {
            let last = until - self.t;
            h = self.accepted(h.min(last), &mut step)?;
            let hit = self.first_hit(&step);
            let Some(hit) = hit else {
                self.advance(&step, observe);
                if until - self.t < 1e-9 * until {
                    self.t = until; // rounding of the last step's sum
                }
                continue;
            };
            let Some(which) = hit.stop else {
                self.cut_at_corner(&mut step, &hit);
                self.advance(&step, observe);
                self.segments = self.next_segments();
                self.restart();
                continue;
            };
            if self.rough() {
                self.end_at(&mut step, hit.share);
                self.advance(&step, observe);
                self.restart();
            } else {
                let mut cut = step.clone();
                self.cut_at_stop(&step, &hit, which, &mut cut);
                self.advance(&cut, observe);
            }
            // The event chosen has come; another may have come with it and go first.
            let stop = events::come(&self.margins()).unwrap_or(events::WATCHED[which]);
            return Ok(Some(stop));
        }
        Ok(None)
    }

    /// Switches the current on or off.
    pub(super) fn switch(&mut self, on: bool) {
        if self.on && !on {
            self.mix();
        } else if on && !self.on {
            self.begun = metals_of(&self.y);
        }
        self.on = on;
        self.before = self.work.steps + self.work.rejected;
        self.restart();
        self.segments = self.next_segments();
        self.restart();
    }

    /// The segments that the state is about to follow.
    pub(super) fn next_segments(&self) -> Segments {
        let stage = self.stage.number;
        Segments { stage, ..events::next_segments(self.setup, &self.y, &self.dy) }
    }

    pub(super) fn margins(&self) -> Margins {
        events::margins(self.setup, &self.y, &self.at)
    }

    /// `step` becomes that of length `h` from here.
    pub(super) fn step(&mut self, h: f64, step: &mut Step) {
        let exchange = (self.exchange, self.drive_slope);
        let (solver, segments, on) = (&mut self.solver, self.segments, self.on);
        self.work.evaluations += 6;
        step.take((self.t, h), &self.y, &self.dy, exchange, &mut |y, dy| {
            let at = if on { solver.at(y, segments) } else { solver.off(y, segments) };
            rates(solver.setup, y, &at, dy);
            at
        });
    }

    /// `step` becomes one within tolerance, no longer than `h`; the length to try next.
    fn accepted(&mut self, mut h: f64, step: &mut Step) -> Result<f64, RunError> {
        loop {
            if self.work.steps + self.work.rejected - self.before > MOST_STEPS {
                return Err(RunError { time_s: self.t, what: "too many steps" });
            }
            self.step(h, step);
            let error = step.error(TALLY, self.relative, &self.floors);
            let factor = if error > 0.0 { 0.9 * libm::exp(-0.2 * libm::log(error)) } else { GROWS };
            if error <= 1.0 {
                return Ok(h * factor.clamp(0.2, GROWS));
            }
            self.work.rejected += 1;
            h *= factor.clamp(0.1, 0.9);
            if h < SMALLEST_STEP_S {
                return Err(RunError { time_s: self.t, what: "steps that become too short" });
            }
        }
    }

    fn advance(&mut self, step: &Step, observe: &mut impl FnMut(&Step, Segments)) {
        observe(step, self.segments);
        if self.setup.source.pack().is_some() && turns_cooler(&self.dy, step.last_rates()) {
            for share in [0.25, 0.5, 0.75] {
                self.note_peaks(step.warmth_between(share));
            }
        }
        self.note_bloom(step);
        if self.dy[BATH] * step.last_rates()[BATH] < 0.0 {
            // Warmest or coldest within the step.
            for share in [0.2, 0.4, 0.6, 0.8] {
                let bath = step.one_between(share, BATH);
                self.extremes.bath_k = self.extremes.bath_k.max(bath);
            }
        }
        self.t = step.t + step.h;
        self.y = step.to;
        self.dy = *step.last_rates();
        self.at = step.at;
        self.drive_slope = step.within.map(|within| within.end_slope);
        self.note_peaks((step.to[CORE], step.to[SURFACE]));
        self.note_extremes();
        self.work.steps += 1;
    }

    /// Rates anew, after a change of segments.
    pub(super) fn restart(&mut self) {
        let solver = &mut self.solver;
        self.at = if self.on {
            solver.at(&self.y, self.segments)
        } else {
            solver.off(&self.y, self.segments)
        };
        rates(self.setup, &self.y, &self.at, &mut self.dy);
        self.drive_slope = None;
        self.work.evaluations += 1;
    }

    fn note_peaks(&mut self, (core, surface): (f64, f64)) {
        self.peaks.0 = self.peaks.0.max(cell::hot_spot(core, surface));
        self.peaks.1 = self.peaks.1.max(surface);
    }

    /// Begins the extremes anew, as for another piece.
    pub(super) fn forget_extremes(&mut self) {
        self.extremes = Extremes { limited: self.extremes.limited, ..Extremes::NONE };
        self.note_extremes();
    }

    /// When a gram of silver lies on the pan for each square metre of its core area, by the
    /// straight line of the step: enough to see (judgement, fitted to common practice: within two
    /// to three minutes, whether the source is weak or strong).
    fn note_bloom(&mut self, step: &Step) {
        const SEEN_KG_PER_M2: f64 = 1e-3;
        let b = &self.setup.bath;
        let silver = b.index_of("Ag").filter(|_| self.on);
        let (Some(k), None) = (silver, self.extremes.bloom_s) else {
            return;
        };
        let seen = SEEN_KG_PER_M2 * b.core_area / b.plating[k].molar_mass;
        let lies = |y: &State| y[LOOSE] + y[HELD];
        let (from, to) = (lies(&step.from), lies(&step.to));
        if to >= seen {
            let share = if to > from { ((seen - from) / (to - from)).max(0.0) } else { 0.0 };
            self.extremes.bloom_s = Some(step.t + share * step.h);
        }
    }

    /// Takes down what is dissolved now.
    pub(super) fn note_metals(&mut self) {
        self.extremes.metals_end = metals_of(&self.y);
    }

    fn note_extremes(&mut self) {
        self.note_metals();
        let (e, at) = (&mut self.extremes, &self.at);
        e.current_a = e.current_a.max(at.current);
        e.surface_mol_per_m3 = e.surface_mol_per_m3.max(at.anode.surface);
        e.bath_k = e.bath_k.max(self.y[BATH]);
        if self.setup.source.pack().is_some() {
            e.cell_v = e.cell_v.min(at.cell_v);
        }
        if at.cathode_load.is_finite() {
            e.cathode_load = e.cathode_load.max(at.cathode_load);
        }
        e.limited.1 = limited(self.setup, at);
    }
}

/// The exchange of heat in a setup's cells, where it is followed exactly.
pub(super) fn exchange(setup: &Setup, relative: f64) -> Option<Exchange> {
    Exchange::of(setup).filter(|_| relative > EXPLICIT)
}

/// Whether core or surface is warmest within a step, by the rates at its two ends.
fn turns_cooler(from: &State, to: &State) -> bool {
    let falls = |rates: &State| rates[CORE].min(rates[SURFACE]) <= 0.0;
    let rises = |rates: &State| rates[CORE].max(rates[SURFACE]) >= 0.0;
    rises(from) && falls(to)
}

fn metals_of(y: &State) -> [f64; METALS] {
    std::array::from_fn(|k| y[METAL + k])
}

fn limited(setup: &Setup, at: &Operating) -> bool {
    match setup.source {
        Source::Supply { limit_a: Some(limit), .. } => at.current >= limit,
        _ => false,
    }
}

/// The size below which each state's relative error no longer counts.
pub(super) fn floors(setup: &Setup, y: &State) -> State {
    let mut floors = [1.0; SIZE];
    if let Some(pack) = setup.source.pack() {
        let wells = &pack.cell.wells;
        floors[Q1] = wells.available_share * wells.capacity;
        floors[Q1 + 1] = wells.capacity;
    }
    floors[U] = 0.1;
    floors[DEPTH] = 0.01 * (setup.piece.depth - setup.piece.begun);
    // What is plated, against what the piece gives on the way to its depth.
    let piece = &setup.piece;
    let worth = piece.walls.charge_depth(piece.depth).min(piece.thickness) * piece.exposed_area;
    let charge = worth * piece.density * FARADAY / piece.equivalent_weight;
    let plated = 0.1 * charge / FARADAY;
    (floors[LOOSE], floors[HELD], floors[PAN_COPPER]) = (plated, plated, plated);
    for (floor, c) in floors[METAL..METALS_END].iter_mut().zip(&y[METAL..METALS_END]) {
        *floor = 1.0 + 0.1 * c;
    }
    floors
}
