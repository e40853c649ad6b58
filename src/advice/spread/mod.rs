//! How sure: the run again and again with every uncertain input drawn anew.

mod against;
pub mod bands;
pub mod charge;
mod draw;
pub mod drivers;
pub mod line;
mod metered;
pub mod options;
mod outcomes;
pub mod quantile;
pub mod sample;
mod sampling;
mod steadied;
pub mod weighted;
mod whole;

pub use drivers::{Driver, Measure};
pub use metered::Metered;
pub use outcomes::Outcomes;
pub use sampling::Sampling;
pub use whole::{Spread, spread, time_to_depth};
