//! A day at the bench: who etches when on what, with one pair of hands.
//!
//! Each piece hangs in a pan and a bath of its own kind, made up as its job says, while the
//! packs go on from piece to piece with the charge and the heat that they have left. Every
//! source fits a piece or does not, by the same limits as in `size`. Times are seconds
//! since the start of the day.

mod bound;
mod etch;
mod fits;
mod hands;
mod place;
mod schedule;

pub use bound::Of;
pub use etch::{Etched, LookAt};
pub use fits::Fit;
pub use schedule::{SMALL_PIECES, SMALL_SOURCES};

use crate::advice::error::AdviceError;
use crate::advice::size::Reason;
use crate::job::Day;
use crate::run::Stop;
use crate::stock::Stock;

/// Whether a kind of piece fits a source.
pub type Fitting = Result<Fit, Vec<Reason>>;

/// Every kind of piece on every source.
struct Table<'a> {
    day: &'a Day,
    fits: Vec<Vec<Fitting>>,
}

/// What the hands do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// Hang a piece up.
    HangUp,
    /// Look at one.
    Look,
    /// Take one down.
    TakeDown,
    /// Put a fresh charge into a pack.
    Swap,
}

impl Work {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::HangUp => "hang up",
            Self::Look => "look",
            Self::TakeDown => "take down",
            Self::Swap => "swap",
        }
    }
}

/// One piece of the hands' work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Task {
    /// From, s.
    pub start_s: f64,
    /// To, s.
    pub end_s: f64,
    /// What.
    pub what: Work,
    /// Which kind of piece, and which of them, from 1; none for a swap.
    pub piece: Option<(usize, u32)>,
    /// At which source.
    pub source: usize,
}

/// One piece of the day.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Which kind.
    pub kind: usize,
    /// Which of its kind, from 1.
    pub copy: u32,
    /// On which source.
    pub source: usize,
    /// When, and what came of it.
    pub etched: Etched,
}

/// How the order was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Every order was followed or ruled out.
    EveryOrder,
    /// As many orders as the search takes on.
    SomeOrders,
    /// The longest first, then changes of places.
    Changes,
}

/// Why a piece cannot be had from a source.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// It does not fit.
    Unfit(Vec<Reason>),
    /// The end that comes before the depth, with no fresh charge left.
    Stop(Stop),
}

/// A piece that the day cannot be done with.
#[derive(Debug, Clone, PartialEq)]
pub struct Stuck {
    /// Which kind.
    pub kind: usize,
    /// How many of it are left over.
    pub left: u32,
    /// Why, for each source.
    pub why: Vec<Why>,
}

/// The plan of a day.
#[derive(Debug, Clone, PartialEq)]
pub struct DayPlan {
    /// Pieces in the order in which they are begun; none when the day cannot be done.
    pub entries: Vec<Entry>,
    /// The hands' work in its order.
    pub hands: Vec<Task>,
    /// When the last piece is down, s; none when the day cannot be done.
    pub end_s: Option<f64>,
    /// What bounds the day from below, the longest first, s; empty when it cannot be done.
    pub bounds: Vec<(Of, f64)>,
    /// How the order was found.
    pub method: Method,
    /// Pieces that were tried on a source on the way.
    pub tried: u64,
    /// Kinds of pieces and sources that do not go together, and why.
    pub unfit: Vec<(usize, usize, Vec<Reason>)>,
    /// What stands in the way; empty when the day can be done.
    pub stuck: Vec<Stuck>,
}

impl DayPlan {
    /// Whether the day can be done.
    pub fn done(&self) -> bool {
        self.end_s.is_some()
    }

    /// The end that no order of work can beat, s.
    pub fn lower_bound_s(&self) -> Option<f64> {
        self.bounds.first().map(|b| b.1)
    }

    /// Swaps of charge.
    pub fn recharges(&self) -> impl Iterator<Item = &Task> {
        self.hands.iter().filter(|t| t.what == Work::Swap)
    }
}

/// Plans a day.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn day(day: &Day, stock: &Stock) -> Result<DayPlan, AdviceError> {
    let mut fits = Vec::new();
    for piece in &day.pieces {
        let on = |s: &crate::job::DaySource| fits::fit(&piece.job, &s.source, stock, &day.hands);
        fits.push(day.sources.iter().map(on).collect::<Result<Vec<Fitting>, _>>()?);
    }
    let table = Table { day, fits };
    let homeless = |kind: &usize| table.fits[*kind].iter().all(Result::is_err);
    let homeless: Vec<usize> = (0..day.pieces.len()).filter(homeless).collect();
    if !homeless.is_empty() {
        let stuck = homeless.into_iter().map(|kind| Stuck {
            kind,
            left: day.pieces[kind].count,
            why: whys(&table, kind, &[]),
        });
        return Ok(undone(&table, stuck.collect(), Method::EveryOrder, 0));
    }
    let found = schedule::search(&table)?;
    if found.day.to_come() > 0 {
        let mut stuck = Vec::new();
        for kind in (0..day.pieces.len()).filter(|k| found.day.left[*k] > 0) {
            let stops = schedule::stops(&table, &found.day, kind)?;
            let left = found.day.left[kind];
            stuck.push(Stuck { kind, left, why: whys(&table, kind, &stops) });
        }
        return Ok(undone(&table, stuck, found.method, found.tried));
    }
    let start = place::Partial::new(&table);
    let bounds = bound::bounds(&table, &bound::least(&table), &start);
    let (mut entries, mut hands) = (found.day.entries, found.day.tasks);
    entries.sort_by(|a, b| a.etched.hang_up.0.total_cmp(&b.etched.hang_up.0));
    hands.sort_by(|a, b| a.start_s.total_cmp(&b.start_s));
    let (method, tried) = (found.method, found.tried);
    let end_s = Some(found.day.end_s);
    let (unfit, stuck) = (unfit(&table), Vec::new());
    Ok(DayPlan { entries, hands, end_s, bounds, method, tried, unfit, stuck })
}

fn undone(table: &Table, stuck: Vec<Stuck>, method: Method, tried: u64) -> DayPlan {
    let (entries, hands, bounds) = (Vec::new(), Vec::new(), Vec::new());
    let unfit = unfit(table);
    DayPlan { entries, hands, end_s: None, bounds, method, tried, unfit, stuck }
}

fn unfit(table: &Table) -> Vec<(usize, usize, Vec<Reason>)> {
    let all = table.fits.iter().enumerate().flat_map(|(kind, fits)| {
        fits.iter().enumerate().map(move |(source, fit)| (kind, source, fit))
    });
    let not = all.filter_map(|(kind, source, fit)| Some((kind, source, fit.as_ref().err()?)));
    not.map(|(kind, source, why)| (kind, source, why.clone())).collect()
}

/// Why each source cannot do a kind of piece.
fn whys(table: &Table, kind: usize, stops: &[Option<Stop>]) -> Vec<Why> {
    let of = |(n, fit): (usize, &Fitting)| match fit {
        Err(reasons) => Why::Unfit(reasons.clone()),
        Ok(_) => Why::Stop(stops.get(n).copied().flatten().unwrap_or(Stop::Time)),
    };
    table.fits[kind].iter().enumerate().map(of).collect()
}
