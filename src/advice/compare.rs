//! Several jobs, or one piece with several sources, side by side.

use super::cycle::within_a_piece;
use super::pieces::{Pieces, Session, pieces};
use super::plan::advise_with;
use super::size::{Judged, judge, warmth};
use super::{AdviceError, Plan};
use crate::job::{Job, Source};
use crate::stock::Stock;

/// One of the things compared.
#[derive(Debug, Clone)]
pub struct Alternative {
    /// What to call it.
    pub name: String,
    /// Its run with findings.
    pub plan: Plan,
    /// How it stands against the limits.
    pub judged: Judged,
    /// Pieces from one charge; none without cells, or when not even one comes to depth.
    pub pieces: Option<Pieces>,
    /// Price of the cells used up for one piece, where a price is given.
    pub cost_a_piece: Option<f64>,
}

/// Works one alternative out.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn alternative(
    name: String,
    job: &Job,
    source: &Source,
    stock: &Stock,
    points: usize,
) -> Result<Alternative, AdviceError> {
    let plan = advise_with(job, source, stock, points)?;
    let judged = judge(job, source, stock)?;
    let limits = warmth(&judged.setup, &plan.bounds);
    let pieces = match judged.setup.source.pack() {
        Some(_) => {
            let cycle = within_a_piece(&judged.setup, &limits, &judged.run, judged.rest)?;
            Some(pieces(&judged.setup, &limits, &Session::default(), cycle)?)
        }
        None => None,
    };
    let cost_a_piece = pieces.as_ref().and_then(|p| cost(source, p));
    Ok(Alternative { name, plan, judged, pieces, cost_a_piece })
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
