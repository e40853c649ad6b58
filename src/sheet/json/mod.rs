//! JSON for programs, one file a verb: SI or trade units in every key's name; what has no
//! answer is null.

pub mod day;
pub mod plan;
pub mod size;
pub mod stock;
