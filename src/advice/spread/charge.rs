//! How many pieces a charge gives, how surely: the session of the nominal pack, with its
//! rests as planned, for every draw.
//!
//! Only counted: a session ends where a piece fails. A whole session costs as much as its
//! pieces, so fewer sessions are drawn than single runs; a whole number asks for no more.

use super::quantile::{Chance, Counts};
use super::sample::Inputs;
use super::sampling::Sampling;
use crate::advice::case::Case;
use crate::advice::cores::on_all_cores;
use crate::advice::cycle::{self, Cycle};
use crate::advice::error::AdviceError;
use crate::advice::pieces::{Pieces, Session};
use crate::run::{Bench, Precision, RunError, Setup, Stop};

/// What one draw may cost on the average, in pieces: about a run.
const PIECES_A_DRAW: usize = 1;
/// Fewest sessions, where as many draws are asked for.
const FEWEST: usize = 60;

/// Most sessions: a tenth is then known to a hundredth.
const MOST: usize = 1000;

/// The pieces of a charge over the draws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceSpread {
    /// How it was drawn: the sessions and their seed.
    pub sampling: Sampling,
    /// Pieces that come to depth.
    pub pieces: Counts,
    /// Pieces beyond which a session was no longer followed.
    pub most: usize,
    /// Chance of not even one.
    pub none: Chance,
}

/// How the nominal session goes: the cycle within a piece, and the rests between pieces.
#[derive(Debug, Clone)]
pub struct Timetable {
    cycle: Cycle,
    /// Rest before the second piece, the third, and so on; the last one goes on, s.
    rests_s: Vec<f64>,
    bench_s: f64,
    fresh_bath: bool,
    most: usize,
}

impl Timetable {
    /// That of a session as it was followed.
    pub fn of(nominal: &Pieces, session: &Session) -> Self {
        let end = |k: usize| nominal.each[k].start_s + nominal.each[k].time_s;
        let rest = |k: usize| nominal.each[k + 1].start_s - end(k);
        Self {
            cycle: nominal.cycle.unwrap_or(Cycle::ONE_GO),
            rests_s: (0..nominal.each.len().saturating_sub(1)).map(rest).collect(),
            bench_s: session.bench_s,
            fresh_bath: session.fresh_bath,
            most: session.most,
        }
    }

    /// Pieces that a setup brings to depth; none when they are more than are followed.
    ///
    /// # Errors
    /// When a run cannot be worked out.
    pub fn count(&self, setup: &Setup) -> Result<Option<usize>, RunError> {
        let mut bench = Bench::new(setup, Precision::DRAWN);
        for done in 0..=self.most {
            if let Some(before) = done.checked_sub(1) {
                let rest = self.rests_s.get(before).or(self.rests_s.last());
                bench.next_piece(self.fresh_bath);
                bench.off(rest.copied().unwrap_or(self.bench_s))?;
            }
            if cycle::etch(&mut bench, setup, self.cycle)?.0 != Stop::Depth {
                return Ok(Some(done));
            }
        }
        Ok(None)
    }

    /// Sessions to draw for so many draws.
    fn sessions(&self, draws: usize) -> usize {
        let pieces = self.rests_s.len() + 1;
        (PIECES_A_DRAW * draws / pieces).clamp(FEWEST.min(draws), MOST.min(draws))
    }
}

/// Draws the sessions of a pack.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn piece_spread(
    case: &Case,
    timetable: &Timetable,
    sampling: Sampling,
) -> Result<PieceSpread, AdviceError> {
    let inputs = Inputs::of(case.job, &case.source);
    let draws = timetable.sessions(sampling.draws);
    let sample = inputs.sample(draws, sampling.seed);
    let counts = on_all_cores(&sample, |draw| {
        Ok::<_, AdviceError>(timetable.count(&case.moved(&inputs.factors(draw))?)?)
    })?;
    Ok(PieceSpread {
        sampling: Sampling { draws, ..sampling },
        none: Chance::of(counts.iter().map(|c| *c == Some(0))),
        pieces: Counts::of(counts),
        most: timetable.most,
    })
}
