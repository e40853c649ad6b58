//! What each verb does: read the job, ask for advice, have it shown. One file a verb; `answer`,
//! `read`, `folder`, `part` and `pictures` are what they share.

mod answer;
mod begin;
mod charge;
mod compare;
mod day;
mod folder;
mod learn;
mod look;
mod new;
mod part;
mod pictures;
mod plan;
mod read;
mod rest;
mod size;
mod stock;
mod trace;

pub use answer::{Answer, Failure, WRONG};
pub use begin::without_a_verb;
pub use charge::charge;
pub use compare::compare;
pub use day::day;
pub use learn::learn;
pub use look::look;
pub use new::new;
pub use plan::plan;
pub use rest::rest;
pub use size::size;
pub use stock::stock;
pub use trace::trace;
