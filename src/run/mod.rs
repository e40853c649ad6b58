//! One run: resolved setup, state, operating point, stepper, events, and what came of it.
//!
//! Plain `f64` in SI throughout; no allocation inside the stepper.

mod bath_state;
mod course;
mod events;
mod exchange;
mod field;
mod finish;
mod hits;
mod mixing;
mod onward;
mod operating;
mod outcome;
mod rates;
mod session;
mod setup;
mod simulate;
mod stage;
pub mod state;
mod stepper;
mod tableau;
mod thevenin;
mod trace;

pub use field::Field;
pub use onward::run_onward;
pub use operating::{Operating, Solver};
pub use outcome::{Extremes, NIGHT_S, Run, Silver, Stop, Wells, Work};
pub use session::{Bench, PackState};
pub use setup::*;
pub use simulate::{Precision, RunError, at_start, run, run_observed};
pub use state::{METALS, State, depth_of, hot_spot_of};
pub use stepper::Step;
pub use trace::{Trace, trace, trace_at, trace_onward};
