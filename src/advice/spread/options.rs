//! How sure the options of `size` are: the same draws for each of the best few, with the
//! rests that heat asks for.

use super::against::Against;
use super::charge::{PieceSpread, Timetable, piece_spread};
use super::outcomes::Outcomes;
use super::sample::Inputs;
use super::sampling::Sampling;
use crate::advice::case::Case;
use crate::advice::cores::on_all_cores;
use crate::advice::cycle::Cycled;
use crate::advice::error::AdviceError;
use crate::advice::pieces::{Session, pieces};
use crate::advice::verdict::Chances;

/// How many of the best options are drawn.
pub const DRAWN: usize = 5;

/// How sure an option is.
#[derive(Debug, Clone, PartialEq)]
pub struct OptionSpread {
    /// What came of the draws.
    pub outcomes: Outcomes,
    /// Pieces of a charge; none where the job asks for no number of them, and without cells.
    pub pieces: Option<PieceSpread>,
}

/// What an option gets of the draws: several are drawn, to be told apart rather than measured.
const SHARE: usize = 4;
/// Times the pieces asked for up to which a session is followed.
const TIMES_ASKED: usize = 2;

/// How often a case breaks each of its limits, with rests where there are any; nothing where
/// no current flows.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn chances(
    case: &Case,
    rest: Option<&Cycled>,
    sampling: Sampling,
) -> Result<Option<Chances>, AdviceError> {
    if case.run.charge_c <= 0.0 {
        return Ok(None);
    }
    let stop_s = rest.map_or(case.run.time_s, |r| r.elapsed_s);
    let against = Against { case, stop_s, meter_s: None };
    let inputs = Inputs::of(case.job, &case.source);
    let sample = inputs.sample(sampling.draws, sampling.seed);
    let broke = on_all_cores(&sample, |draw| match rest {
        None => against.follow(&inputs, draw, None).map(|f| f.draw.broke),
        Some(rest) => against.follow_cycle(&inputs, draw, rest.cycle).map(|f| f.draw.broke),
    })?;
    Ok(Some(Chances::of(&broke)))
}

/// Draws one option that does the job, with its rests.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn option_spread(
    case: &Case,
    rest: Option<&Cycled>,
    sampling: Sampling,
) -> Result<OptionSpread, AdviceError> {
    let sampling = Sampling { draws: sampling.draws.div_ceil(SHARE), ..sampling };
    let stop_s = rest.map_or(case.run.time_s, |r| r.elapsed_s);
    let against = Against { case, stop_s, meter_s: None };
    let inputs = Inputs::of(case.job, &case.source);
    let sample = inputs.sample(sampling.draws, sampling.seed);
    let followed = on_all_cores(&sample, |draw| match rest {
        None => against.follow(&inputs, draw, None),
        Some(rest) => against.follow_cycle(&inputs, draw, rest.cycle),
    })?;
    let cells = case.setup.cells().is_some();
    let pieces = case
        .job
        .limits
        .pieces_per_charge
        .filter(|_| cells)
        .map(|asked| {
            let most = TIMES_ASKED * asked as usize;
            let session = Session { most, ..Session::of(case.job) };
            let nominal = pieces(&case.setup, &case.warmth(), &session, rest.map(|r| r.cycle))?;
            piece_spread(case, &Timetable::of(&nominal, &session), sampling)
        })
        .transpose()?;
    let outcomes = Outcomes::of(&followed, &case.setup, (&inputs, &sample), sampling);
    Ok(OptionSpread { outcomes, pieces })
}
