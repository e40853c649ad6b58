//! One source against the job: its run, with rests where heat asks for them, every limit
//! that it breaks, and how much it leaves in hand on the others.

use super::reasons::Reason;
use crate::advice::case::Case;
use crate::advice::cycle::{Cycled, soonest};
use crate::advice::error::AdviceError;
use crate::advice::findings::End;
use crate::advice::held::{Held, broken, held, in_hand};
use crate::advice::limit::Limit;
use crate::advice::pieces::{Session, pieces};
use crate::advice::settled::near;
use crate::advice::spread::Sampling;
use crate::advice::spread::options::{OptionSpread, chances};
use crate::advice::verdict::{Chances, Verdict};
use crate::job::{Job, Source};
use crate::laws::constants::FARADAY;
use crate::laws::film::Stirring;
use crate::run::{Stop, Trace};
use crate::stock::Stock;

/// How much of a limit must be left in hand to count as enough: a fifth.
pub const ENOUGH: f64 = 1.2;

/// How finely sources are drawn to be told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Looked {
    /// Draws where a firm limit is near.
    pub near: usize,
    /// Draws where none is.
    pub far: usize,
    /// Seed.
    pub seed: u64,
}

/// A source that was judged.
#[derive(Debug, Clone)]
pub struct Judged<'a> {
    /// The source with the job, and its run without a rest.
    pub case: Case<'a>,
    /// The rests that save it, where heat asks for them.
    pub rest: Option<Cycled>,
    /// Every limit that bears on it, with those rests.
    pub held: Vec<Held>,
    /// Firm limits that the nominal run breaks; empty where it breaks none.
    pub reasons: Vec<Reason>,
    /// How often each limit is broken, where it was drawn.
    pub chances: Option<Chances>,
    /// How sure it is, where it was drawn for its own sake and not to tell it from others.
    pub spread: Option<OptionSpread>,
    /// Place among those that pass, from 1.
    pub rank: Option<u32>,
    /// Whether the studio owns it.
    pub owned: bool,
    /// Lower comes first among supplies: the setting worked out before the others.
    pub preference: u8,
    /// Runs of the simulation that this took, a cycle's trials counted as one each.
    pub runs: u32,
}

impl Judged<'_> {
    /// The verdict on it.
    pub fn verdict(&self) -> Verdict {
        Verdict::of(&self.held, self.chances.clone())
    }

    /// The verdict, were these its chances.
    pub(super) fn would(&self, chances: Chances) -> Verdict {
        Verdict::of(&self.held, Some(chances))
    }

    /// The verdict on the run without a rest; `trace` tells when the first limit is reached.
    pub fn in_one_go(&self, trace: &Trace) -> Verdict {
        let list = held(&self.case, None);
        Verdict::of(&list, self.chances.clone()).when(&list, &self.case, trace)
    }

    /// Takes in how often each limit is broken. What fails more often than not does not do it,
    /// whatever the nominal run says.
    pub fn heed(&mut self, chances: Chances) {
        self.reasons.retain(|reason| !matches!(reason, Reason::Mostly { .. }));
        let share = chances.firm;
        self.chances = Some(chances);
        let verdict = self.verdict();
        if let Some(limit) = verdict.decides.filter(|_| self.feasible() && !verdict.done()) {
            self.reasons.push(Reason::Mostly { limit, share });
        }
    }

    /// Draws it to tell it from others: finely where a firm limit is near, coarsely where none
    /// is.
    ///
    /// # Errors
    /// When stock lacks a number or a run cannot be worked out.
    pub fn draw(&mut self, looked: Looked) -> Result<(), AdviceError> {
        let near = near(&self.held) && self.rest.is_none();
        let draws = if near { looked.near } else { looked.far };
        let sampling = Sampling { draws, seed: looked.seed };
        if let Some(chances) = chances(&self.case, self.rest.as_ref(), sampling)? {
            self.heed(chances);
        }
        Ok(())
    }

    /// Whether it does the job: the nominal run breaks no firm limit, nor do most draws where it
    /// was drawn.
    pub fn feasible(&self) -> bool {
        self.reasons.is_empty()
    }

    /// How far it is from passing: the worst limit that it breaks, as a ratio over one.
    pub fn shortfall(&self) -> f64 {
        self.reasons.iter().map(Reason::excess).fold(1.0, f64::max)
    }

    /// What is in hand of each limit, the least first.
    pub fn in_hand(&self) -> Vec<(Limit, f64)> {
        in_hand(&self.held)
    }

    /// Cells that it takes.
    pub fn cells(&self) -> u32 {
        match &self.case.source {
            Source::Pack(p) => p.series.is * p.parallel,
            _ => 0,
        }
    }

    /// Time to depth, rests and all, s.
    pub fn elapsed_s(&self) -> f64 {
        self.rest.map_or(self.case.run.time_s, |r| r.elapsed_s)
    }
}

/// Judges one source.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn judge<'a>(
    job: &'a Job,
    source: &Source,
    stock: &'a Stock,
) -> Result<Judged<'a>, AdviceError> {
    judge_case(Case::of(job, source, stock)?)
}

/// Judges a case.
///
/// # Errors
/// When a run cannot be worked out.
pub fn judge_case(case: Case) -> Result<Judged, AdviceError> {
    let held = held(&case, None);
    let decisive = broken(&held).filter(|row| row.limit.level().is_some() && row.limit.firm());
    let mut judged = Judged {
        reasons: decisive.cloned().map(Reason::Over).collect(),
        held,
        rest: None,
        chances: None,
        spread: None,
        rank: None,
        owned: false,
        preference: 0,
        runs: 1,
        case,
    };
    depth_and_heat(&mut judged)?;
    if judged.feasible() {
        enough_pieces(&mut judged)?;
    }
    Ok(judged)
}

/// Depth in the time, with rests where heat asks for them.
fn depth_and_heat(judged: &mut Judged) -> Result<(), AdviceError> {
    let stop = judged.case.run.stop;
    if stop != Stop::Depth && stop != Stop::Hot {
        judged.reasons.extend(End::of(&judged.case).map(Reason::Ends));
        return Ok(());
    }
    let hot = |row: &&Held| matches!(row.limit, Limit::Hot | Limit::OwnTouch);
    // The core speaks before the skin.
    let Some(row) = broken(&judged.held).find(hot).cloned() else {
        return Ok(());
    };
    // What fails for its current needs no rests worked out.
    let tried = judged.feasible();
    if tried {
        judged.runs += 1;
        judged.rest = soonest(&judged.case.setup, &judged.case.warmth())?;
    }
    match &judged.rest {
        Some(rest) => judged.held = held(&judged.case, Some(rest)),
        None => judged.reasons.push(Reason::Warm { held: row, tried }),
    }
    Ok(())
}

fn enough_pieces(judged: &mut Judged) -> Result<(), AdviceError> {
    let case = &judged.case;
    let Some(asked) = case.job.limits.pieces_per_charge else {
        return Ok(());
    };
    if case.setup.cells().is_none() {
        return Ok(());
    }
    let session = Session { most: asked as usize, ..Session::default() };
    let cycle = judged.rest.map(|rest| rest.cycle);
    let got = pieces(&case.setup, &case.warmth(), &session, cycle)?;
    judged.runs += got.each.len() as u32;
    if got.count() < asked as usize {
        judged.reasons.push(Reason::Pieces { pieces: got.count(), asked });
    }
    Ok(())
}

/// Current that the piece may bear, A: the resist's and the user's limit of its density, and
/// what a salt film leaves.
pub fn current_borne(case: &Case) -> f64 {
    // The salt film's: what the surface may gain over the bulk, carried off by the film.
    let bath = &case.setup.bath;
    let a = &bath.anode;
    let bulk = bath.plating[bath.anode_index].c0;
    let at = a.film.at(bath.transfer_beta, bath.temperature_k);
    let film = bath.solubility.filter(|_| !case.bounds.sheds).map_or(f64::INFINITY, |film| {
        let dc = (film - bulk).max(0.0);
        dc * at.to_pan(Stirring::by(dc)) * a.n * FARADAY / a.charge_share
    });
    case.setup.piece.exposed_area * case.bounds.density().min(0.98 * film)
}
