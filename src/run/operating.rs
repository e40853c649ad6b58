//! The operating point: the one current at which source, leads and bath agree.
//!
//! The pan's potential is the single unknown. The current grows as it falls, and so does
//! what the bath asks; the residual is monotone, its root bracketed from the start, and
//! Newton's step is taken only inside the bracket. (Without the bracket Newton's method
//! goes silently wrong in a bath that already holds silver.)

use super::setup::{Pack, Setup, Source};
use super::state::{BATH, CORE, METAL, METALS, Segments, State, U, shares};
use crate::laws::anode::{Anode, AnodeState};
use crate::laws::cathode::Hydrogen;
use crate::laws::{cell, conductivity, constants};

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

/// Length of Newton's last step, V. What is left after it is its square times the curvature,
/// under 100 a volt for any couple here: 1e-10 V.
const LAST_STEP_V: f64 = 1e-6;

/// The share of the current by which Newton's last step may change it, at most. A wide pan
/// in a bath with a trace of a noble metal carries its current within less than a microvolt
/// of equilibrium: there the step must be shorter, or what is left after it is no longer small.
const LAST_STEP_SHARE: f64 = 4e-5;

/// Longest first step with which the last potential counts as near, V.
const SHORT_STEP_V: f64 = 5e-3;

/// A source seen from its terminals, its Thevenin equivalent: V = `open_v` - I `ohm`, I up to
/// `limit`.
struct Thevenin {
    open_v: f64,
    ohm: f64,
    limit: f64,
    /// Cell voltage without current, and its resistance; cells in series, in parallel.
    cell_open_v: f64,
    cell_ohm: f64,
    parallel: f64,
    mean_open_v: f64,
}

/// The bath at one state, everything worked out that does not hang on the current.
struct BathState<'a> {
    setup: &'a Setup,
    f: f64,
    metals: [f64; METALS],
    /// Limiting current densities of the plating metals, A/m2.
    limits: [f64; METALS],
    /// The sheet, its film as warm as the bath.
    sheet: Anode,
    equilibrium_v: [f64; METALS],
    hydrogen_equilibrium_v: f64,
    /// The pan's potential without current: the noblest couple that is there.
    top: f64,
    anode_c: f64,
    bath_ohm: f64,
}

/// What a trial potential of the pan gives.
#[derive(Clone, Copy, Default)]
struct Pan {
    plating: [f64; METALS],
    hydrogen: f64,
    /// Their current, A, and its derivative by the potential, A/V.
    total: f64,
    slope: f64,
    /// How far the nearest potential is at which another metal or hydrogen sets in, V.
    corner: f64,
}

impl Pan {
    /// Longest step from this potential that may be Newton's last, V; none without current.
    /// It must not pass a corner: beyond it the current may grow a thousandfold in a microvolt.
    fn last_step_v(&self) -> f64 {
        if self.total <= 0.0 {
            return 0.0;
        }
        LAST_STEP_V.min(LAST_STEP_SHARE * self.total / -self.slope).min(0.5 * self.corner)
    }
}

/// What is to come to nothing at a trial potential, its slope, and the longest last step, V.
type Trial = (f64, f64, f64);

/// Solves operating points; remembers the last potential as its next guess.
#[derive(Debug, Clone)]
pub struct Solver<'a> {
    /// What is solved for.
    pub setup: &'a Setup,
    guess: f64,
    /// Trial potentials so far.
    pub trials: u64,
}

impl<'a> Solver<'a> {
    /// A solver without a guess.
    pub fn new(setup: &'a Setup) -> Self {
        Self { setup, guess: f64::NAN, trials: 0 }
    }

    /// The operating point at a state, on the given segments of the cell's curves.
    pub fn at(&mut self, y: &State, segments: Segments) -> Operating {
        let source = thevenin(self.setup, y, segments);
        let bath = BathState::new(self.setup, y);
        let anode_equilibrium = self.setup.bath.anode.equilibrium_v(bath.anode_c, bath.f);
        let back_emf_v = anode_equilibrium - bath.top;
        let found = if source.open_v > back_emf_v {
            self.solve(&source, &bath, source.open_v - back_emf_v, anode_equilibrium)
        } else {
            (0.0, bath.top, bath.pan(0.0))
        };
        finish(&source, &bath, found, back_emf_v, anode_equilibrium)
    }

    /// The operating point at a state with the source switched off.
    pub fn off(&self, y: &State, segments: Segments) -> Operating {
        let source = thevenin(self.setup, y, segments);
        let bath = BathState::new(self.setup, y);
        let anode_equilibrium = self.setup.bath.anode.equilibrium_v(bath.anode_c, bath.f);
        let none = (0.0, bath.top, bath.pan(0.0));
        finish(&source, &bath, none, anode_equilibrium - bath.top, anode_equilibrium)
    }

    /// Current, pan potential and what it gives there, for `over` volts of the source beyond
    /// the back voltage.
    ///
    /// The unknown is the pan's potential from its equilibrium on: a wide pan in a bath
    /// with a trace of silver carries its current within a billionth of a volt.
    fn solve(
        &mut self,
        source: &Thevenin,
        bath: &BathState,
        over: f64,
        anode_equilibrium: f64,
    ) -> (f64, f64, Pan) {
        let b = &self.setup.bath;
        let bare = self.setup.piece.exposed_area;
        let ohm = source.ohm + bath.bath_ohm + self.setup.leads.resistance;
        let balance = |e: f64| {
            let pan = bath.pan(e);
            let i = pan.total;
            let (sheet_v, log_slope) = bath.sheet.potential(i / bare, bath.anode_c, bath.f);
            let g = over - i * ohm - (sheet_v - anode_equilibrium) + e;
            // The sheet's slope by the pan's potential through d(ln i): without a current the
            // film's slope by the current has no end.
            let sheet = if i > 0.0 { log_slope * pan.slope / i } else { 0.0 };
            (g, 1.0 - pan.slope * ohm - sheet, pan.last_step_v())
        };
        if !source.limit.is_finite()
            && let Some(e) = self.near_the_guess(balance)
        {
            let pan = bath.pan(e);
            return (pan.total, bath.top + e, pan);
        }
        // No more can flow than through the resistances alone, nor than the limit, and
        // hydrogen alone would carry that at `low`: from there on Newton's step is never
        // lost in an exponential.
        let most = (over / ohm).min(source.limit);
        let low = bath.hydrogen_equilibrium_v
            - b.hydrogen.below_equilibrium_v(most / b.core_area, bath.f);
        let low = (low - bath.top).min(0.0);
        if source.limit.is_finite() {
            // The limit holds when at its current there are still volts left over.
            let held = |e: f64| {
                let pan = bath.pan(e);
                (source.limit - pan.total, -pan.slope, pan.last_step_v())
            };
            let reached = held(low).0 <= 0.0;
            let e = if reached { self.root(held, low) } else { low };
            if reached && balance(e).0 >= 0.0 {
                return (source.limit, bath.top + e, bath.pan(e));
            }
        }
        let e = self.root(balance, low);
        let pan = bath.pan(e);
        (pan.total.min(source.limit), bath.top + e, pan)
    }

    /// Root of a rising function by Newton's method alone, from the last one, where that comes
    /// to it in a few short steps that never pass equilibrium: nearly always, for a run moves
    /// on in small steps. Otherwise none, and the bracket is wanted.
    fn near_the_guess(&mut self, f: impl Fn(f64) -> Trial) -> Option<f64> {
        let mut e = self.guess;
        let mut longest = SHORT_STEP_V;
        for _ in 0..4 {
            if e >= 0.0 || e.is_nan() {
                return None;
            }
            self.trials += 1;
            let (g, slope, last) = f(e);
            let step = g / slope;
            if step.abs() > longest || step.is_nan() {
                return None;
            }
            e -= step;
            if step.abs() <= last {
                self.guess = e;
                return Some(e).filter(|e| *e < 0.0);
            }
            // Newton's method squares its error; one that does not is at a corner.
            longest = 0.1 * step.abs();
        }
        None
    }

    /// Root of a rising function between `low` and equilibrium, 0.
    fn root(&mut self, f: impl Fn(f64) -> Trial, mut low: f64) -> f64 {
        let mut high = 0.0;
        let inside = |e: f64, low: f64, high: f64| e > low && e < high;
        let mut e = self.guess;
        if !inside(e, low, high) {
            e = 0.5 * (low + high);
        }
        for _ in 0..200 {
            self.trials += 1;
            let (g, slope, last) = f(e);
            let newton = e - g / slope;
            // Converged: Newton's method squares its error, in volts times some tens, so
            // after a step this short none is left; the bracket, which might turn the step
            // away for lying on its end, is not asked.
            if (newton - e).abs() <= last {
                e = newton;
                break;
            }
            if g > 0.0 {
                high = e
            } else {
                low = e
            }
            e = if inside(newton, low, high) { newton } else { 0.5 * (low + high) };
            if high - low <= 4.0 * f64::EPSILON * -low {
                break;
            }
        }
        self.guess = e;
        e
    }
}

/// Open-circuit voltage of a cell less its polarisation, V.
pub(super) fn cell_open_v(pack: &Pack, y: &State, segments: Segments) -> f64 {
    pack.cell.ocv.on(segments.ocv, shares(pack, y).0) - y[U]
}

fn thevenin(setup: &Setup, y: &State, segments: Segments) -> Thevenin {
    let plain = |open_v, ohm, limit| Thevenin {
        open_v,
        ohm,
        limit,
        cell_open_v: 0.0,
        cell_ohm: 0.0,
        parallel: 1.0,
        mean_open_v: 0.0,
    };
    match &setup.source {
        Source::Supply { set_v, out_ohm, limit_a } => {
            plain(*set_v, *out_ohm, limit_a.unwrap_or(f64::INFINITY))
        }
        Source::Adapter { open_v, series_ohm, .. } => plain(*open_v, *series_ohm, f64::INFINITY),
        Source::Pack(pack) => {
            let c = &pack.cell;
            let (s, total) = shares(pack, y);
            let cell_open_v = self::cell_open_v(pack, y, segments);
            let cell_ohm = c.r0_ohm
                * c.r0_curve.on(segments.r0, s)
                * cell::resistance_factor(c.r0_temp_k, y[CORE]);
            Thevenin {
                open_v: pack.series * cell_open_v,
                ohm: pack.series * (cell_ohm + pack.contact_ohm) / pack.parallel,
                limit: f64::INFINITY,
                cell_open_v,
                cell_ohm,
                parallel: pack.parallel,
                mean_open_v: c.ocv.on(segments.total, total),
            }
        }
    }
}

impl<'a> BathState<'a> {
    fn new(setup: &'a Setup, y: &State) -> Self {
        let b = &setup.bath;
        let f = constants::inverse_thermal_voltage(y[BATH]);
        let mut metals = [0.0; METALS];
        let mut equilibrium_v = [f64::NEG_INFINITY; METALS];
        for (k, metal) in b.plating.iter().enumerate() {
            metals[k] = y[METAL + k].max(0.0);
            equilibrium_v[k] = metal.law.equilibrium_v(metals[k], f);
        }
        let sum = metals.iter().sum();
        let mut limits = [0.0; METALS];
        for (k, metal) in b.plating.iter().enumerate() {
            let film = metal.film.at(b.transfer_beta, y[BATH]);
            limits[k] = metal.law.limit(film.to_pan(sum), metals[k]);
        }
        let hydrogen_equilibrium_v = Hydrogen::equilibrium_v(b.ph, f);
        let there = (0..b.plating.len()).filter(|k| metals[*k] > 0.0);
        let top = there.map(|k| equilibrium_v[k]).fold(hydrogen_equilibrium_v, f64::max);
        let kappa = b.kappa25 * conductivity::temperature_factor(b.kappa_beta, y[BATH]);
        Self {
            setup,
            f,
            metals,
            limits,
            sheet: Anode { film: b.anode.film.at(b.transfer_beta, y[BATH]), ..b.anode },
            equilibrium_v,
            hydrogen_equilibrium_v,
            top,
            anode_c: metals[b.anode_index],
            bath_ohm: b.shape_factor / kappa,
        }
    }

    /// What the pan gives at `e` V from its equilibrium.
    fn pan(&self, e: f64) -> Pan {
        let b = &self.setup.bath;
        let mut pan = Pan { corner: f64::INFINITY, ..Pan::default() };
        for (k, metal) in b.plating.iter().enumerate() {
            let own = self.equilibrium_v[k] - self.top;
            let partial = metal.law.at(e, own, self.limits[k], self.f);
            if self.metals[k] > 0.0 {
                pan.corner = pan.corner.min((e - own).abs());
            }
            let area = b.area_of(metal);
            pan.plating[k] = partial.i;
            pan.total += area * partial.i;
            pan.slope += area * partial.slope;
        }
        let own = self.hydrogen_equilibrium_v - self.top;
        let gas = b.hydrogen.at(e, own, self.f);
        pan.corner = pan.corner.min((e - own).abs());
        pan.hydrogen = gas.i;
        pan.total += b.core_area * gas.i;
        pan.slope += b.core_area * gas.slope;
        pan
    }
}

fn finish(
    source: &Thevenin,
    bath: &BathState,
    (current, cathode_v, pan): (f64, f64, Pan),
    back_emf_v: f64,
    anode_equilibrium_v: f64,
) -> Operating {
    let setup = bath.setup;
    let b = &setup.bath;
    let anode = bath.sheet.at(current / setup.piece.exposed_area, bath.anode_c, bath.f);
    let bath_v = anode.potential_v - cathode_v + current * bath.bath_ohm;
    let limits: f64 = b.plating.iter().zip(bath.limits).map(|(m, l)| b.area_of(m) * l).sum();
    // Seen from the side that a last digit of the current moves less.
    let weak = current > 0.0 && source.ohm > 10.0 * (bath.bath_ohm + setup.leads.resistance);
    let source_v = if current >= source.limit || weak {
        bath_v + current * setup.leads.resistance
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
        plating: pan.plating,
        equilibrium_v: bath.equilibrium_v,
        hydrogen: pan.hydrogen,
        hydrogen_equilibrium_v: bath.hydrogen_equilibrium_v,
        cathode_load: if current > 0.0 { current / limits } else { 0.0 },
        cell_v: source.cell_open_v - current / source.parallel * source.cell_ohm,
        cell_open_v: source.cell_open_v,
        mean_open_v: source.mean_open_v,
    }
}
