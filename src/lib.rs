//! wip
/// laws
pub mod laws;
pub mod run;
pub mod units;
