//! CSV for spreadsheets.

pub mod trace;
