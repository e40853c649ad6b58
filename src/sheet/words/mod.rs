//! Sentences that more than one format says, one file a subject.

pub mod plan;
pub mod spread;
pub(super) mod stock;
pub(super) mod typeset;
