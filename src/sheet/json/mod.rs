//! JSON for programs, one file a verb: SI or trade units in every key's name; what has no
//! answer is null.

mod bench;
mod charge;
mod compare;
mod day;
mod findings;
mod learn;
mod look;
mod option;
mod plan;
mod print;
mod rest;
mod run;
mod size;
mod spread;
mod stages;
mod stock;
mod trace;
mod verdict;

pub use charge::charge;
pub use compare::compare;
pub use day::{day, refused as day_refused};
pub use learn::learn;
pub use look::look;
pub use plan::{plan, refused};
pub use print::print;
pub use rest::rest;
pub use run::run;
pub use size::{refused as size_refused, size};
pub use spread::pieces;
pub use stock::stock;
pub use trace::{refused as trace_refused, trace};
