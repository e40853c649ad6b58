//! The operating point: the one current at which source, leads and bath agree.
//!
//! The pan's potential is the single unknown. The current grows as it falls, and so does
//! what the bath asks; the residual is monotone, its root bracketed from the start, and
//! Newton's step is taken only inside the bracket. (Without the bracket Newton's method
//! goes silently wrong in a bath that already holds silver.)

use super::bath_state::{BathState, Pan};
use super::course::Course;
use super::setup::Setup;
use super::state::{DEPTH, METALS, Segments, State};
use super::thevenin::{Thevenin, thevenin};
use crate::laws::anode::AnodeState;

/// What flows and which voltages stand, at one state. SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Operating {
    /// Current, A.
    pub current: f64,
    /// Terminal voltage of the source, V.
    pub source_v: f64,
    /// Source without load, V.
    pub open_v: f64,
    /// Source resistance, ohm.
    pub source_ohm: f64,
    /// Voltage of the bath, V.
    pub bath_v: f64,
    /// Its limit for no current, V.
    pub back_emf_v: f64,
    /// Resistance of the bath, ohm.
    pub bath_ohm: f64,
    /// The sheet.
    pub anode: AnodeState,
    /// Its equilibrium potential, V.
    pub anode_equilibrium_v: f64,
    /// Potential of the pan, V.
    pub cathode_v: f64,
    /// Current densities of plating, A/m2.
    pub plating: [f64; METALS],
    /// Equilibrium potentials of the plating metals, V.
    pub equilibrium_v: [f64; METALS],
    /// Current density of hydrogen, on the core area, A/m2.
    pub hydrogen: f64,
    /// Equilibrium potential of hydrogen, V.
    pub hydrogen_equilibrium_v: f64,
    /// Current over the limiting currents of the plating metals on their areas; 0 without a
    /// current, infinite where no metal plates.
    pub cathode_load: f64,
    /// Voltage of a cell, V (0 without cells).
    pub cell_v: f64,
    /// Open-circuit voltage of a cell less its polarisation, V.
    pub cell_open_v: f64,
    /// Open-circuit voltage at the total share of charge, V.
    pub mean_open_v: f64,
}

/// Longest first step with which the expected potential counts as near, V.
const SHORT_STEP_V: f64 = 5e-3;

/// A trial potential of the pan, and what the whole circuit says of it.
struct Trial {
    pan: Pan,
    /// The sheet at the pan's current; none where that is known beforehand.
    sheet: Option<AnodeState>,
    /// What is to come to nothing, V or A, its slope and the slope's slope by the potential.
    off: f64,
    slope: f64,
    bend: f64,
}

impl Trial {
    /// Halley's step to the root.
    fn step(&self) -> f64 {
        let newton = self.off / self.slope;
        let halley = newton / (1.0 - 0.5 * newton * self.bend / self.slope);
        // Far from the root the bend says little.
        if (0.5..2.0).contains(&(halley / newton)) { -halley } else { -newton }
    }

    /// After the last step.
    fn after(self, e: f64, de: f64) -> Found {
        let pan = self.pan.after(de);
        let x = pan.total / self.pan.total - 1.0;
        let sheet = self.sheet.filter(|_| x.is_finite()).map(|s| s.after(x * (1.0 - 0.5 * x)));
        Found { e: e + de, pan, sheet }
    }
}

/// A root: the pan's potential from its equilibrium, what it gives there, and the sheet.
struct Found {
    e: f64,
    pan: Pan,
    sheet: Option<AnodeState>,
}

impl Found {
    /// Nothing flowing.
    fn idle(bath: &BathState) -> Self {
        let sheet = bath.sheet.at(0.0, bath.anode, bath.f);
        Self { e: 0.0, pan: bath.pan(0.0), sheet: Some(sheet) }
    }
}

/// Solves operating points; expects the next potential from the last ones.
#[derive(Debug, Clone)]
pub struct Solver<'a> {
    /// What is solved for.
    pub setup: &'a Setup,
    course: Course,
    /// Trial potentials so far.
    pub trials: u64,
}

impl<'a> Solver<'a> {
    /// A solver that expects nothing yet.
    pub fn new(setup: &'a Setup) -> Self {
        Self { setup, course: Course::default(), trials: 0 }
    }

    /// The operating point at a state, on the given segments of the cell's curves.
    pub fn at(&mut self, y: &State, segments: Segments) -> Operating {
        let source = thevenin(self.setup, y, segments);
        let bath = BathState::new(self.setup, y);
        let anode_equilibrium = self.setup.bath.anode.equilibrium_v(bath.anode, bath.f);
        let back_emf_v = anode_equilibrium - bath.top;
        if source.open_v <= back_emf_v {
            return finish(&source, &bath, Found::idle(&bath), back_emf_v, anode_equilibrium);
        }
        let circuit = Circuit {
            source: &source,
            bath: &bath,
            over: source.open_v - back_emf_v,
            anode_equilibrium,
        };
        let expected = self.course.at(y[DEPTH]);
        let found = self.solve(&circuit, expected);
        self.course.note(y[DEPTH], found.e);
        finish(&source, &bath, found, back_emf_v, anode_equilibrium)
    }

    /// The operating point at a state with the source switched off.
    pub fn off(&self, y: &State, segments: Segments) -> Operating {
        let source = thevenin(self.setup, y, segments);
        let bath = BathState::new(self.setup, y);
        let anode_equilibrium = self.setup.bath.anode.equilibrium_v(bath.anode, bath.f);
        finish(&source, &bath, Found::idle(&bath), anode_equilibrium - bath.top, anode_equilibrium)
    }

    fn solve(&mut self, circuit: &Circuit, expected: f64) -> Found {
        let limit = circuit.source.limit;
        if limit.is_infinite() {
            return self.root(|e| circuit.balance(e), || circuit.low(limit), expected);
        }
        // The limit holds when at its current there are still volts left over.
        let held = |e: f64| circuit.held(e);
        let at_limit = self.near(held, expected).or_else(|| {
            let low = circuit.low(limit);
            (held(low).off <= 0.0).then(|| self.within(held, low, expected))
        });
        match at_limit.filter(|found| circuit.left_over(limit, found.e) >= 0.0) {
            // The limit itself, without the last digits of a root.
            Some(found) => Found { pan: Pan { total: limit, ..found.pan }, ..found },
            None => self.root(|e| circuit.balance(e), || circuit.low(limit), expected),
        }
    }

    /// Root of a rising function of the pan's potential from its equilibrium on: from where it
    /// is expected, or else within a bracket whose lower end is `low`.
    fn root(&mut self, f: impl Fn(f64) -> Trial, low: impl Fn() -> f64, expected: f64) -> Found {
        match self.near(&f, expected) {
            Some(found) => found,
            None => self.within(f, low(), expected),
        }
    }

    /// By steps from the expected potential alone, where those come to the root in a few that
    /// never pass equilibrium: nearly always, for a run moves on in small steps. Otherwise none,
    /// and the bracket is wanted.
    fn near(&mut self, f: impl Fn(f64) -> Trial, mut e: f64) -> Option<Found> {
        let mut longest = SHORT_STEP_V;
        for _ in 0..4 {
            if e >= 0.0 || e.is_nan() {
                return None;
            }
            self.trials += 1;
            let trial = f(e);
            let step = trial.step();
            if step.abs() > longest || step.is_nan() {
                return None;
            }
            if step.abs() <= trial.pan.last_step_v() {
                return Some(trial.after(e, step)).filter(|found| found.e < 0.0);
            }
            e += step;
            // Halley's method cubes its error; one that does not is at a corner.
            longest = 0.1 * step.abs();
        }
        None
    }

    /// Between `low` and equilibrium, 0.
    fn within(&mut self, f: impl Fn(f64) -> Trial, mut low: f64, expected: f64) -> Found {
        let mut high = 0.0;
        let inside = |e: f64, low: f64, high: f64| e > low && e < high;
        let mut e = expected;
        if !inside(e, low, high) {
            e = 0.5 * (low + high);
        }
        for _ in 0..200 {
            self.trials += 1;
            let trial = f(e);
            let step = trial.step();
            // The bracket, which might turn the last step away for lying on its end, is not
            // asked.
            if step.abs() <= trial.pan.last_step_v() {
                return trial.after(e, step);
            }
            if trial.off > 0.0 {
                high = e
            } else {
                low = e
            }
            e = if inside(e + step, low, high) { e + step } else { 0.5 * (low + high) };
            if high - low <= 4.0 * f64::EPSILON * -low {
                break;
            }
        }
        f(e).after(e, 0.0)
    }
}

/// Source, leads and bath in a ring.
struct Circuit<'a> {
    source: &'a Thevenin,
    bath: &'a BathState<'a>,
    /// Volts of the source beyond the back voltage.
    over: f64,
    anode_equilibrium: f64,
}

impl Circuit<'_> {
    fn ohm(&self) -> f64 {
        self.source.ohm + self.bath.bath_ohm + self.bath.setup.leads.ohm()
    }

    fn sheet(&self, current: f64) -> AnodeState {
        let bare = self.bath.setup.piece.exposed_area;
        self.bath.sheet.at(current / bare, self.bath.anode, self.bath.f)
    }

    /// Volts that are left over with the pan at `e` and its current flowing.
    ///
    /// The unknown is the pan's potential from its equilibrium on: a wide pan in a bath with a
    /// trace of silver carries its current within a billionth of a volt.
    fn balance(&self, e: f64) -> Trial {
        let (pan, ohm) = (self.bath.pan(e), self.ohm());
        let i = pan.total;
        let sheet = self.sheet(i);
        // The sheet's slope by the pan's potential through ln i: without a current the film's
        // slope by the current has no end.
        let (first, second) = sheet.slopes();
        let (by, bends) = if i > 0.0 {
            let by = pan.slope / i;
            (by, pan.bend / i - by * by)
        } else {
            (0.0, 0.0)
        };
        Trial {
            off: self.over - i * ohm - (sheet.potential_v - self.anode_equilibrium) + e,
            slope: 1.0 - pan.slope * ohm - first * by,
            bend: -pan.bend * ohm - first * bends - second * by * by,
            pan,
            sheet: Some(sheet),
        }
    }

    /// Current that lacks of the limit with the pan at `e`.
    fn held(&self, e: f64) -> Trial {
        let pan = self.bath.pan(e);
        let (off, slope, bend) = (self.source.limit - pan.total, -pan.slope, -pan.bend);
        Trial { pan, sheet: None, off, slope, bend }
    }

    /// Volts that are left over with the limit flowing and the pan at `e`.
    fn left_over(&self, limit: f64, e: f64) -> f64 {
        let sheet_v = self.sheet(limit).potential_v - self.anode_equilibrium;
        self.over - limit * self.ohm() - sheet_v + e
    }

    /// A potential under any root: no more can flow than through the resistances alone, nor
    /// than the limit, and hydrogen alone would carry that here; from there on a step is never
    /// lost in an exponential.
    fn low(&self, limit: f64) -> f64 {
        let b = &self.bath.setup.bath;
        let most = (self.over / self.ohm()).min(limit);
        let low = self.bath.hydrogen_equilibrium_v
            - b.hydrogen.below_equilibrium_v(most / b.core_area, self.bath.f);
        (low - self.bath.top).min(0.0)
    }
}

fn finish(
    source: &Thevenin,
    bath: &BathState,
    found: Found,
    back_emf_v: f64,
    anode_equilibrium_v: f64,
) -> Operating {
    let setup = bath.setup;
    let b = &setup.bath;
    let current = found.pan.total.min(source.limit);
    let bare = setup.piece.exposed_area;
    let anode = found.sheet.unwrap_or_else(|| bath.sheet.at(current / bare, bath.anode, bath.f));
    let cathode_v = bath.top + found.e;
    let pan = found.pan;
    let bath_v = anode.potential_v - cathode_v + current * bath.bath_ohm;
    let limits: f64 = b.plating.iter().zip(bath.limits).map(|(m, l)| b.area_of(m) * l).sum();
    // Seen from the side that a last digit of the current moves less.
    let weak = current > 0.0 && source.ohm > 10.0 * (bath.bath_ohm + setup.leads.ohm());
    let source_v = if current >= source.limit || weak {
        bath_v + current * setup.leads.ohm()
    } else {
        source.open_v - current * source.ohm
    };
    Operating {
        current,
        source_v,
        open_v: source.open_v,
        source_ohm: source.ohm,
        bath_v,
        back_emf_v,
        bath_ohm: bath.bath_ohm,
        anode,
        anode_equilibrium_v,
        cathode_v,
        plating: pan.plating.map(|p| p.i),
        equilibrium_v: bath.equilibrium_v,
        hydrogen: pan.hydrogen.i,
        hydrogen_equilibrium_v: bath.hydrogen_equilibrium_v,
        cathode_load: if current > 0.0 { current / limits } else { 0.0 },
        cell_v: source.cell_open_v - current / source.parallel * source.cell_ohm,
        cell_open_v: source.cell_open_v,
        mean_open_v: source.mean_open_v,
    }
}
