//! How many pieces a charge gives, how many a bath gives, and where the silver goes.

use super::case::Case;
use super::cycle::{Cycle, Warmth};
use super::error::AdviceError;
use super::pieces::{PieceRun, Pieces, Session, pieces};
use super::spread::Sampling;
use super::spread::charge::{PieceSpread, Timetable, piece_spread};
use crate::job::Source;
use crate::run::{RunError, Setup, Stop};
use crate::units::Quantity;

/// A charge, followed to its end.
#[derive(Debug, Clone)]
pub struct Charge {
    /// Piece after piece, the last one being the first that fails.
    pub pieces: Pieces,
    /// How sure their number is; none without cells.
    pub spread: Option<PieceSpread>,
    /// Pieces before the weakest cell of a string is driven backwards; none where there is
    /// no string, and where that was not met in the pieces followed.
    pub before_reversal: Option<usize>,
    /// Share of the others' charge that the weakest cell is taken to hold.
    pub weakest_holds: f64,
    /// Recharge times at 0.1 and 0.5 It; none for primary cells.
    pub recharge_s: Option<(f64, f64)>,
    /// What the bath gives.
    pub bath: BathLife,
    /// Price of a gram of silver, where the job gives one.
    pub silver_price: Option<f64>,
}

/// How many pieces a bath gives, cells being fresh for each, and where the silver is then.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BathLife {
    /// Pieces before it is spent, or that were followed where it goes on.
    pub pieces: usize,
    /// Why it is.
    pub end: BathEnd,
    /// Silver loose on the pan, kg.
    pub sludge_silver_kg: f64,
    /// Silver held on the pan, kg.
    pub pan_silver_kg: f64,
    /// Silver in solution, kg.
    pub solution_silver_kg: f64,
}

/// Why a bath is spent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum BathEnd {
    /// Copper is down to half of what it was made with.
    CopperSpent,
    /// Dissolved silver has built up to a fifth of a mole a litre.
    SilverUp,
    /// A piece no longer comes to depth in it, with fresh cells.
    Fails,
    /// It goes on beyond what was followed.
    GoesOn,
}

/// Share of its copper at which a bath counts as spent (judgement: by then the pan sees
/// mostly the piece's own metal).
pub const COPPER_SPENT: f64 = 0.5;
/// Dissolved silver at which it counts as built up, mol/m3 (judgement: some 20 g/L, worth
/// winning back, and falling on the pan as loose crystals).
pub const SILVER_UP: f64 = 200.0;
/// Standard deviations by which the weakest cell of a string is taken to be low.
const WEAK_SDS: f64 = 2.0;
const MOST_FROM_A_BATH: usize = 100;

/// Follows a charge and a bath to their ends, each piece with a cycle or in one go, and draws
/// how sure the number of pieces is; nothing is drawn without cells.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn charge(
    case: &Case,
    cycle: Option<Cycle>,
    sampling: Sampling,
) -> Result<Charge, AdviceError> {
    let (job, setup, limits) = (case.job, &case.setup, case.warmth());
    let weakest_holds = match &case.source {
        Source::Pack(p) => (1.0 - WEAK_SDS * p.cell.capacity_spread.is.si()).max(0.1),
        _ => 1.0,
    };
    // Of several sources each is used for its part: no one cell is the weakest of all.
    let one = setup.then.is_none();
    let session = Session { weakest: one.then_some(weakest_holds), ..Session::of(job) };
    let pieces = pieces(setup, &limits, &session, cycle)?;
    let string = one && setup.cells().is_some_and(|p| p.series > 1.0);
    let no_longer = |p: &PieceRun| p.stop != Stop::Depth || p.weakest_empty;
    let before_reversal = if string { pieces.each.iter().position(no_longer) } else { None };
    let recharge_s = match &case.source {
        Source::Pack(p) if p.cell.rechargeable && one => {
            let left = pieces.each.last().and_then(|e| e.wells).map_or(1.0, |w| w.total);
            let taken = p.charge_left.si() - left;
            Some((taken / 0.1 * 3600.0, taken / 0.5 * 3600.0))
        }
        _ => None,
    };
    let spread = match setup.cells() {
        Some(_) => {
            let timetable = Timetable::of(&pieces, &Session::of(job));
            Some(piece_spread(case, &timetable, sampling)?)
        }
        None => None,
    };
    let bath = bath_life(setup, &limits, &session, cycle)?;
    let silver_price = job.session.silver_price;
    Ok(Charge { pieces, spread, before_reversal, weakest_holds, recharge_s, bath, silver_price })
}

/// Piece after piece in the same bath, with fresh cells for each.
fn bath_life(
    setup: &Setup,
    limits: &Warmth,
    session: &Session,
    cycle: Option<Cycle>,
) -> Result<BathLife, RunError> {
    let session = Session {
        fresh_bath: false,
        fresh_cells: true,
        weakest: None,
        most: MOST_FROM_A_BATH,
        ..*session
    };
    let run = pieces(setup, limits, &session, cycle)?;
    let index = |symbol: &str| setup.bath.plating.iter().position(|m| m.symbol == symbol);
    let (copper, silver) = (index("Cu"), index("Ag"));
    let copper0 = copper.map_or(0.0, |k| setup.bath.plating[k].c0);
    let at = |p: &PieceRun, k: Option<usize>| k.map_or(0.0, |k| p.metals[k]);
    let end_after = |p: &PieceRun| {
        if p.stop != Stop::Depth {
            Some(BathEnd::Fails)
        } else if copper0 > 0.0 && at(p, copper) < COPPER_SPENT * copper0 {
            Some(BathEnd::CopperSpent)
        } else if at(p, silver) > SILVER_UP {
            Some(BathEnd::SilverUp)
        } else {
            None
        }
    };
    let found = run.each.iter().position(|p| end_after(p).is_some());
    let end = found.and_then(|n| end_after(&run.each[n])).unwrap_or(BathEnd::GoesOn);
    // The piece that spends it still counts; one that fails in it does not.
    let last = match (found, end) {
        (Some(n), BathEnd::Fails) => n,
        (Some(n), _) => n + 1,
        (None, _) => run.each.len(),
    };
    let molar_mass = silver.map_or(0.0, |k| setup.bath.plating[k].molar_mass);
    let before = silver.map_or(0.0, |k| setup.bath.plating[k].c0);
    let gone = last.checked_sub(1).and_then(|n| run.each.get(n));
    let (loose, held) = gone.map_or((0.0, 0.0), |p| p.pan_silver);
    let dissolved = gone.map_or(before, |p| at(p, silver));
    Ok(BathLife {
        pieces: last,
        end,
        sludge_silver_kg: molar_mass * loose,
        pan_silver_kg: molar_mass * held,
        solution_silver_kg: molar_mass * dissolved * setup.bath.volume,
    })
}
