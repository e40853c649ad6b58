//! How sure the options of `size` are: the same draws for each of the best few, with the
//! rests that heat asks for.

use super::charge::{PieceSpread, Timetable, piece_spread};
use super::sample::{Inputs, latin_hypercube};
use super::{Against, Outcomes, Sampling};
use crate::advice::AdviceError;
use crate::advice::cores::on_all_cores;
use crate::advice::limits::Bounds;
use crate::advice::pieces::{Session, pieces};
use crate::advice::size::{Judged, warmth};
use crate::job::Job;
use crate::stock::Stock;

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

/// Draws one option that does the job.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn option_spread(
    job: &Job,
    stock: &Stock,
    option: &Judged,
    sampling: Sampling,
) -> Result<OptionSpread, AdviceError> {
    let sampling = Sampling { draws: sampling.draws.div_ceil(SHARE), ..sampling };
    let (setup, source) = (&option.setup, &option.source);
    let limits = warmth(setup, &Bounds::of(job, source, stock));
    let against = Against { job, source, stock, limits, stop_s: option.elapsed_s() };
    let inputs = Inputs::of(job, source);
    let points = latin_hypercube(sampling.draws, inputs.list.len(), sampling.seed);
    let followed = on_all_cores(&points, |point| match &option.rest {
        None => against.follow(&inputs, point, None),
        Some(rest) => against.follow_cycle(&inputs, point, rest.cycle),
    })?;
    let cells = setup.source.pack().is_some();
    let cycle = option.rest.map(|rest| rest.cycle);
    let pieces = job
        .limits
        .pieces_per_charge
        .filter(|_| cells)
        .map(|asked| {
            let most = TIMES_ASKED * asked as usize;
            let session = Session { most, ..Session::of(job) };
            let timetable = Timetable::of(&pieces(setup, &limits, &session, cycle)?, &session);
            piece_spread(job, source, stock, &timetable, sampling)
        })
        .transpose()?;
    Ok(OptionSpread { outcomes: Outcomes::of(&followed, setup, sampling), pieces })
}
