//! A run of a job with what it is held against: a case's nominal one, or a draw's.

use super::bounds::{Bounds, DEFAULT_TOLERANCE};
use crate::job::{Job, Source};
use crate::run::{Run, Setup};
use crate::stock::Stock;
use crate::units::Quantity;

/// A run, its setup, its job and its bounds.
#[derive(Debug, Clone, Copy)]
pub struct Weighed<'a> {
    /// The job.
    pub job: &'a Job,
    /// What pushes the current.
    pub source: &'a Source,
    /// Where the numbers come from.
    pub stock: &'a Stock,
    /// What it is held against.
    pub bounds: &'a Bounds,
    /// The numbers of the run.
    pub setup: &'a Setup,
    /// The run.
    pub run: &'a Run,
}

impl Weighed<'_> {
    /// Hottest spot and surface, K; none without cells.
    pub fn peaks(&self) -> Option<(f64, f64)> {
        self.run.peak_hot_spot_k.zip(self.run.peak_surface_k)
    }

    /// Depth that a minute adds at the end, m.
    pub fn minute_m(&self) -> f64 {
        let run = self.run;
        if run.charge_c <= 0.0 {
            return 0.0;
        }
        let gained = run.charge_depth_m - self.setup.piece.begun_worth();
        let pace = self.setup.duty() * run.end_current_a * gained / run.charge_c;
        60.0 * pace * self.setup.piece.walls.slope(run.charge_depth_m)
    }

    /// How far off the depth may be, m.
    pub fn tolerance_m(&self) -> f64 {
        let usual = DEFAULT_TOLERANCE * self.setup.piece.depth;
        self.job.piece.tolerance.map_or(usual, Quantity::si)
    }
}
