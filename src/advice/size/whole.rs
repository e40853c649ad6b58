//! The answer of `size`: every source judged, the least change where none does, and how sure
//! the best few are.

use super::least::least_changes;
use super::rank::picks;
use super::search::{Sizing, search, wirings};
use crate::advice::error::AdviceError;
use crate::advice::spread::Sampling;
use crate::advice::spread::options::{DRAWN, OptionSpread, chances, option_spread};
use crate::advice::verdict::Verdict;
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
    let Sizing { options, spreads, own, .. } = &mut sizing;
    // Which spread is whose, and whether the option does it by that.
    let mut drawn: Vec<(usize, OptionSpread)> = Vec::new();
    let places = wirings(options);
    let picks = picks(options, &places, |n| {
        if !drawn.iter().any(|(m, _)| *m == n) {
            let option = &options[n];
            drawn.push((n, option_spread(&option.case, option.rest.as_ref(), sampling)?));
        }
        let chances = drawn.iter().find(|(m, _)| *m == n).map(|(_, s)| s.outcomes.chances.clone());
        Ok::<_, AdviceError>(Verdict::of(&options[n].held, chances).done())
    })?;
    for n in places.into_iter().take(DRAWN) {
        if !drawn.iter().any(|(m, _)| *m == n) {
            let option = &options[n];
            drawn.push((n, option_spread(&option.case, option.rest.as_ref(), sampling)?));
        }
    }
    for (n, spread) in &drawn {
        options[*n].chances = Some(spread.outcomes.chances.clone());
    }
    drawn.sort_by_key(|(n, _)| *n);
    *spreads = drawn;
    if let Some(own) = own {
        let sampling = Sampling { draws: sampling.draws.div_ceil(4), ..sampling };
        own.chances = chances(&own.case, own.rest.as_ref(), sampling)?;
    }
    sizing.picks = picks;
    Ok(sizing)
}
