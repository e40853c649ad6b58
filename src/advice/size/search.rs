//! Every source that a job allows, judged and ranked.

use super::candidates::candidates;
use super::change::Change;
use super::drawer;
use super::judge::{Judged, Looked, judge};
use super::rank::{Picks, is_own, rank};
use super::supply::{SupplyAdvice, supplies};
use crate::advice::cores::on_all_cores;
use crate::advice::error::AdviceError;
use crate::job::{Job, Source};
use crate::stock::Stock;
use crate::units::Quantity;

/// The answer of `size`.
#[derive(Debug, Clone)]
pub struct Sizing<'a> {
    /// Every source that was run, the chosen ones first by rank, then those that fail.
    pub options: Vec<Judged<'a>>,
    /// The options to look at first.
    pub picks: Picks,
    /// The job's own source, where it has one.
    pub own: Option<Judged<'a>>,
    /// What to set on a bench supply.
    pub supply: Option<SupplyAdvice<'a>>,
    /// What would have to give when nothing passes.
    pub least: Vec<Change>,
    /// What costs next to nothing and makes the job's own source do it, where that does not.
    pub free: Vec<Change>,
    /// Runs of the simulation that this took.
    pub runs: u64,
}

impl<'a> Sizing<'a> {
    /// Whether some source does the job.
    pub fn done(&self) -> bool {
        self.chosen().is_some()
    }

    /// What passes, each wiring once, in the holder that suits it best: places among the
    /// options, the best first.
    pub fn wirings(&self) -> Vec<usize> {
        wirings(&self.options)
    }

    /// The option to take: the first by rank.
    pub fn chosen(&self) -> Option<&Judged<'a>> {
        self.options.first().filter(|o| o.feasible())
    }
}

/// Judges every source that the job allows, no more.
///
/// # Errors
/// As [`super::size`].
pub fn search<'a>(job: &'a Job, stock: &'a Stock) -> Result<Sizing<'a>, AdviceError> {
    let mut options = judge_all(job, stock, &drawer::owned(job, stock))?;
    options.iter_mut().for_each(|o| o.owned = true);
    for own in drawer::supplies(job) {
        for set in drawer::settings(job, own, stock)? {
            let mut judged = judge(job, &Source::Supply(set), stock)?;
            judged.owned = true;
            options.push(judged);
        }
    }
    // What is in the drawer as it would be bought stands there once.
    let bought = candidates(job, stock);
    let there = |source: &Source| {
        options
            .iter()
            .any(|o| o.case.source.wired_as(source) && drawer::alike(&o.case.source, source))
    };
    let bought: Vec<Source> = bought.into_iter().filter(|source| !there(source)).collect();
    options.extend(judge_all(job, stock, &bought)?);
    let mut supply = supplies(job, stock)?;
    if let Some(supply) = &mut supply {
        for option in &mut supply.options {
            option.owned = drawer::may_be_set(job, &option.case.source);
        }
        options.extend(supply.options.iter().cloned());
    }
    let own = job.source.as_ref().map(|source| judge(job, source, stock)).transpose()?;
    // The job's own supply or adapter is among them too, unless only certain cells are asked for.
    let pack = matches!(job.source, Some(Source::Pack(_)));
    if !pack && job.size_cells.is_empty() && !options.iter().any(|o| is_own(o, job)) {
        options.extend(own.clone());
    }
    rank(&mut options, job);
    let mut runs: u64 = options.iter().map(|o| u64::from(o.runs)).sum();
    runs += supply.as_ref().map_or(0, |a| u64::from(a.runs));
    runs += own.as_ref().map_or(0, |o| u64::from(o.runs));
    let (least, free) = (Vec::new(), Vec::new());
    Ok(Sizing { options, picks: Picks::default(), own, supply, least, free, runs })
}

/// Draws that tell options apart.
pub(super) const LOOKED: Looked = Looked { near: 32, far: 8, seed: 1 };

/// The first option by rank that does it, draws and all.
///
/// # Errors
/// As [`super::size`].
pub fn first_that_holds<'a>(
    job: &'a Job,
    stock: &'a Stock,
) -> Result<Option<Judged<'a>>, AdviceError> {
    let mut options = search(job, stock)?.options;
    for n in wirings(&options) {
        options[n].draw(LOOKED)?;
        if options[n].feasible() {
            return Ok(Some(options.swap_remove(n)));
        }
    }
    Ok(None)
}

/// Judges sources on all cores, in their order.
///
/// # Errors
/// As [`super::size`].
pub fn judge_all<'a>(
    job: &'a Job,
    stock: &'a Stock,
    list: &[Source],
) -> Result<Vec<Judged<'a>>, AdviceError> {
    on_all_cores(list, |source| judge(job, source, stock))
}

/// Whether two supplies hold the same current: more volts do not make it faster.
fn same_current(a: &Source, b: &Source) -> bool {
    let limit = |source: &Source| match source {
        Source::Supply(s) => s.current_limit.map(Quantity::si),
        _ => None,
    };
    limit(a).zip(limit(b)).is_some_and(|(a, b)| (a / b - 1.0).abs() < 0.02)
}

/// Of these places those that are owned, where any is: nothing is bought for what the drawer does.
pub(super) fn at_hand(options: &[Judged], job: &Job, places: &[usize]) -> Vec<usize> {
    let owned = |n: &usize| options[*n].owned || is_own(&options[*n], job);
    let list: Vec<usize> = places.iter().copied().filter(owned).collect();
    if list.is_empty() || job.drawer.is_empty() { places.to_vec() } else { list }
}

/// Of ranked options what passes, each wiring once, in the holder that suits it best.
pub(super) fn wirings(options: &[Judged]) -> Vec<usize> {
    let mut seen: Vec<&Source> = Vec::new();
    let mut list = Vec::new();
    for (n, option) in options.iter().enumerate().filter(|(_, o)| o.feasible()) {
        let source = &option.case.source;
        let alike = |other: &&Source| other.wired_as(source) || same_current(other, source);
        if !seen.iter().any(alike) {
            seen.push(source);
            list.push(n);
        }
    }
    list
}
