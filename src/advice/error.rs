//! Why there is no advice.

use crate::job::resolve::ResolveError;
use crate::run::RunError;
use thiserror::Error;

/// Why there is no advice on a checked job.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum AdviceError {
    /// The job has no source.
    #[error("the job has no [source]; `size` tells which would do")]
    NoSource,
    /// A number missing in stock.
    #[error(transparent)]
    Stock(#[from] ResolveError),
    /// A numeric failure.
    #[error(transparent)]
    Run(#[from] RunError),
    /// A reading that no piece can give.
    #[error("{found} read, and all that is bare comes to {most}; allowed: at most that")]
    Reading {
        /// What was read.
        found: String,
        /// The most there is.
        most: String,
    },
    /// Readings that no bench explains even nearly.
    #[error("no bench was found that explains these readings; check their units")]
    Curvature,
}
