//! Shows what advice found. Each format is a folder, each verb a file in it: text, JSON, CSV,
//! TOML, iCalendar, plots, the bench sheet; `words` has the sentences that they share.
//! Computes nothing of its own.

pub mod csv;
mod escape;
pub mod html;
pub mod ics;
pub mod json;
pub mod plots;
pub mod text;
pub mod toml;
pub mod words;
