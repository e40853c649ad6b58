//! Which sources do the job: every one that may be wired is run, judged and ranked.
//!
//! Rule of rank: first those with a fifth in hand on every limit, then the fewest cells,
//! then the coolest, then the soonest done. Of those with as much in hand supplies come after
//! packs, unless the job's own source is one: whether a supply stands on the bench is not
//! ours to know.

mod candidates;
pub mod chart;
mod judge;
mod least;
mod reasons;
mod supply;

pub use candidates::{HOLDER_SIZES, candidates};
pub use judge::{ENOUGH, Judged, Margin, current_borne, judge, warmth};
pub use least::{Change, least_changes};
pub use reasons::{Reason, source_words};
pub use supply::{SupplyAdvice, supplies};

use crate::advice::AdviceError;
use crate::advice::cores::on_all_cores;
use crate::advice::spread::Sampling;
use crate::advice::spread::options::{DRAWN, option_spread};
use crate::job::{Job, Source};
use crate::stock::Stock;

/// The answer of `size`.
#[derive(Debug, Clone)]
pub struct Sizing {
    /// Every source that was run, the chosen ones first by rank, then those that fail.
    pub options: Vec<Judged>,
    /// The job's own source, where it has one.
    pub own: Option<Judged>,
    /// What to set on a bench supply.
    pub supply: Option<SupplyAdvice>,
    /// What would have to give when nothing passes.
    pub least: Vec<Change>,
    /// Runs of the simulation that this took.
    pub runs: u64,
}

impl Sizing {
    /// Whether some source does the job.
    pub fn done(&self) -> bool {
        self.chosen().is_some()
    }

    /// What passes, each wiring once, in the holder that suits it best: places among the
    /// options, the best first.
    pub fn wirings(&self) -> Vec<usize> {
        let wiring = |o: &Judged| match &o.source {
            Source::Pack(p) => (p.cell.name.clone(), p.series.is, p.parallel),
            other => (source_words(other), 0, 0),
        };
        let mut seen = Vec::new();
        let mut list = Vec::new();
        for (n, option) in self.options.iter().enumerate().filter(|(_, o)| o.feasible()) {
            let key = wiring(option);
            if !seen.contains(&key) {
                seen.push(key);
                list.push(n);
            }
        }
        list
    }

    /// The option to take.
    pub fn chosen(&self) -> Option<&Judged> {
        self.options.first().filter(|o| o.feasible())
    }
}

/// Judges every source that the job allows, and when none does, solves for what would
/// have to give.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn size(job: &Job, stock: &Stock) -> Result<Sizing, AdviceError> {
    let mut sizing = search(job, stock)?;
    if !sizing.done() {
        sizing.least = least_changes(job, stock, &sizing.options)?;
    }
    Ok(sizing)
}

/// The same, with how sure the best few are.
///
/// # Errors
/// As [`size`].
pub fn size_drawn(job: &Job, stock: &Stock, sampling: Sampling) -> Result<Sizing, AdviceError> {
    let mut sizing = size(job, stock)?;
    for n in sizing.wirings().into_iter().take(DRAWN) {
        let spread = option_spread(job, stock, &sizing.options[n], sampling)?;
        sizing.options[n].spread = Some(spread);
    }
    Ok(sizing)
}

/// Judges every source that the job allows, no more.
///
/// # Errors
/// As [`size`].
pub fn search(job: &Job, stock: &Stock) -> Result<Sizing, AdviceError> {
    let packs = candidates(job, stock);
    let mut options = judge_all(job, stock, &packs)?;
    let advice = supplies(job, stock)?;
    if let Some(advice) = &advice {
        options.extend(advice.options.iter().cloned());
    }
    rank(&mut options, matches!(job.source, Some(Source::Supply(_))));
    let mut runs: u64 = options.iter().map(|o| u64::from(o.runs)).sum();
    runs += advice.as_ref().map_or(0, |a| u64::from(a.runs));
    let own = job.source.as_ref().map(|source| judge(job, source, stock)).transpose()?;
    runs += own.as_ref().map_or(0, |o| u64::from(o.runs));
    Ok(Sizing { options, own, supply: advice, least: Vec::new(), runs })
}

/// Judges sources on all cores, in their order.
///
/// # Errors
/// As [`size`].
pub fn judge_all(job: &Job, stock: &Stock, list: &[Source]) -> Result<Vec<Judged>, AdviceError> {
    on_all_cores(list, |source| judge(job, source, stock))
}

/// Sorts by the rule of rank and numbers what passes from 1.
fn rank(options: &mut [Judged], supplies_first: bool) {
    options.sort_by(|a, b| {
        let key = |o: &Judged| {
            let supply = matches!(o.source, Source::Supply(_));
            (!o.feasible(), !o.enough(), supply != supplies_first, o.preference, o.cells())
        };
        let warm = |o: &Judged| o.run.peak_hot_spot_k.unwrap_or(0.0);
        key(a)
            .cmp(&key(b))
            .then(warm(a).total_cmp(&warm(b)))
            .then(a.elapsed_s().total_cmp(&b.elapsed_s()))
    });
    for (rank, option) in (1..).zip(options.iter_mut().filter(|o| o.feasible())) {
        option.rank = Some(rank);
    }
}

/// Why one option comes before another, in words that follow "because it".
pub fn why_before(a: &Judged, b: &Judged) -> &'static str {
    let supply = |o: &Judged| matches!(o.source, Source::Supply(_));
    if a.enough() != b.enough() {
        "leaves a fifth in hand on every limit"
    } else if supply(a) && !supply(b) {
        "is the kind of source that the job has"
    } else if supply(b) && !supply(a) {
        "needs no bench supply"
    } else if a.preference != b.preference {
        "is the setting worked out for this piece"
    } else if a.cells() != b.cells() {
        "takes fewer cells"
    } else if a.run.peak_hot_spot_k != b.run.peak_hot_spot_k {
        "keeps the cells cooler"
    } else {
        "is sooner done"
    }
}
