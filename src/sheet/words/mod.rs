//! Sentences that more than one format says, one file a subject.

pub mod charge;
pub mod day;
pub mod learn;
pub mod plan;
pub mod rest;
pub mod size;
pub mod spread;
pub mod stock;
pub mod trace;
pub mod typeset;
