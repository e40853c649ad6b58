//! A day at the bench: who etches when on what, with one pair of hands.
//!
//! Each piece hangs in a pan and a bath of its own kind, made up as its job says, while the
//! packs go on from piece to piece with the charge and the heat that they have left. Every
//! source suits a piece or does not, by the same limits as in `size`. Times are seconds
//! since the start of the day.

mod bound;
mod etch;
mod hands;
mod place;
mod plan;
mod schedule;
mod suits;
mod table;
mod why;

pub use bound::Of;
pub use etch::{Etched, LookAt};
pub use hands::{Task, Work};
pub use place::Entry;
pub use plan::{DayPlan, Stuck, Verdicts, day, verdicts, with_drawer};
pub use schedule::{Method, SMALL_PIECES, SMALL_SOURCES};
pub use suits::Suited;
pub use table::Suiting;
pub use why::Why;
