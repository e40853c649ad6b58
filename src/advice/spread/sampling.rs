//! How much is drawn.

/// How many draws, and which.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sampling {
    /// Draws.
    pub draws: usize,
    /// Seed; the same seed gives the same draws on every machine.
    pub seed: u64,
}

impl Sampling {
    /// What `plan` draws where nobody asks for another number: a power of two, at which a Sobol
    /// sequence is most even.
    pub const OF_A_PLAN: Self = Self { draws: 512, seed: 1 };
}

impl Default for Sampling {
    fn default() -> Self {
        Self::OF_A_PLAN
    }
}
