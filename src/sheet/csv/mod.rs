//! CSV for spreadsheets.

mod trace;

pub use trace::trace;
