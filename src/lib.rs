//! wip
/// laws
pub mod artwork;
pub mod job;
pub mod laws;
pub mod run;
pub mod stock;
pub mod units;
