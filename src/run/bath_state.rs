//! The bath at one state: what does not hang on the current, and what the pan gives at a potential.

use super::setup::Setup;
use super::state::{BATH, METAL, METALS, State};
use crate::laws::anode::Anode;
use crate::laws::cathode::{Hydrogen, Partial};
use crate::laws::constants::Dissolved;
use crate::laws::film::Stirring;
use crate::laws::{conductivity, constants};

/// Longest last step, V.
const LAST_STEP_V: f64 = 1e-4;

/// The share by which the last step may change the current. What stands after it is the second
/// order's, from the trial before it; left is the third power of this share, over six.
const LAST_STEP_SHARE: f64 = 3e-4;

/// The bath at one state, everything worked out that does not hang on the current.
pub(super) struct BathState<'a> {
    pub(super) setup: &'a Setup,
    pub(super) f: f64,
    pub(super) metals: [Dissolved; METALS],
    /// Limiting current densities of the plating metals, A/m2.
    pub(super) limits: [f64; METALS],
    /// The sheet, its film as warm as the bath.
    pub(super) sheet: Anode,
    pub(super) equilibrium_v: [f64; METALS],
    pub(super) hydrogen_equilibrium_v: f64,
    /// The pan's potential without current: the noblest couple that is there.
    pub(super) top: f64,
    pub(super) anode: Dissolved,
    pub(super) bath_ohm: f64,
}

/// What a trial potential of the pan gives.
#[derive(Clone, Copy, Default)]
pub(super) struct Pan {
    pub(super) plating: [Partial; METALS],
    pub(super) hydrogen: Partial,
    /// Their current, A, its derivative by the potential, A/V, and that one's, A/V2.
    pub(super) total: f64,
    pub(super) slope: f64,
    pub(super) bend: f64,
    /// How far the nearest potential is at which another metal or hydrogen sets in, V.
    pub(super) corner: f64,
}

impl Pan {
    /// Longest step from this potential that may be the last, V; none without current. It must
    /// not pass a corner: beyond it the current may grow a thousandfold in a microvolt.
    pub(super) fn last_step_v(&self) -> f64 {
        if self.total <= 0.0 {
            return 0.0;
        }
        LAST_STEP_V.min(LAST_STEP_SHARE * self.total / -self.slope).min(0.5 * self.corner)
    }

    /// At a potential higher by the last step, to the second order.
    pub(super) fn after(&self, de: f64) -> Self {
        let over = |i: f64, slope: f64, bend: f64| i + de * (slope + 0.5 * de * bend);
        let partial = |p: &Partial| Partial { i: over(p.i, p.slope, p.bend), ..*p };
        Self {
            plating: self.plating.each_ref().map(partial),
            hydrogen: partial(&self.hydrogen),
            total: over(self.total, self.slope, self.bend),
            ..*self
        }
    }
}

impl<'a> BathState<'a> {
    pub(super) fn new(setup: &'a Setup, y: &State) -> Self {
        let (b, duty) = (&setup.bath, setup.duty());
        let f = constants::inverse_thermal_voltage(y[BATH]);
        let mut metals = [Dissolved::default(); METALS];
        let mut equilibrium_v = [f64::NEG_INFINITY; METALS];
        for (k, metal) in b.plating.iter().enumerate() {
            metals[k] = Dissolved::of(y[METAL + k].max(0.0));
            equilibrium_v[k] = metal.law.equilibrium_v(metals[k], f);
        }
        let sum = Stirring::by(metals.iter().map(|m| m.c).sum());
        let mut limits = [0.0; METALS];
        for (k, metal) in b.plating.iter().enumerate() {
            let film = metal.film.at(b.transfer_beta, y[BATH]);
            // The films see the mean of a current that pulses; while it is on it may be more.
            limits[k] = metal.law.limit(film.to_pan(sum), metals[k].c) / duty;
        }
        let hydrogen_equilibrium_v = Hydrogen::equilibrium_v(b.ph, f);
        let there = (0..b.plating.len()).filter(|k| metals[*k].c > 0.0);
        let top = there.map(|k| equilibrium_v[k]).fold(hydrogen_equilibrium_v, f64::max);
        let kappa = b.kappa25 * conductivity::temperature_factor(b.kappa_beta, y[BATH]);
        Self {
            setup,
            f,
            metals,
            limits,
            sheet: Anode {
                film: b.anode.film.at(b.transfer_beta, y[BATH]),
                charge_share: b.anode.charge_share * duty,
                ..b.anode
            },
            equilibrium_v,
            hydrogen_equilibrium_v,
            top,
            anode: metals[b.anode_index],
            bath_ohm: b.shape_factor / kappa,
        }
    }

    /// What the pan gives at `e` V from its equilibrium.
    pub(super) fn pan(&self, e: f64) -> Pan {
        let b = &self.setup.bath;
        let mut pan = Pan { corner: f64::INFINITY, ..Pan::default() };
        let mut add = |area: f64, partial: Partial| {
            pan.total += area * partial.i;
            pan.slope += area * partial.slope;
            pan.bend += area * partial.bend;
        };
        for (k, metal) in b.plating.iter().enumerate() {
            let own = self.equilibrium_v[k] - self.top;
            let partial = metal.law.at(e, own, self.limits[k], self.f);
            if self.metals[k].c > 0.0 {
                pan.corner = pan.corner.min((e - own).abs());
            }
            pan.plating[k] = partial;
            add(b.area_of(metal), partial);
        }
        let own = self.hydrogen_equilibrium_v - self.top;
        pan.hydrogen = b.hydrogen.at(e, own, self.f);
        pan.corner = pan.corner.min((e - own).abs());
        add(b.core_area, pan.hydrogen);
        pan
    }
}
