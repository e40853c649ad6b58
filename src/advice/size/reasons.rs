//! Why a source does not do the job, with the number.

use crate::advice::findings::End;
use crate::advice::held::Held;
use crate::advice::limit::Limit;

/// A reason; true of the option's own run.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Reason {
    /// A limit is broken that no rest mends.
    Over(Held),
    /// An end other than the depth comes first.
    Ends(End),
    /// Too warm in one go: no rest keeps it cool enough in the time, or, where another limit
    /// fails too, none was tried.
    Warm {
        /// The limit of heat.
        held: Held,
        /// Whether rests were tried.
        tried: bool,
    },
    /// A limit that the nominal run keeps and most draws break.
    Mostly {
        /// The limit.
        limit: Limit,
        /// Share of draws in which a firm limit is broken.
        share: f64,
    },
    /// Fewer pieces a charge than asked.
    Pieces {
        /// What it gives.
        pieces: usize,
        /// What was asked.
        asked: u32,
    },
}

impl Reason {
    /// Its word for programs.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Over(held) | Self::Warm { held, .. } => held.limit.code(),
            Self::Ends(end) => end.code(),
            Self::Mostly { limit, .. } => limit.code(),
            Self::Pieces { .. } => "pieces per charge",
        }
    }

    /// By how many times the limit is missed; infinite where nothing near would do.
    pub fn excess(&self) -> f64 {
        match self {
            Self::Over(held) | Self::Warm { held, .. } => held.excess(),
            Self::Ends(end) => end.excess(),
            Self::Mostly { share, .. } => 1.0 + share,
            Self::Pieces { pieces, asked } => f64::from(*asked) / (*pieces as f64),
        }
    }
}
