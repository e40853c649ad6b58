//! What bounds a day from below: no order of work can end sooner.
//!
//! Each piece takes its least time: hanging up, the least time with the current on (see
//! `suits.rs`), the fewest looks, taking down. The bounds, of which the longest holds:
//!
//! * all sources: the pieces' least times, each on its fastest source, over their number;
//! * one source: the pieces that suit no other;
//! * the hands: all their work, around the breaks;
//! * one kind of piece: its count, one after the other in its pan.

use super::hands::done_by;
use super::place::Partial;
use super::table::{Suiting, Table};

/// What bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Of {
    /// All sources together.
    Sources,
    /// One source.
    Source(usize),
    /// The hands.
    Hands,
    /// One kind of piece.
    Piece(usize),
}

/// Least times of a kind of piece, s; infinite where it suits no source.
#[derive(Debug, Clone)]
pub struct Least {
    /// On each source.
    on: Vec<f64>,
    /// On the fastest.
    best: f64,
    /// Of the hands.
    hands: f64,
}

/// Least times of every kind of piece.
pub fn least(table: &Table) -> Vec<Least> {
    let times = &table.day.hands;
    let of = |row: &Vec<Suiting>| {
        let on = row.iter().map(|f| f.as_ref().map_or(f64::INFINITY, |f| f.least_s(times)));
        let on: Vec<f64> = on.collect();
        let hands = row.iter().flatten().map(|f| f.least_hands_s(times));
        Least {
            best: on.iter().copied().fold(f64::INFINITY, f64::min),
            hands: hands.fold(f64::INFINITY, f64::min),
            on,
        }
    };
    table.suits.iter().map(of).collect()
}

impl Least {
    /// On the fastest source, s.
    pub fn best(&self) -> f64 {
        self.best
    }

    /// On a source, s.
    pub fn on(&self, source: usize) -> f64 {
        self.on[source]
    }

    /// The only source that it suits.
    fn only(&self) -> Option<usize> {
        let mut open = self.on.iter().enumerate().filter(|(_, s)| s.is_finite());
        match (open.next(), open.next()) {
            (Some((n, _)), None) => Some(n),
            _ => None,
        }
    }
}

/// Every bound of a day as far as it is planned, the longest first, s.
pub fn bounds(table: &Table, least: &[Least], day: &Partial) -> Vec<(Of, f64)> {
    let to_come = || least.iter().zip(&day.left).filter(|(_, n)| **n > 0);
    let mut list = Vec::new();
    let work: f64 = to_come().map(|(l, n)| f64::from(*n) * l.best).sum();
    let busy: f64 = day.sources.iter().map(|s| s.free_s).sum();
    list.push((Of::Sources, (busy + work) / day.sources.len() as f64));
    for (n, source) in day.sources.iter().enumerate() {
        let only = to_come().filter(|(l, _)| l.only() == Some(n));
        let work: f64 = only.map(|(l, count)| f64::from(*count) * l.on[n]).sum();
        list.push((Of::Source(n), source.free_s + work));
    }
    let done: f64 = day.tasks.iter().map(|t| t.end_s - t.start_s).sum();
    let work: f64 = to_come().map(|(l, n)| f64::from(*n) * l.hands).sum();
    list.push((Of::Hands, done_by(&table.day.breaks, done + work)));
    for (n, (l, count)) in least.iter().zip(&day.left).enumerate().filter(|(_, (_, c))| **c > 0) {
        let source = day.sources.iter().zip(&l.on).map(|(s, on)| s.free_s + on);
        let soonest = source.fold(f64::INFINITY, f64::min) + f64::from(count - 1) * l.best;
        list.push((Of::Piece(n), soonest.max(day.pans[n] + f64::from(*count) * l.best)));
    }
    list.sort_by(|a, b| b.1.total_cmp(&a.1));
    list
}

/// The end that no completion of a day can beat, s.
pub fn lower(table: &Table, least: &[Least], day: &Partial) -> f64 {
    bounds(table, least, day).first().map_or(0.0, |b| b.1).max(day.end_s)
}
