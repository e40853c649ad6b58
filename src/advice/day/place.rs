//! The day as far as it is planned, and one more piece put into it.

use super::etch::{Etched, Etching, Left};
use super::hands::{Hands, Task, Work};
use super::suits::Suited;
use super::table::Table;
use super::why::Why;
use crate::advice::shortest::{LONGEST_REST_MIN, shortest};
use crate::run::RunError;

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

/// The day so far.
#[derive(Debug, Clone)]
pub struct Partial {
    /// The hands.
    pub hands: Hands,
    /// Each source.
    pub sources: Vec<Standing>,
    /// When the pan of each kind of piece is free.
    pub pans: Vec<f64>,
    /// How many of each kind are still to come.
    pub left: Vec<u32>,
    /// Pieces planned.
    pub entries: Vec<Entry>,
    /// The hands' work, in the order in which it was planned.
    pub tasks: Vec<Task>,
    /// When the last piece so far is down, s.
    pub end_s: f64,
    /// When the last piece so far was begun, s.
    pub begun_s: f64,
}

/// A source as the day stands.
#[derive(Debug, Clone, Copy)]
pub struct Standing {
    /// When it is free, s.
    pub free_s: f64,
    /// The pack as the last piece left it; none when fresh or without cells.
    pub left: Option<Left>,
    /// Fresh charges still at hand, the one in it not counted.
    pub charges: u32,
}

/// A piece is not hung up later for less than this, nor taken down later by more, s.
const WORTH_S: f64 = 1.0;

impl Partial {
    /// At the start of a day.
    pub fn new(table: &Table) -> Self {
        let fresh = |charges: u32| Standing { free_s: 0.0, left: None, charges: charges - 1 };
        Self {
            hands: Hands::new(&table.day.breaks),
            sources: table.day.sources.iter().map(|s| fresh(s.charges.max(1))).collect(),
            pans: vec![0.0; table.day.pieces.len()],
            left: table.day.pieces.iter().map(|p| p.count).collect(),
            entries: Vec::new(),
            tasks: Vec::new(),
            end_s: 0.0,
            begun_s: 0.0,
        }
    }

    /// How many pieces are still to come.
    pub fn to_come(&self) -> u32 {
        self.left.iter().sum()
    }

    /// The day with one more piece, as soon as may be; or why that source cannot do it.
    ///
    /// # Errors
    /// When a run cannot be worked out.
    pub fn with(
        &self,
        table: &Table,
        kind: usize,
        source: usize,
    ) -> Result<Result<Self, Why>, RunError> {
        let suited = match &table.suits[kind][source] {
            Ok(suited) => suited,
            Err(reasons) => return Ok(Err(Why::Unfit(reasons.clone()))),
        };
        let putting = Putting { day: self, table, suited, kind, source };
        let standing = &self.sources[source];
        let mut tried = putting.tried(0.0, false)?;
        if standing.left.is_some() && tried.as_ref().is_err_and(Why::rest_may_mend) {
            // After the shortest rest that mends it; else what stands in the way after the longest.
            let rested = shortest(1..=LONGEST_REST_MIN, |rest_s| {
                let day = putting.tried(rest_s, false)?;
                Ok(day.map_err(|why| tried = Err(why)).ok())
            })?;
            tried = rested.map_or(tried, |(_, day)| Ok(day));
        }
        if tried.is_err() && standing.charges > 0 && standing.left.is_some() {
            tried = putting.tried(0.0, true)?;
        }
        Ok(tried)
    }
}

/// One piece being put into a day.
struct Putting<'a> {
    day: &'a Partial,
    table: &'a Table<'a>,
    suited: &'a Suited,
    kind: usize,
    source: usize,
}

impl Putting<'_> {
    /// After a rest, or with a fresh charge.
    fn tried(&self, rest_s: f64, swap: bool) -> Result<Result<Partial, Why>, RunError> {
        let times = &self.table.day.hands;
        let standing = self.day.sources[self.source];
        let mut hands = self.day.hands.clone();
        let (mut earliest, mut left) = (standing.free_s + rest_s, standing.left);
        let mut swapped = None;
        if swap {
            let at = hands.next(earliest, times.swap_s);
            hands.take(at, times.swap_s);
            (earliest, left, swapped) = (at + times.swap_s, None, Some(at));
        }
        earliest = earliest.max(self.day.pans[self.kind]);
        let mut etching = Etching::hang_up(self.suited, times, hands.clone(), earliest, left)?;
        let mut etched = match etching.etch()? {
            Ok(etched) => etched,
            Err(why) => return Ok(Err(why)),
        };
        // Nothing need hang in the bath while it waits for the current.
        let first_on = etched.on.first().map_or(etched.hang_up.1, |on| on.0);
        let later = hands.before(first_on - times.hang_up_s, times.hang_up_s, earliest);
        if let Some(at) = later.filter(|at| *at > etched.hang_up.0 + WORTH_S) {
            let mut again = Etching::hang_up(self.suited, times, hands, at, left)?;
            if let Ok(new) = again.etch()?
                && new.take_down.1 <= etched.take_down.1 + WORTH_S
            {
                (etching, etched) = (again, new);
            }
        }
        let mut day = self.day.clone();
        let end = etched.take_down.1;
        day.sources[self.source] = Standing {
            free_s: end,
            left: etching.left()?,
            charges: standing.charges - u32::from(swap),
        };
        day.hands = etching.hands;
        day.pans[self.kind] = end;
        day.begun_s = swapped.unwrap_or(etched.hang_up.0);
        day.end_s = day.end_s.max(end);
        self.note(&mut day, etched, swapped);
        Ok(Ok(day))
    }

    /// Enters the piece and its work.
    fn note(&self, day: &mut Partial, etched: Etched, swapped: Option<f64>) {
        let (kind, source) = (self.kind, self.source);
        let copy = self.table.day.pieces[kind].count - day.left[kind] + 1;
        day.left[kind] -= 1;
        let times = &self.table.day.hands;
        let piece = Some((kind, copy));
        let mut task = |what, from: f64, to: f64, piece| {
            day.tasks.push(Task { start_s: from, end_s: to, what, piece, source });
        };
        if let Some(at) = swapped {
            task(Work::Swap, at, at + times.swap_s, None);
        }
        task(Work::HangUp, etched.hang_up.0, etched.hang_up.1, piece);
        for look in &etched.looks {
            task(Work::Look, look.at_s, look.at_s + times.look_s, piece);
        }
        task(Work::TakeDown, etched.take_down.0, etched.take_down.1, piece);
        day.entries.push(Entry { kind, copy, source, etched });
    }
}
