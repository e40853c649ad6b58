//! Every kind of piece on every source.

use super::fits::{Fit, fit};
use crate::advice::error::AdviceError;
use crate::advice::size::Reason;
use crate::job::{Day, DaySource};
use crate::stock::Stock;

/// Whether a kind of piece fits a source.
pub type Fitting = Result<Fit, Vec<Reason>>;

/// Every kind of piece on every source.
pub struct Table<'a> {
    /// The day.
    pub day: &'a Day,
    /// By kind of piece and by source.
    pub fits: Vec<Vec<Fitting>>,
}

impl<'a> Table<'a> {
    /// Of a day.
    ///
    /// # Errors
    /// When stock lacks a number or a run cannot be worked out.
    pub fn of(day: &'a Day, stock: &Stock) -> Result<Self, AdviceError> {
        let mut fits = Vec::new();
        for piece in &day.pieces {
            let on = |s: &DaySource| fit(&piece.job, &s.source, stock, &day.hands);
            fits.push(day.sources.iter().map(on).collect::<Result<Vec<Fitting>, _>>()?);
        }
        Ok(Self { day, fits })
    }

    /// Kinds of pieces and sources that do not go together, and why.
    pub fn unfit(&self) -> Vec<(usize, usize, Vec<Reason>)> {
        let all = self.fits.iter().enumerate().flat_map(|(kind, fits)| {
            fits.iter().enumerate().map(move |(source, fit)| (kind, source, fit))
        });
        let not = all.filter_map(|(kind, source, fit)| Some((kind, source, fit.as_ref().err()?)));
        not.map(|(kind, source, why)| (kind, source, why.clone())).collect()
    }
}
