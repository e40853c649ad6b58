//! The rates of a run as a plain function of its state, for a general-purpose integrator to be
//! held beside this one (`benches/run.rs`).

use super::operating::Solver;
use super::rates::rates;
use super::setup::Setup;
use super::state::{SIZE, Segments, State, start};

/// What a setup's state changes by with the current on.
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// use restbite::job::resolve::resolved;
/// use restbite::run::{Field, Precision, run, state::CHARGE};
///
/// let setup = resolved(&job, source, &stock)?.setup;
/// let mut field = Field::new(&setup);
/// let start = field.rates(&field.start())[CHARGE];
/// let run = run(&setup, Precision::default())?;
/// assert!((start / run.start_current_a - 1.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Field<'a> {
    solver: Solver<'a>,
}

impl<'a> Field<'a> {
    /// Of a setup.
    pub fn new(setup: &'a Setup) -> Self {
        Self { solver: Solver::new(setup) }
    }

    /// The state before the current is on.
    pub fn start(&self) -> State {
        start(self.solver.setup)
    }

    /// Rates of change at a state, each in its unit a second.
    pub fn rates(&mut self, y: &State) -> State {
        let mut dy = [0.0; SIZE];
        let at = self.solver.at(y, Segments::of(self.solver.setup, y));
        rates(self.solver.setup, y, &at, &mut dy);
        dy
    }
}
