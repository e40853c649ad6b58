//! wip
/// laws
pub mod advice;
pub mod artwork;
pub mod job;
pub mod laws;
pub mod run;
pub mod sheet;
pub mod stock;
pub mod units;
