//! What a draw is held against.

use crate::advice::case::Case;

/// The nominal case that the draws stand about.
pub(super) struct Against<'a> {
    /// The case.
    pub case: &'a Case<'a>,
    /// When the nominal piece is stopped, s.
    pub stop_s: f64,
    /// When the ammeter is read, s; none where that is not asked.
    pub meter_s: Option<f64>,
}
