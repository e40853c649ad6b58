//! The answer of `size`: every source judged, the least change where none does, and how sure
//! the best few are.

use super::change::Goal;
use super::judge::{Judged, Looked};
use super::least::{fitting_changes, least_changes};
use super::rank::{picks, rank};
use super::search::{LOOKED, Sizing, at_hand, search, wirings};
use crate::advice::cores::on_all_cores;
use crate::advice::error::AdviceError;
use crate::advice::spread::Sampling;
use crate::advice::spread::options::{DRAWN, OptionSpread, chances, option_spread};
use crate::advice::verdict::Chances;
use crate::advice::verdict::Grade;
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

/// What [`size`] finds, how often each option fails, and how sure the best few are.
///
/// # Errors
/// As [`size`].
pub fn size_sampled<'a>(
    job: &'a Job,
    stock: &'a Stock,
    sampling: Sampling,
) -> Result<Sizing<'a>, AdviceError> {
    let mut sizing = search(job, stock)?;
    let most = sampling.draws;
    let looked =
        Looked { near: LOOKED.near.min(most), far: LOOKED.far.min(most), seed: sampling.seed };
    draw_all(&mut sizing.options, looked)?;
    rank(&mut sizing.options, job);
    sure_of_the_best(&mut sizing.options, job, sampling)?;
    rank(&mut sizing.options, job);
    let places = at_hand(&sizing.options, job, &wirings(&sizing.options));
    sizing.picks = picks(&sizing.options, &places, |n| {
        Ok::<_, AdviceError>(sizing.options[n].verdict().done())
    })?;
    if let Some(own) = &mut sizing.own {
        let sampling = Sampling { draws: sampling.draws.div_ceil(4), ..sampling };
        if let Some(chances) = chances(&own.case, own.rest.as_ref(), sampling)? {
            own.heed(chances);
        }
    }
    let own = sizing.own.as_ref().filter(|own| own.verdict().grade != Grade::Does);
    if let Some(own) = own {
        let goal = if own.feasible() { Goal::WithRoom } else { Goal::Done };
        sizing.free = fitting_changes(job, stock, &own.case.source, goal)?;
    }
    if !sizing.done() {
        sizing.least = least_changes(job, stock)?;
    }
    Ok(sizing)
}

/// Draws every option, each on one core.
fn draw_all(options: &mut Vec<Judged>, looked: Looked) -> Result<(), AdviceError> {
    *options = on_all_cores(options, |option| {
        let mut option = option.clone();
        option.draw(looked)?;
        Ok::<_, AdviceError>(option)
    })?;
    Ok(())
}

/// Draws for its own sake whatever would be picked, and the best few by rank.
fn sure_of_the_best(
    options: &mut [Judged],
    job: &Job,
    sampling: Sampling,
) -> Result<(), AdviceError> {
    let places = at_hand(options, job, &wirings(options));
    let mut drawn: Vec<(usize, OptionSpread)> = Vec::new();
    let mut draw = |n: usize| -> Result<Chances, AdviceError> {
        if let Some((_, spread)) = drawn.iter().find(|(m, _)| *m == n) {
            return Ok(spread.outcomes.chances.clone());
        }
        let option = &options[n];
        let spread = option_spread(&option.case, option.rest.as_ref(), sampling)?;
        let chances = spread.outcomes.chances.clone();
        drawn.push((n, spread));
        Ok(chances)
    };
    picks(options, &places, |n| Ok::<_, AdviceError>(options[n].would(draw(n)?).done()))?;
    for n in places.into_iter().take(DRAWN) {
        draw(n)?;
    }
    for (n, spread) in drawn {
        options[n].heed(spread.outcomes.chances.clone());
        options[n].spread = Some(spread);
    }
    Ok(())
}
