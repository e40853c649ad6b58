//! Which of the sources that pass comes first.

use super::judge::Judged;
use crate::job::Source;

/// Sorts by the rule of rank and numbers what passes from 1.
pub(super) fn rank(options: &mut [Judged], supplies_first: bool) {
    options.sort_by(|a, b| {
        let key = |o: &Judged| {
            let supply = is_supply(o);
            (!o.feasible(), !o.enough(), supply != supplies_first, o.preference, o.cells())
        };
        let warm = |o: &Judged| o.case.run.peak_hot_spot_k.unwrap_or(0.0);
        key(a)
            .cmp(&key(b))
            .then(warm(a).total_cmp(&warm(b)))
            .then(a.elapsed_s().total_cmp(&b.elapsed_s()))
    });
    for (rank, option) in (1..).zip(options.iter_mut().filter(|o| o.feasible())) {
        option.rank = Some(rank);
    }
}

fn is_supply(o: &Judged) -> bool {
    matches!(o.case.source, Source::Supply(_))
}

/// Why one option comes before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Before {
    /// It leaves a fifth in hand on every limit.
    InHand,
    /// It is the kind of source that the job has.
    JobsKind,
    /// It needs no bench supply.
    NoSupply,
    /// It is the setting worked out for this piece.
    WorkedOut,
    /// It takes fewer cells.
    FewerCells,
    /// It keeps the cells cooler.
    Cooler,
    /// It is sooner done.
    Sooner,
}

/// Why the first of two options comes before the second.
pub fn why_before(a: &Judged, b: &Judged) -> Before {
    if a.enough() != b.enough() {
        Before::InHand
    } else if is_supply(a) && !is_supply(b) {
        Before::JobsKind
    } else if is_supply(b) && !is_supply(a) {
        Before::NoSupply
    } else if a.preference != b.preference {
        Before::WorkedOut
    } else if a.cells() != b.cells() {
        Before::FewerCells
    } else if a.case.run.peak_hot_spot_k != b.case.run.peak_hot_spot_k {
        Before::Cooler
    } else {
        Before::Sooner
    }
}
