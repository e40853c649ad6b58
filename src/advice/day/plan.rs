//! The plan of a day, and what stands in its way.

use super::bound::{Of, bounds, least};
use super::hands::{Task, Work};
use super::place::{Entry, Partial};
use super::schedule::{Method, search};
use super::suits::LOOKED;
use super::table::Table;
use super::why::Why;
use crate::advice::error::AdviceError;
use crate::advice::size::{Reason, at_its_best, judge};
use crate::advice::verdict::Verdict;
use crate::job::{Day, DaySource};
use crate::run::{RunError, Stop};
use crate::stock::Stock;

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

/// Verdicts, each on a kind of piece with a source.
pub type Verdicts = Vec<((usize, usize), Verdict)>;

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
    /// The verdict on each kind of piece with each source that it goes to, fresh; empty until
    /// [`verdicts`] has worked them out.
    pub verdicts: Verdicts,
}

/// A day without sources of its own gets what the drawer has, each thing as it does the first piece
/// best.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn with_drawer(mut day: Day, stock: &Stock) -> Result<Day, AdviceError> {
    if day.sources.is_empty()
        && let Some(first) = day.pieces.iter().find(|piece| !piece.job.drawer.is_empty())
    {
        let best = at_its_best(&first.job, stock)?;
        let there = best.into_iter().filter(|(.., charges)| *charges > 0);
        let source = |(name, source, charges)| DaySource { name, source, charges };
        day.sources = there.map(source).collect();
    }
    Ok(day)
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

    /// The verdict on an entry.
    pub fn verdict(&self, entry: &Entry) -> Option<&Verdict> {
        let pair = (entry.kind, entry.source);
        self.verdicts.iter().find(|(of, _)| *of == pair).map(|(_, verdict)| verdict)
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
    let table = Table::of(day, stock)?;
    let start = Partial::new(&table);
    let homeless = |kind: &usize| table.suits[*kind].iter().all(Result::is_err);
    let homeless: Vec<usize> = (0..day.pieces.len()).filter(homeless).collect();
    if !homeless.is_empty() {
        return Ok(undone(&table, &start, homeless, Method::EveryOrder, 0)?);
    }
    let found = search(&table)?;
    let (method, tried) = (found.method, found.tried);
    if found.day.to_come() > 0 {
        let over = (0..day.pieces.len()).filter(|k| found.day.left[*k] > 0).collect();
        return Ok(undone(&table, &found.day, over, method, tried)?);
    }
    let bounds = bounds(&table, &least(&table), &start);
    let (mut entries, mut hands) = (found.day.entries, found.day.tasks);
    entries.sort_by(|a, b| a.etched.hang_up.0.total_cmp(&b.etched.hang_up.0));
    hands.sort_by(|a, b| a.start_s.total_cmp(&b.start_s));
    let end_s = Some(found.day.end_s);
    let (unfit, stuck) = (table.unfit(), Vec::new());
    let verdicts = Vec::new();
    Ok(DayPlan { entries, hands, end_s, bounds, method, tried, unfit, stuck, verdicts })
}

/// The verdict on each kind of piece with each source that a plan gives it, fresh.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn verdicts(day: &Day, plan: &DayPlan, stock: &Stock) -> Result<Verdicts, AdviceError> {
    let mut pairs: Vec<(usize, usize)> = plan.entries.iter().map(|e| (e.kind, e.source)).collect();
    pairs.sort_unstable();
    pairs.dedup();
    let judged = |(kind, source): (usize, usize)| {
        let mut judged = judge(&day.pieces[kind].job, &day.sources[source].source, stock)?;
        judged.draw(LOOKED)?;
        Ok(((kind, source), judged.verdict()))
    };
    pairs.into_iter().map(judged).collect()
}

/// A day that cannot be done for want of a source for some kinds of piece.
fn undone(
    table: &Table,
    so_far: &Partial,
    kinds: Vec<usize>,
    method: Method,
    tried: u64,
) -> Result<DayPlan, RunError> {
    let stuck = |kind: usize| -> Result<Stuck, RunError> {
        let why = |source| {
            let tried = so_far.with(table, kind, source)?;
            // One that could still take it has none left in the best order found.
            Ok(tried.err().unwrap_or(Why::Stop(Stop::Time)))
        };
        let why = (0..table.day.sources.len()).map(why).collect::<Result<_, RunError>>()?;
        Ok(Stuck { kind, left: so_far.left[kind], why })
    };
    Ok(DayPlan {
        entries: Vec::new(),
        hands: Vec::new(),
        end_s: None,
        bounds: Vec::new(),
        method,
        tried,
        unfit: table.unfit(),
        verdicts: Vec::new(),
        stuck: kinds.into_iter().map(stuck).collect::<Result<_, RunError>>()?,
    })
}
