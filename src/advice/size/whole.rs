//! The answer of `size`: every source judged, the least change where none does, and how sure
//! the best few are.

use super::least::least_changes;
use super::search::{Sizing, search};
use crate::advice::error::AdviceError;
use crate::advice::spread::Sampling;
use crate::advice::spread::options::{DRAWN, option_spread};
use crate::job::Job;
use crate::stock::Stock;

/// Judges every source that the job allows, and when none does, solves for what would
/// have to give.
///
/// # Examples
///
/// ```
#[doc = include_str!("../../fern_pin.in")]
/// use restbite::advice::size::size;
///
/// let sizing = size(&job, &stock)?;
/// let best = sizing.chosen().ok_or("no source does it")?;
/// assert!(best.feasible());
/// assert!(sizing.least.is_empty()); // nothing has to give
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn size<'a>(job: &'a Job, stock: &'a Stock) -> Result<Sizing<'a>, AdviceError> {
    let mut sizing = search(job, stock)?;
    if !sizing.done() {
        sizing.least = least_changes(job, stock)?;
    }
    Ok(sizing)
}

/// What [`size`] finds, and how sure the best few are.
///
/// # Errors
/// As [`size`].
pub fn size_sampled<'a>(
    job: &'a Job,
    stock: &'a Stock,
    sampling: Sampling,
) -> Result<Sizing<'a>, AdviceError> {
    let mut sizing = size(job, stock)?;
    for n in sizing.wirings().into_iter().take(DRAWN) {
        let option = &sizing.options[n];
        let spread = option_spread(&option.case, option.rest.as_ref(), sampling)?;
        sizing.options[n].chances = Some(spread.outcomes.chances.clone());
        sizing.spreads.push((n, spread));
    }
    Ok(sizing)
}
