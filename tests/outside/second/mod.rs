//! A second implementation of the model's equations, from the `resolved` map alone: no law
//! of this crate is called. A general-purpose library (`ode_solvers`, Dormand and Prince 8(5,3))
//! integrates them.

mod follow;
mod model;
mod rates;

pub use follow::{Ended, Until, cell_v, follow, onto, rest};
pub use model::Model;
