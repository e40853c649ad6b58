//! A bench over time: current on, current off, the next piece, one after the other.
//!
//! While the current is off I = 0: the wells level, cells and bath cool by the same
//! equations, and no end can come.

use super::outcome::{Extremes, Silver, Stop, Wells};
use super::setup::Setup;
use super::simulate::{March, Precision, RunError};
use super::state::{
    BATH, CHARGE, CORE, DEPTH, HELD, LOOSE, LOOSE_TIME, METAL, METALS, METALS_END, ON_TIME,
    PAN_COPPER, Q1, Q2, SURFACE, U, depth_of, start,
};
use super::stepper::Step;
use crate::laws::cell;

/// The state of a pack that goes on to another piece: the charge in both wells (C), the
/// polarisation (V), core and surface of a cell (K).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PackState([f64; 5]);

/// Where in the state vector it lies.
const OF_PACK: [usize; 5] = [Q1, Q2, U, CORE, SURFACE];

/// A setup with the state it has come to.
#[derive(Clone)]
pub struct Bench<'a> {
    march: March<'a>,
    last_source_v: f64,
    weak: Option<Weak>,
}

/// One cell of a string that holds less than the others: it carries the same current, goes
/// empty first, and is then driven backwards.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Weak {
    wells: crate::laws::wells::Wells,
    q1: f64,
    q2: f64,
    /// Charge that the pack had given when it was empty, C through one cell.
    empty_at: Option<f64>,
}

impl Weak {
    /// Follows one step of the pack: the mean current of the step, exactly.
    fn follow(&mut self, step: &Step, parallel: f64) {
        let charge = (step.to[CHARGE] - step.from[CHARGE]) / parallel;
        (self.q1, self.q2) = self.wells.after(self.q1, self.q2, charge / step.h, step.h);
        if self.q1 <= 0.0 && self.empty_at.is_none() {
            self.empty_at = Some(step.to[CHARGE] / parallel);
        }
    }
}

impl<'a> Bench<'a> {
    /// At the start of a setup, the current off.
    pub fn new(setup: &'a Setup, precision: Precision) -> Self {
        let mut march = March::new(setup, precision);
        let volts = march.at.source_v;
        march.switch(false);
        Self { march, last_source_v: volts, weak: None }
    }

    /// Current on for `duration` (s), or until an end comes; which, if any. The setup's
    /// time limit is not watched.
    ///
    /// # Errors
    /// When the numbers leave what can be computed.
    pub fn on(&mut self, duration: f64) -> Result<Option<Stop>, RunError> {
        self.march.switch(true);
        let until = self.march.t + duration;
        let stop = self.go_on(until)?;
        self.last_source_v = self.march.at.source_v;
        self.march.switch(false);
        self.march.note_metals();
        Ok(stop)
    }

    /// Current off for `duration` (s).
    ///
    /// # Errors
    /// As [`Bench::on`].
    pub fn off(&mut self, duration: f64) -> Result<(), RunError> {
        let until = self.march.t + duration;
        self.go_on(until)?;
        self.march.fall(duration);
        self.march.restart();
        self.march.note_metals();
        Ok(())
    }

    fn go_on(&mut self, until: f64) -> Result<Option<Stop>, RunError> {
        let parallel = self.march.setup.source.pack().map_or(1.0, |p| p.parallel);
        let weak = &mut self.weak;
        self.march.go_on(until, |step, _| {
            if let Some(weak) = weak {
                weak.follow(step, parallel);
            }
        })
    }

    /// Follows a cell that holds only the share `holds` of what the others do.
    pub fn with_a_weak_cell(mut self, holds: f64) -> Self {
        self.weak = self.march.setup.source.pack().map(|p| {
            let mut wells = p.cell.wells;
            wells.capacity *= holds;
            let (q1, q2) = wells.level(p.charge_left);
            Weak { wells, q1, q2, empty_at: None }
        });
        self
    }

    /// Charge, C through one cell, at which the weak cell was empty and began to be driven
    /// backwards; none while it holds.
    pub fn weak_cell_empty_at(&self) -> Option<f64> {
        self.weak.and_then(|w| w.empty_at)
    }

    /// Hangs the next piece, as deep as the first was, in the same bath or a fresh one; the pan stays as it is.
    pub fn next_piece(&mut self, fresh_bath: bool) {
        self.march.first_source();
        let from = start(self.march.setup);
        let y = &mut self.march.y;
        y[DEPTH] = from[DEPTH];
        if fresh_bath {
            y[BATH] = from[BATH];
            y[METAL..METALS_END].copy_from_slice(&from[METAL..METALS_END]);
        }
        self.march.restart();
        self.march.forget_extremes();
    }

    /// Puts the charge back to the start: other cells, or the same charged again.
    pub fn fresh_cells(&mut self) {
        self.march.forget_cells();
        let from = start(self.march.setup);
        let y = &mut self.march.y;
        (y[Q1], y[Q2]) = (from[Q1], from[Q2]);
        self.march.switch(false);
    }

    /// Puts charge, depth, dissolved metal and pan back to the start; heat stays.
    pub fn refill(&mut self) {
        self.march.forget_cells();
        self.march.first_source();
        let from = start(self.march.setup);
        let y = &mut self.march.y;
        (y[Q1], y[Q2]) = (from[Q1], from[Q2]);
        for k in [DEPTH, LOOSE, HELD, PAN_COPPER, LOOSE_TIME, ON_TIME] {
            y[k] = from[k];
        }
        y[METAL..METALS_END].copy_from_slice(&from[METAL..METALS_END]);
        self.march.switch(false);
    }

    /// The pack as it is now; none without cells.
    pub fn pack_state(&self) -> Option<PackState> {
        let y = &self.march.y;
        self.march.setup.source.pack().map(|_| PackState(OF_PACK.map(|k| y[k])))
    }

    /// Takes over a pack, of the same cells, as another piece left it.
    pub fn set_pack_state(&mut self, state: &PackState) {
        for (k, value) in OF_PACK.into_iter().zip(state.0) {
            self.march.y[k] = value;
        }
        self.march.switch(false);
    }

    /// Mean core and surface of a cell and the bath, K.
    pub fn warmth(&self) -> [f64; 3] {
        let y = &self.march.y;
        [y[CORE], y[SURFACE], y[BATH]]
    }

    /// Sets them, as where a series of cycles leads.
    pub fn set_warmth(&mut self, [core, surface, bath]: [f64; 3]) {
        let y = &mut self.march.y;
        (y[CORE], y[SURFACE], y[BATH]) = (core, surface, bath);
        self.march.restart();
    }

    /// Time since the start, s.
    pub fn time_s(&self) -> f64 {
        self.march.t
    }

    /// Depth of the floor of the piece that hangs, m.
    pub fn depth_m(&self) -> f64 {
        depth_of(self.march.setup, &self.march.y)
    }

    /// Depth that the charge through the piece is worth over its bare area, m.
    pub fn charge_depth_m(&self) -> f64 {
        self.march.y[DEPTH]
    }

    /// Copper plated on the pan, and not yet gone for silver that fell, mol.
    pub fn pan_copper_mol(&self) -> f64 {
        self.march.y[PAN_COPPER]
    }

    /// Where the silver is that was dissolved since the bench was set up.
    pub fn silver(&self) -> Silver {
        self.march.silver()
    }

    /// Silver on the pan since the bench was set up, mol: loose, and held.
    pub fn pan_silver_mol(&self) -> (f64, f64) {
        (self.march.y[LOOSE], self.march.y[HELD])
    }

    /// Hot spot of the worst-placed cell, K; none without cells.
    pub fn hot_spot_k(&self) -> Option<f64> {
        let y = &self.march.y;
        self.march.whole.cells().map(|_| cell::hot_spot(y[CORE], y[SURFACE]))
    }

    /// Its surface, K; none without cells.
    pub fn surface_k(&self) -> Option<f64> {
        self.march.whole.cells().map(|_| self.march.y[SURFACE])
    }

    /// Bath, K.
    pub fn bath_k(&self) -> f64 {
        self.march.y[BATH]
    }

    /// The wells of a cell, of several sources the last that has any; none without cells.
    pub fn wells(&self) -> Option<Wells> {
        let (pack, (q1, q2)) = self.march.last_cells()?;
        let wells = &pack.cell.wells;
        // An empty well is found from its far side, a rounding below nothing.
        let (available, total) = (wells.available(q1), wells.total(q1, q2));
        Some(Wells { available: available.max(0.0), total: total.max(0.0) })
    }

    /// Dissolved plating metals, mol/m3, in the setup's order.
    pub fn metals(&self) -> [f64; METALS] {
        self.march.extremes.metals_end
    }

    /// Extremes of the piece that hangs.
    pub fn extremes(&self) -> Extremes {
        self.march.extremes
    }

    /// Terminal voltage of the source when the current was last on, V.
    pub fn last_source_v(&self) -> f64 {
        self.last_source_v
    }

    /// Open-circuit voltage of the source, V.
    pub fn open_circuit_v(&self) -> f64 {
        self.march.at.open_v
    }

    /// Hottest spot and hottest surface since they were last asked for, K.
    pub fn take_peaks(&mut self) -> (f64, f64) {
        let y = &self.march.y;
        let now = (cell::hot_spot(y[CORE], y[SURFACE]), y[SURFACE]);
        std::mem::replace(&mut self.march.peaks, now)
    }
}
