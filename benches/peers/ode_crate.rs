//! One run by a general ODE crate (`ode_solvers`: Dormand and Prince 5(4), its own step control),
//! on the rates of this crate's run. It goes over depth, so that it has no event to look for.

use ode_solvers::dop_shared::OutputType;
use ode_solvers::dopri5::Dopri5;
use ode_solvers::{SVector, System};
use restbite::run::state::{CORE, DEPTH, METAL, METALS_END, Q1, Q2, SIZE, SURFACE};
use restbite::run::{Field, Setup, Source, State};
use std::cell::RefCell;

/// The state over its usual size, and the clock.
type Vector = SVector<f64, { SIZE + 1 }>;

struct OverDepth<'a> {
    field: RefCell<Field<'a>>,
    scale: State,
}

impl System<f64, Vector> for OverDepth<'_> {
    fn system(&self, _: f64, y: &Vector, dy: &mut Vector) {
        let state: State = std::array::from_fn(|k| y[k] * self.scale[k]);
        let rates = self.field.borrow_mut().rates(&state);
        for (k, rate) in rates.iter().enumerate() {
            dy[k] = rate / self.scale[k] / rates[DEPTH];
        }
        dy[SIZE] = 1.0 / rates[DEPTH] / CLOCK_S;
    }
}

/// A usual time, s.
const CLOCK_S: f64 = 1000.0;

fn scale(setup: &Setup) -> State {
    let mut scale = [1.0; SIZE];
    if let Source::Pack(pack) = &setup.source {
        (scale[Q1], scale[Q2]) = (pack.cell.wells.capacity, pack.cell.wells.capacity);
    }
    scale[CORE..=SURFACE].fill(300.0);
    scale[METAL..METALS_END].fill(100.0);
    scale[DEPTH] = setup.piece.depth;
    // Tallies: joules and coulombs.
    scale[METALS_END + 1..].fill(1000.0);
    scale
}

/// Time to depth, s, at a relative tolerance.
pub fn time_to_depth(setup: &Setup, relative: f64) -> f64 {
    let field = Field::new(setup);
    let (start, scale) = (field.start(), scale(setup));
    let y = Vector::from_fn(|k, _| if k < SIZE { start[k] / scale[k] } else { 0.0 });
    let depth = setup.piece.walls.charge_depth(setup.piece.depth);
    let system = OverDepth { field: RefCell::new(field), scale };
    let mut solver = Dopri5::from_param(
        system,
        0.0,
        depth,
        depth,
        y,
        relative,
        relative,
        0.9,
        0.04,
        0.2,
        10.0,
        depth,
        1e-6 * depth,
        100_000,
        1000,
        OutputType::Sparse,
    );
    solver.integrate().expect("integrated");
    solver.y_out().last().expect("an end")[SIZE] * CLOCK_S
}
