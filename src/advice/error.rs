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
    /// Readings that no bench explains even nearly.
    #[error("no bench was found that explains these readings; check their units")]
    Curvature,
}
