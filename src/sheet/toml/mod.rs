//! TOML that other jobs read.

pub mod learn;
