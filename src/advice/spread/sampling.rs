//! How much is drawn.

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
