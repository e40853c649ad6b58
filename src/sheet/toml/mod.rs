//! TOML that jobs read.

mod learn;

pub use learn::{NAME, to_toml as learn};
