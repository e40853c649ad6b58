//! Which of the sources that pass comes first.

use super::judge::Judged;
use crate::advice::verdict::RARELY;
use crate::job::{Job, Source};

/// Sorts by the rule of rank and numbers what passes from 1: the job's own source first, then
/// what the studio owns, then what does it without strain, then what fails least often, in tenths, then the soonest done,
/// then the fewest cells, then the coolest. Differences under a minute or a degree are none.
pub(super) fn rank(options: &mut [Judged], job: &Job) {
    options.sort_by_cached_key(|o| {
        let warm = o.case.run.peak_hot_spot_k.unwrap_or(0.0);
        (
            !o.feasible(),
            !is_own(o, job),
            !o.owned,
            o.verdict().grade,
            tenths(o),
            minutes(o),
            o.preference,
            o.cells(),
            warm.round() as i64,
        )
    });
    options.iter_mut().for_each(|o| o.rank = None);
    for (rank, option) in (1..).zip(options.iter_mut().filter(|o| o.feasible())) {
        option.rank = Some(rank);
    }
}

/// How often it fails, in tenths of the draws; what fails in one of ten at most counts as never.
fn tenths(o: &Judged) -> u32 {
    let often = o.chances.as_ref().map_or(0.0, |c| c.firm);
    if often <= RARELY { 0 } else { (10.0 * often).ceil() as u32 }
}

/// Time to depth as it is told apart, min; what never comes to it last.
fn minutes(o: &Judged) -> i64 {
    (o.elapsed_s() / 60.0).round() as i64
}

/// Whether an option is wired as the job's own source.
pub fn is_own(o: &Judged, job: &Job) -> bool {
    job.source.as_ref().is_some_and(|own| own.wired_as(&o.case.source))
}

/// The options to look at first; places among them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Picks {
    /// The soonest done that can still be watched: a minute is no more than the tolerance, the
    /// pan not overloaded.
    pub soonest: Option<usize>,
    /// The fewest cells within half as long again as that.
    pub fewest: Option<usize>,
    /// The least strained within the time.
    pub gentlest: Option<usize>,
}

/// How much longer than the soonest the one with the fewest cells may take.
const HALF_AGAIN: f64 = 1.5;
/// Most that the pan of the soonest may be loaded.
const MOST_LOAD: f64 = 1.0;

/// Picks among the options at these places. `holds` asks whether an option does it, draws and
/// all, and is asked as little as may be.
pub(super) fn picks<E>(
    options: &[Judged],
    places: &[usize],
    mut holds: impl FnMut(usize) -> Result<bool, E>,
) -> Result<Picks, E> {
    let time = |n: usize| options[n].elapsed_s();
    let watched = |n: &usize| {
        let (of, run) = (options[*n].case.weighed(), &options[*n].case.run);
        of.minute_m() <= of.tolerance_m() && run.extremes.cathode_load <= MOST_LOAD
    };
    let mut first = |mut list: Vec<usize>, key: &dyn Fn(usize) -> f64| {
        list.sort_by(|a, b| key(*a).total_cmp(&key(*b)));
        for n in list {
            if holds(n)? {
                return Ok(Some(n));
            }
        }
        Ok(None)
    };
    let mut soon: Vec<usize> = places.iter().copied().filter(watched).collect();
    if soon.is_empty() {
        soon = places.to_vec();
    }
    let soonest = first(soon, &time)?;
    let most = soonest.map_or(f64::INFINITY, |n| HALF_AGAIN * time(n));
    let packs: Vec<usize> = places
        .iter()
        .copied()
        .filter(|n| matches!(options[*n].case.source, Source::Pack(_)) && time(*n) <= most)
        .collect();
    // Cells first, time where they are as many.
    let fewest = first(packs, &|n| f64::from(options[n].cells()) + 1e-9 * time(n))?;
    // What often fails is not gentle.
    let gentlest =
        first(places.to_vec(), &|n| strain(&options[n]) + f64::from(tenths(&options[n])))?;
    Ok(Picks { soonest, fewest, gentlest })
}

/// How near the worst of the strained limits is, and past it: over one is past.
fn strain(o: &Judged) -> f64 {
    let strained = o.held.iter().filter(|row| !row.limit.firm());
    let worst = strained.filter_map(|row| row.times()).map(|times| 1.0 / times).fold(0.0, f64::max);
    // Of those that strain nothing the sooner.
    worst.max(0.5) + 1e-9 * o.elapsed_s()
}
