//! Ranges of validity as data: each law states its own, and a run can say which one it left.

/// The span of one quantity within which a law is known to hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// The law.
    pub law: &'static str,
    /// The quantity.
    pub of: &'static str,
    /// Least value.
    pub low: f64,
    /// Highest value.
    pub high: f64,
    /// Unit of both; empty for a ratio.
    pub unit: &'static str,
    /// Who says so.
    pub source: &'static str,
}

impl Range {
    /// Whether a value lies within.
    #[must_use]
    pub fn holds(&self, x: f64) -> bool {
        (self.low..=self.high).contains(&x)
    }
}
