//! What a run comes to at its stop: the fields of the outcome, and the energy balance taken
//! from states on one side and tallies on the other.

use super::operating::Operating;
use super::outcome::{NIGHT_S, Run, Silver, Stop, Wells};
use super::simulate::March;
use super::state::{
    BATH, BATH_LOSS, CELL_HEAT, CHARGE, CHEMICAL, CONTACT_HEAT, DEPTH, HELD, LEAD_HEAT, LOOSE,
    METAL, TERMINAL, shares,
};
use crate::laws::faraday;

impl March<'_> {
    /// The outcome at this stop; `first` is the operating point at the start.
    pub(super) fn outcome(&self, stop: Stop, first: &Operating) -> Run {
        let (setup, y) = (self.setup, &self.y);
        let p = &setup.piece;
        let charge = y[CHARGE];
        let mass = faraday::mass_kg(charge, p.equivalent_weight, p.efficiency);
        let (pack, cells) = (setup.source.pack(), self.whole.cells());
        let energy = self.energy();
        let mut work = self.work;
        work.trials = self.solver.trials;
        Run {
            stop,
            time_s: self.t,
            depth_m: p.walls.floor(y[DEPTH]),
            charge_depth_m: y[DEPTH],
            undercut_m: p.walls.floor(y[DEPTH]) / p.walls.etch_factor,
            charge_c: charge,
            energy_j: energy,
            energy_residual: self.residual(energy),
            start_current_a: first.current,
            mean_current_a: if self.t > 0.0 { charge / self.t } else { first.current },
            end_current_a: self.at.current,
            start_current_density: first.current / p.exposed_area,
            start_source_v: first.source_v,
            end_source_v: self.at.source_v,
            start_bath_v: first.bath_v,
            start_back_emf_v: first.back_emf_v,
            bath_resistance_ohm: first.bath_ohm,
            lead_resistance_ohm: setup.leads.resistance,
            source_resistance_ohm: first.source_ohm,
            peak_hot_spot_k: cells.map(|_| self.peaks.0),
            peak_surface_k: cells.map(|_| self.peaks.1),
            end_bath_k: y[BATH],
            end_silver: self.silver(),
            night_silver: {
                let mut later = self.clone();
                later.switch(false);
                later.fall(NIGHT_S);
                later.silver()
            },
            metal_removed_kg: mass,
            removed_kg: p.parts.iter().map(|(s, c)| (s.clone(), c.mass_share * mass)).collect(),
            wells_end: pack.map(|p| {
                let (available, total) = shares(p, y);
                // An empty well is found from its far side, a rounding below nothing.
                Wells { available: available.max(0.0), total: total.max(0.0) }
            }),
            extremes: self.extremes,
            changes_s: self.stage.changes.clone(),
            work,
        }
    }

    /// Where the silver of the run is: on the pan by its tallies, in solution by what is there
    /// beyond the start.
    pub(super) fn silver(&self) -> Silver {
        let (b, y) = (&self.setup.bath, &self.y);
        let Some(k) = b.index_of("Ag") else {
            return Silver::default();
        };
        let m = b.plating[k].molar_mass;
        let volume = if self.on { b.volume_of(&b.plating[k]) } else { b.volume };
        let gained = volume * (y[METAL + k] - b.plating[k].c0);
        Silver { loose: m * y[LOOSE], held: m * y[HELD], solution: m * gained }
    }

    /// Energy taken from the source, from states where there is a state for it.
    pub(super) fn energy(&self) -> f64 {
        let before = &self.stage;
        before.energy_before
            + match self.setup.source.pack() {
                None => self.y[TERMINAL] - before.terminal_before,
                Some(p) => {
                    if self.y[CHARGE] == before.charge_before {
                        return before.energy_before; // not the rounding of the wells' shares
                    }
                    let (_, end) = shares(p, &self.y);
                    let one = p.cell.wells.capacity * p.cell.ocv.integral(end, p.charge_left);
                    p.series * p.parallel * one
                }
            }
    }

    fn residual(&self, energy: f64) -> Option<f64> {
        if self.y[CHARGE] == 0.0 || energy == 0.0 {
            return None; // nothing was taken
        }
        let (b, y) = (&self.setup.bath, &self.y);
        let stored = b.heat_capacity * (y[BATH] - b.temperature_k);
        let tallies = [CELL_HEAT, CONTACT_HEAT, LEAD_HEAT, BATH_LOSS, CHEMICAL];
        let used = stored + tallies.iter().map(|k| y[*k]).sum::<f64>();
        // A wide bath hardly warms: what its temperature, some 300 K to sixteen figures, cannot
        // show of the heat is not missing. Each step rounds once for each of its stages.
        let unseen = 7.0 * b.heat_capacity * y[BATH] * f64::EPSILON * self.work.steps as f64;
        let missing = ((energy - used).abs() - unseen).max(0.0);
        Some((missing / energy).abs())
    }
}
