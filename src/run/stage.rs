//! From one source to the next: a piece that is begun on one and goes on with another.
//!
//! Piece, bath and pan stay as they are; the next source's cells come fresh and as warm as the air.
//! Where a later piece comes back to a source, its cells are as they were left, their charge evened
//! out and themselves cooled down in the meantime.

use super::outcome::Stop;
use super::setup::{After, Pack, Setup};
use super::simulate::{March, RunError, exchange, floors};
use super::state::{CHARGE, CORE, ON_TIME, Q1, Q2, SURFACE, Segments, TERMINAL, U, start};
use super::stepper::Step;

impl<'a> March<'a> {
    /// Goes on from source to source until an end comes or, with none, until the time `until` (s).
    pub(super) fn go_on(
        &mut self,
        until: f64,
        mut observe: impl FnMut(&Step, Segments),
    ) -> Result<Option<Stop>, RunError> {
        loop {
            let setup: &'a Setup = self.setup;
            let Some(then) = setup.then.as_ref().filter(|_| self.on) else {
                return self.go_on_with_this(until, &mut observe);
            };
            let ends = match then.after {
                After::Time(s) => self.t + (s - (self.y[ON_TIME] - self.stage.on_before)).max(0.0),
                After::Depth(_) => f64::INFINITY,
            };
            match self.go_on_with_this(until.min(ends), &mut observe)? {
                Some(Stop::Depth) if matches!(then.after, After::Depth(_)) => {}
                Some(stop) => return Ok(Some(stop)),
                None if self.t >= ends => {}
                None => return Ok(None),
            }
            self.change_to(self.stage.number + 1, &then.setup);
        }
    }

    /// Takes the source of a stage.
    fn change_to(&mut self, number: usize, setup: &'a Setup) {
        let energy = self.energy();
        let left = self.setup.source.pack().map(|_| (self.y[Q1], self.y[Q2]));
        self.stage.left.resize(self.whole.stages().count(), None);
        self.stage.left[self.stage.number] = left;
        self.stage.energy_before = energy;
        self.stage.terminal_before = self.y[TERMINAL];
        self.stage.charge_before = self.y[CHARGE];
        self.stage.on_before = self.y[ON_TIME];
        self.stage.number = number;
        if number > 0 {
            self.stage.changes.push(self.t);
        }
        (self.setup, self.solver.setup) = (setup, setup);
        self.put_cells();
        self.exchange = exchange(setup, self.relative);
        self.floors = floors(setup, &start(setup));
        self.segments = Segments { stage: number, ..Segments::of(setup, &self.y) };
        self.restart();
        self.segments = self.next_segments();
        self.restart();
    }

    /// The cells of the source that it is with: as they were left, or fresh.
    fn put_cells(&mut self) {
        let fresh = start(self.setup);
        for k in [Q1, Q2, U, CORE, SURFACE] {
            self.y[k] = fresh[k];
        }
        let left = self.stage.left.get(self.stage.number).copied().flatten();
        if let (Some((q1, q2)), Some(pack)) = (left, self.setup.source.pack()) {
            let wells = &pack.cell.wells;
            (self.y[Q1], self.y[Q2]) = wells.level(wells.total(q1, q2));
        }
    }

    /// Back to the first source, for another piece.
    pub(super) fn first_source(&mut self) {
        if self.stage.number > 0 {
            let whole: &'a Setup = self.whole;
            self.change_to(0, whole);
        }
        self.stage.on_before = self.y[ON_TIME];
        self.stage.changes.clear();
    }

    /// The cells that are in use, or were last; those to come where none has been yet.
    pub(super) fn last_cells(&self) -> Option<(&'a Pack, (f64, f64))> {
        if let Some(pack) = self.setup.source.pack() {
            return Some((pack, (self.y[Q1], self.y[Q2])));
        }
        let whole: &'a Setup = self.whole;
        let used = |n: usize| self.stage.left.get(n).copied().flatten();
        let all: Vec<(usize, &'a Pack)> = whole
            .stages()
            .enumerate()
            .filter_map(|(n, setup)| Some((n, setup.source.pack()?)))
            .collect();
        let last = all.iter().rev().find_map(|(n, pack)| Some((*pack, used(*n)?)));
        last.or_else(|| {
            all.first().map(|(_, pack)| (*pack, pack.cell.wells.level(pack.charge_left)))
        })
    }

    /// Every source's cells fresh.
    pub(super) fn forget_cells(&mut self) {
        self.stage.left.clear();
    }
}
