//! Every kind of piece on every source.

use super::suits::{Suited, suits};
use crate::advice::error::AdviceError;
use crate::advice::size::Reason;
use crate::job::{Day, DaySource};
use crate::stock::Stock;

/// Whether a kind of piece suits a source.
pub type Suiting = Result<Suited, Vec<Reason>>;

/// Every kind of piece on every source.
pub struct Table<'a> {
    /// The day.
    pub day: &'a Day,
    /// By kind of piece and by source.
    pub suits: Vec<Vec<Suiting>>,
}

impl<'a> Table<'a> {
    /// Of a day.
    ///
    /// # Errors
    /// When stock lacks a number or a run cannot be worked out.
    pub fn of(day: &'a Day, stock: &Stock) -> Result<Self, AdviceError> {
        let mut rows = Vec::new();
        for piece in &day.pieces {
            let on = |s: &DaySource| suits(&piece.job, &s.source, stock, &day.hands);
            rows.push(day.sources.iter().map(on).collect::<Result<Vec<Suiting>, _>>()?);
        }
        Ok(Self { day, suits: rows })
    }

    /// Kinds of pieces and sources that do not go together, and why.
    pub fn unfit(&self) -> Vec<(usize, usize, Vec<Reason>)> {
        let all = self.suits.iter().enumerate().flat_map(|(kind, row)| {
            row.iter().enumerate().map(move |(source, found)| (kind, source, found))
        });
        let not =
            all.filter_map(|(kind, source, found)| Some((kind, source, found.as_ref().err()?)));
        not.map(|(kind, source, why)| (kind, source, why.clone())).collect()
    }
}
