//! One source against the job: its run, with rests where heat asks for them, every limit
//! that it breaks, and how much it leaves in hand on the others.

use super::reasons::Reason;
use crate::advice::AdviceError;
use crate::advice::cycle::{Cycled, Warmth, soonest};
use crate::advice::findings::{leads_rise, wire_that_does};
use crate::advice::limits::Bounds;
use crate::advice::pieces::{Session, pieces};
use crate::advice::spread::options::OptionSpread;
use crate::job::resolve::{Factors, resolve};
use crate::job::{Job, Source};
use crate::run::{Precision, Run, Setup, Stop, run};
use crate::stock::Stock;
use crate::units::Quantity;

/// How much of a limit must be left in hand to count as enough: a fifth.
pub const ENOUGH: f64 = 1.2;

/// A source that was judged.
#[derive(Debug, Clone)]
pub struct Judged {
    /// The source.
    pub source: Source,
    /// Every number used.
    pub setup: Setup,
    /// Its run without a rest.
    pub run: Run,
    /// The rests that save it, where heat asks for them.
    pub rest: Option<Cycled>,
    /// Why it does not do; empty when it does.
    pub reasons: Vec<Reason>,
    /// What is in hand, the least first.
    pub margins: Vec<Margin>,
    /// Place among those that pass, from 1.
    pub rank: Option<u32>,
    /// Lower comes first among supplies: the setting worked out before the others.
    pub preference: u8,
    /// How sure it is, for the best few; none where it was not asked for.
    pub spread: Option<OptionSpread>,
    /// Runs of the simulation that this took, a cycle's trials counted as one each.
    pub runs: u32,
}

/// How far off one limit is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// Which limit.
    pub of: &'static str,
    /// The limit over the value; over one is in hand.
    pub times: f64,
}

impl Judged {
    /// Whether it does the job.
    pub fn feasible(&self) -> bool {
        self.reasons.is_empty()
    }

    /// How far it is from passing: the worst limit that it breaks, as a ratio over one.
    pub fn shortfall(&self) -> f64 {
        self.reasons.iter().map(Reason::excess).fold(1.0, f64::max)
    }

    /// Whether it leaves a fifth in hand on every limit.
    pub fn enough(&self) -> bool {
        self.margins.iter().all(|m| m.times >= ENOUGH)
    }

    /// Cells that it takes.
    pub fn cells(&self) -> u32 {
        match &self.source {
            Source::Pack(p) => p.series.is * p.parallel,
            _ => 0,
        }
    }

    /// Time to depth, rests and all, s.
    pub fn elapsed_s(&self) -> f64 {
        self.rest.map_or(self.run.time_s, |r| r.elapsed_s)
    }
}

/// Judges one source.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn judge(job: &Job, source: &Source, stock: &Stock) -> Result<Judged, AdviceError> {
    let setup = resolve(job, source, stock, &Factors::default())?;
    let run = run(&setup, Precision::default())?;
    let bounds = Bounds::of(job, source, stock);
    let mut judged = Judged {
        source: source.clone(),
        reasons: current_reasons(job, stock, &setup, &run, &bounds),
        margins: Vec::new(),
        setup,
        run,
        rest: None,
        rank: None,
        preference: 0,
        spread: None,
        runs: 1,
    };
    depth_and_heat(&mut judged, &bounds)?;
    if judged.feasible() {
        enough_pieces(&mut judged, job, &bounds)?;
    }
    judged.margins = margins(&judged, &bounds);
    Ok(judged)
}

/// Limits of the current, which no rest mends.
fn current_reasons(
    job: &Job,
    stock: &Stock,
    setup: &Setup,
    run: &Run,
    bounds: &Bounds,
) -> Vec<Reason> {
    let mut list = Vec::new();
    let density = run.extremes.current_a / setup.piece.exposed_area;
    if density > bounds.resist_density {
        list.push(Reason::ResistDensity { density, bears: bounds.resist_density });
    }
    if let Some(limit) = bounds.own_density.filter(|l| density > *l) {
        list.push(Reason::OwnDensity { density, limit });
    }
    if let (Some(bears), Some(pack)) = (bounds.cell_current, setup.source.pack()) {
        let current = run.extremes.current_a / pack.parallel;
        if current > bears {
            let cell = bounds.cell.clone().unwrap_or_default();
            list.push(Reason::CellCurrent { current, bears, cell });
        }
    }
    let surface = run.extremes.surface_mol_per_m3;
    if let Some(film) = bounds.film.filter(|film| surface > *film) {
        list.push(Reason::SaltFilm { surface, film });
    }
    let bath = run.extremes.bath_k;
    if bath > bounds.resist_k {
        list.push(Reason::BathTooWarm { bath, bears: bounds.resist_k });
    }
    let limit = bounds.leads_rise;
    if let Some(rise) = leads_rise(job, stock, setup, run).filter(|rise| *rise > limit) {
        let needs = wire_that_does(stock, setup, run, limit);
        list.push(Reason::LeadsTooWarm { rise, limit, needs });
    }
    if run.extremes.cell_v < 0.0 {
        list.push(Reason::Reversed { volts: run.extremes.cell_v });
    }
    list
}

/// Depth in the time, with rests where heat asks for them.
fn depth_and_heat(judged: &mut Judged, bounds: &Bounds) -> Result<(), AdviceError> {
    let run = &judged.run;
    let limits = warmth(&judged.setup, bounds);
    let peaks = run.peak_hot_spot_k.zip(run.peak_surface_k);
    let warm = run.stop == Stop::Hot || peaks.is_some_and(|p| !limits.holds(p));
    if run.stop != Stop::Depth && run.stop != Stop::Hot {
        judged.reasons.push(not_reached(judged));
        return Ok(());
    }
    if !warm {
        return Ok(());
    }
    // What fails for its current needs no rests worked out.
    if judged.feasible() {
        judged.runs += 1;
        judged.rest = soonest(&judged.setup, &limits)?;
    }
    if judged.rest.is_none() {
        let (hot, surface) = peaks.unwrap_or_default();
        judged.reasons.push(if judged.run.stop == Stop::Hot {
            Reason::TooHot { hot_spot: hot, limit: limits.hot_spot_k }
        } else {
            Reason::TooHotToTouch { surface, limit: limits.surface_k }
        });
    }
    Ok(())
}

fn not_reached(judged: &Judged) -> Reason {
    Reason::NotReached {
        stop: judged.run.stop,
        depth: judged.run.depth_m,
        target: judged.setup.piece.depth,
        time: judged.run.time_s,
    }
}

/// The temperatures that cells must stay under.
pub fn warmth(setup: &Setup, bounds: &Bounds) -> Warmth {
    Warmth {
        hot_spot_k: setup.source.pack().map_or(f64::INFINITY, |p| p.temperature_limit_k),
        surface_k: bounds.touch_k,
    }
}

fn enough_pieces(judged: &mut Judged, job: &Job, bounds: &Bounds) -> Result<(), AdviceError> {
    let Some(asked) = job.limits.pieces_per_charge else {
        return Ok(());
    };
    if judged.setup.source.pack().is_none() {
        return Ok(());
    }
    let session = Session { most: asked as usize, ..Session::default() };
    let cycle = judged.rest.map(|rest| rest.cycle);
    let got = pieces(&judged.setup, &warmth(&judged.setup, bounds), &session, cycle)?;
    judged.runs += got.each.len() as u32;
    if got.count() < asked as usize {
        judged.reasons.push(Reason::Pieces { pieces: got.count(), asked });
    }
    Ok(())
}

fn margins(judged: &Judged, bounds: &Bounds) -> Vec<Margin> {
    let (setup, run) = (&judged.setup, &judged.run);
    let mut list = Vec::new();
    let mut put = |of: &'static str, limit: f64, value: f64| {
        if value > 0.0 && limit.is_finite() {
            list.push(Margin { of, times: limit / value });
        }
    };
    put("time", setup.time_limit_s, judged.elapsed_s());
    let density = run.extremes.current_a / setup.piece.exposed_area;
    put("the resist's current density", bounds.resist_density, density);
    put("your current density", bounds.own_density.unwrap_or(f64::INFINITY), density);
    if let Some(pack) = setup.source.pack() {
        let each = run.extremes.current_a / pack.parallel;
        put("the cell's current", bounds.cell_current.unwrap_or(f64::INFINITY), each);
        // With rests the cycle itself holds the limit; there the session's peak counts.
        let (hot, surface) = match judged.rest {
            Some(rest) => rest.session_peak.unwrap_or(rest.peak),
            None => run.peak_hot_spot_k.zip(run.peak_surface_k).unwrap_or_default(),
        };
        let ambient = setup.ambient_k;
        let over = |k: f64| k - ambient;
        put("the cell's heat", over(pack.temperature_limit_k), over(hot));
        put("heat to the touch", over(bounds.touch_k), over(surface));
        if let Some(wells) = run.wells_end {
            put("charge", pack.charge_left, pack.charge_left - wells.available);
        }
    }
    list.sort_by(|a, b| a.times.total_cmp(&b.times));
    list
}

/// Current that the piece may bear, A: the resist's and the user's limit of its density.
pub fn current_borne(setup: &Setup, bounds: &Bounds, job: &Job) -> f64 {
    let own = job.limits.current_density.map_or(f64::INFINITY, Quantity::si);
    // The salt film's: what the surface may gain over the bulk, carried off by the film.
    let a = &setup.bath.anode;
    let bulk = setup.bath.plating[setup.bath.anode_index].c0;
    let film = bounds.film.map_or(f64::INFINITY, |film| {
        ((film - bulk) * a.n * crate::laws::constants::FARADAY * a.mass_transfer).max(0.0)
    });
    setup.piece.exposed_area * bounds.resist_density.min(own).min(0.98 * film)
}
