//! Sentences that more than one format says, one file a subject.

pub mod charge;
pub mod day;
pub mod ends;
pub mod faults;
pub mod findings;
pub mod learn;
pub mod limits;
pub mod look;
mod often;
pub mod plan;
pub mod reasons;
pub mod rest;
pub mod size;
pub mod spread;
pub mod trace;
pub mod typeset;
pub mod verdict;
