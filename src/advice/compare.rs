//! Several jobs, or one piece with several sources, side by side.

use super::case::Case;
use super::cycle::within_a_piece;
use super::error::AdviceError;
use super::pieces::{Pieces, Session, pieces};
use super::size::{Judged, judge_case};
use super::spread::Sampling;
use super::spread::options::chances;
use crate::job::{Job, Source};
use crate::run::Trace;
use crate::stock::Stock;

/// One of the things compared.
#[derive(Debug, Clone)]
pub struct Alternative<'a> {
    /// What to call it.
    pub name: String,
    /// Its run over time.
    pub trace: Trace,
    /// How it stands against the limits.
    pub judged: Judged<'a>,
    /// Pieces from one charge; none without cells, or when not even one comes to depth.
    pub pieces: Option<Pieces>,
    /// Price of the cells used up for one piece, where a price is given.
    pub cost_a_piece: Option<f64>,
}

/// Draws behind the verdict on an alternative.
const DRAWN: Sampling = Sampling { draws: 400, seed: 1 };

/// Works one alternative out.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn alternative<'a>(
    name: String,
    job: &'a Job,
    source: &Source,
    stock: &'a Stock,
    points: usize,
) -> Result<Alternative<'a>, AdviceError> {
    let (case, trace) = Case::traced(job, source, stock, points)?;
    let mut judged = judge_case(case)?;
    judged.chances = chances(&judged.case, judged.rest.as_ref(), DRAWN)?;
    let (case, limits) = (&judged.case, judged.case.warmth());
    let pieces = match case.setup.cells() {
        Some(_) => {
            let cycle = within_a_piece(&case.setup, &limits, &case.run, judged.rest)?;
            Some(pieces(&case.setup, &limits, &Session::default(), cycle)?)
        }
        None => None,
    };
    let cost_a_piece = pieces.as_ref().and_then(|p| cost(source, p));
    Ok(Alternative { name, trace, judged, pieces, cost_a_piece })
}

/// Primary cells are used up by the pieces of one charge; others are charged again.
fn cost(source: &Source, pieces: &Pieces) -> Option<f64> {
    let Source::Pack(pack) = source else {
        return None;
    };
    let used_up = !pack.cell.rechargeable && pieces.ended() && pieces.count() > 0;
    let price = pack.price.filter(|_| used_up)?;
    Some(price * f64::from(pack.series.is * pack.parallel) / pieces.count() as f64)
}
