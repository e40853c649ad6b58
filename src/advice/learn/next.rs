//! What was learned makes of the next piece like the last one: its time before and after.

use crate::advice::error::AdviceError;
use crate::advice::spread::quantile::Quantiles;
use crate::advice::spread::{Sampling, time_to_depth};
use crate::job::log::Log;
use crate::job::{Job, Profile};
use crate::stock::Stock;

/// The next piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Next {
    /// Title of its job.
    pub title: String,
    /// Time to depth by what is usual, s.
    pub before_s: Quantiles,
    /// Time to depth by what was learned, s.
    pub after_s: Quantiles,
}

/// The next piece like the last run's, by what is `known` now; none without a run.
pub fn next(
    log: &Log,
    known: Profile,
    stock: &Stock,
    sampling: Sampling,
) -> Result<Option<Next>, AdviceError> {
    let Some(run) = log.runs.last() else {
        return Ok(None);
    };
    let before_s = time_to_depth(&run.job, &run.source, stock, sampling)?;
    let known = Job { profile: Some(known), ..(*run.job).clone() };
    let after_s = time_to_depth(&known, &run.source, stock, sampling)?;
    Ok(Some(Next { title: run.job.title.clone(), before_s, after_s }))
}
