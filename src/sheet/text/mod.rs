//! Pages on a terminal, one file a verb. Colours are ANSI; the door takes them out for a pipe.

mod charge;
mod compare;
mod day;
mod learn;
mod look;
mod page;
mod plan;
mod rest;
mod size;
mod stock;
mod trace;

pub use charge::charge;
pub use compare::compare;
pub use day::{day, refused as day_refused};
pub use learn::learn;
pub use look::look;
pub use plan::{plan, refused};
pub use rest::rest;
pub use size::size;
pub use stock::{entry as stock_entry, list as stock_list};
pub use trace::trace;
