//! Which piece on which source, and in which order.
//!
//! A day is built piece by piece; each takes the first time that its source, its pan and
//! the hands leave it. Up to [`SMALL_PIECES`] pieces and [`SMALL_SOURCES`] sources, every
//! order in which pieces can be begun and every choice of sources is followed, except where
//! the bounds (`bound.rs`) show that it cannot end sooner than the best so far. Otherwise,
//! and to begin with: the longest piece first, each on the source where it is soonest down;
//! then any two pieces of the order change places as long as that helps. Both stop after
//! so many pieces tried.

use super::bound::{Least, least, lower};
use super::place::Partial;
use super::table::Table;
use super::why::Why;
use crate::advice::progress;
use crate::run::RunError;

/// Most pieces whose every order is followed.
pub const SMALL_PIECES: u32 = 7;
/// Most sources with which every order is followed.
pub const SMALL_SOURCES: usize = 3;
/// Most pieces tried on a source, by order and by changing places.
const MOST_BY_ORDER: u64 = 8_000;
const MOST_BY_CHANGES: u64 = 3_000;
/// What is sooner by less is not worth another order, s.
const SOONER_S: f64 = 0.5;

/// What was found.
#[derive(Debug)]
pub struct Found {
    /// The best day; pieces are left over when it cannot be done.
    pub day: Partial,
    /// How it was found.
    pub method: Method,
    /// Pieces tried on a source.
    pub tried: u64,
}

/// Searches.
///
/// # Errors
/// When a run cannot be worked out.
pub fn search(table: &Table) -> Result<Found, RunError> {
    let mut search =
        Search { table, least: least(table), best: None, tried: 0, most: MOST_BY_CHANGES };
    let small = search.small();
    search.longest_first(!small)?;
    let mut method = Method::Changes;
    if small {
        search.most = search.tried + MOST_BY_ORDER;
        let whole = search.orders(&Partial::new(table))?;
        method = if whole { Method::EveryOrder } else { Method::SomeOrders };
    }
    let day = search.best.unwrap_or_else(|| Partial::new(table));
    Ok(Found { day, method, tried: search.tried })
}

/// How the order was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Method {
    /// Every order was followed or ruled out.
    EveryOrder,
    /// As many orders as the search takes on.
    SomeOrders,
    /// The longest first, then changes of places.
    Changes,
}

struct Search<'a> {
    table: &'a Table<'a>,
    least: Vec<Least>,
    best: Option<Partial>,
    tried: u64,
    most: u64,
}

impl Search<'_> {
    fn small(&self) -> bool {
        let pieces: u32 = self.table.day.pieces.iter().map(|p| p.count).sum();
        pieces <= SMALL_PIECES && self.table.day.sources.len() <= SMALL_SOURCES
    }

    /// Keeps a day that is better: fewer pieces left over, or sooner done.
    fn keep(&mut self, day: Partial) -> bool {
        let better = self.best.as_ref().is_none_or(|best| {
            let (new, old) = (day.to_come(), best.to_come());
            new < old || (new == old && day.end_s < best.end_s - SOONER_S)
        });
        if better {
            self.best = Some(day);
        }
        better
    }

    fn with(
        &mut self,
        day: &Partial,
        kind: usize,
        source: usize,
    ) -> Result<Option<Partial>, RunError> {
        let tried = day.with(self.table, kind, source)?;
        self.tried += u64::from(!matches!(tried, Err(Why::Unfit(_))));
        progress::done();
        Ok(tried.ok())
    }

    /// The longest first, then changes of places.
    fn longest_first(&mut self, changes: bool) -> Result<(), RunError> {
        let mut kinds: Vec<usize> = (0..self.least.len()).collect();
        kinds.sort_by(|a, b| self.least[*b].best().total_cmp(&self.least[*a].best()));
        let count = |k: usize| self.table.day.pieces[k].count as usize;
        let mut order: Vec<usize> =
            kinds.into_iter().flat_map(|k| std::iter::repeat_n(k, count(k))).collect();
        let first = self.in_order(&order)?;
        self.keep(first);
        let mut helped = changes;
        while std::mem::take(&mut helped) {
            for a in 0..order.len() {
                for b in a + 1..order.len() {
                    if order[a] == order[b] || self.tried >= self.most {
                        continue;
                    }
                    order.swap(a, b);
                    let day = self.in_order(&order)?;
                    if self.keep(day) {
                        helped = true;
                    } else {
                        order.swap(a, b);
                    }
                }
            }
        }
        Ok(())
    }

    /// A day in an order, each piece on the source where it is soonest down; pieces that no
    /// source can take are left over.
    fn in_order(&mut self, order: &[usize]) -> Result<Partial, RunError> {
        let mut day = Partial::new(self.table);
        for kind in order {
            let mut soonest: Option<Partial> = None;
            for source in 0..day.sources.len() {
                let Some(next) = self.with(&day, *kind, source)? else {
                    continue;
                };
                let down = |d: &Partial| d.entries.last().map_or(0.0, |e| e.etched.take_down.1);
                if soonest.as_ref().is_none_or(|s| down(&next) < down(s)) {
                    soonest = Some(next);
                }
            }
            if let Some(next) = soonest {
                day = next;
            }
        }
        Ok(day)
    }

    /// Follows every order from a day on; whether it got through.
    fn orders(&mut self, day: &Partial) -> Result<bool, RunError> {
        if day.to_come() == 0 {
            self.keep(day.clone());
            return Ok(true);
        }
        let mut next = Vec::new();
        for kind in (0..day.left.len()).filter(|k| day.left[*k] > 0) {
            for source in 0..day.sources.len() {
                if self.tried >= self.most {
                    return Ok(false);
                }
                let free = day.sources[source].free_s.max(day.pans[kind]);
                if self.beaten(free + self.least[kind].on(source)) {
                    continue;
                }
                let Some(longer) = self.with(day, kind, source)? else {
                    continue;
                };
                // Begun before the last one, it is met in another order.
                if longer.begun_s >= day.begun_s {
                    next.push((lower(self.table, &self.least, &longer), longer));
                }
            }
        }
        if next.is_empty() {
            // Kept only where nothing better is known: pieces are left over.
            self.keep(day.clone());
        }
        next.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut through = true;
        for (bound, longer) in next {
            if !self.beaten(bound) {
                through &= self.orders(&longer)?;
            }
        }
        Ok(through)
    }

    /// Whether a day that ends no sooner than `bound` is no better than the best so far.
    fn beaten(&self, bound: f64) -> bool {
        let whole = self.best.as_ref().filter(|best| best.to_come() == 0);
        whole.is_some_and(|best| bound > best.end_s - SOONER_S)
    }
}
