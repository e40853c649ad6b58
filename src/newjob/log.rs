//! A log of measured runs to fill in, for `learn`.
//!
//! All of its examples are comments: a log that nobody filled in has no runs in it.

/// The log as TOML.
pub fn log_toml() -> &'static str {
    include_str!("log.toml")
}

/// The log as a table, to be filled in with a spreadsheet.
pub fn log_csv() -> &'static str {
    include_str!("log.csv")
}
