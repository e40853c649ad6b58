//! How sure the options of `size` are: the same draws for each of the best few, with the
//! rests that heat asks for.

use super::charge::{PieceSpread, Timetable, piece_spread};
use super::quantile::{Chance, Quantiles};
use super::sample::{Inputs, latin_hypercube};
use super::{Against, Sampling};
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
    /// How it was drawn.
    pub sampling: Sampling,
    /// Time to depth, rests and all, s; those that do not come to depth count as endless.
    pub time_s: Quantiles,
    /// Depth when it is stopped at the nominal time, m.
    pub depth_m: Quantiles,
    /// Hottest spot, K; none without cells.
    pub hot_spot_k: Option<Quantiles>,
    /// Chance of eating into the floor, when it is stopped at the nominal time.
    pub through: Chance,
    /// Chance of not coming to depth within the time limit, or at all.
    pub unfinished: Chance,
    /// Chance of passing a limit of warmth.
    pub hot: Chance,
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
    let draws = || followed.iter().map(|f| &f.draw);
    let cells = setup.source.pack().is_some();
    let bottom = setup.piece.thickness - setup.piece.floor.unwrap_or(0.0);
    let pieces = job
        .limits
        .pieces_per_charge
        .filter(|_| cells)
        .map(|asked| {
            let most = TIMES_ASKED * asked as usize;
            let session = Session { most, ..Session::of(job) };
            let timetable = Timetable::of(&pieces(setup, &limits, &session)?, &session);
            piece_spread(job, source, stock, &timetable, sampling)
        })
        .transpose()?;
    Ok(OptionSpread {
        sampling,
        time_s: Quantiles::of(draws().map(|d| d.time_s)),
        depth_m: Quantiles::of(followed.iter().map(|f| f.depth_m)),
        hot_spot_k: cells.then(|| Quantiles::of(draws().map(|d| d.hot_spot_k))),
        through: Chance::of(followed.iter().map(|f| f.depth_m > bottom)),
        unfinished: Chance::of(draws().map(|d| d.time_s.is_infinite())),
        hot: Chance::of(draws().map(|d| d.hot)),
        pieces,
    })
}
