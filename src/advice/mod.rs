//! What to make of a run: findings, when to look, what limits.
//!
//! Each part reads runs; none knows how it will be drawn.

mod cautions;
pub mod charge;
mod checks;
pub mod compare;
mod cores;
pub mod cycle;
pub mod day;
mod fast;
mod findings;
pub mod learn;
mod limits;
pub mod pieces;
mod plan;
mod progress;
pub mod rest;
mod shortest;
mod silver;
pub mod size;
pub mod spell;
pub mod spread;
mod wording;

pub use cautions::cautions;
pub use checks::{Check, Looks};
pub use findings::{Finding, Level};
pub use limits::{Bounds, Share, VoltageShares};
pub use plan::{Advice, AdviceError, Plan, advise, advise_with, plan, with_charge, with_rests};
pub use progress::Progress;
pub use shortest::LONGEST_REST_MIN;
pub use silver::Silver;
pub use wording::word;
