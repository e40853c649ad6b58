//! How much is drawn.

use crate::run::Precision;

/// How many draws, and which.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sampling {
    /// Draws.
    pub draws: usize,
    /// Seed; the same seed gives the same draws on every machine.
    pub seed: u64,
}

impl Default for Sampling {
    fn default() -> Self {
        Self { draws: 2000, seed: 1 }
    }
}

/// As fine as comparing needs.
pub(super) const COARSE: Precision = Precision { relative: 1e-6 };
