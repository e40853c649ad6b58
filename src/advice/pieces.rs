//! Piece after piece from one charge: run, rest, run, until the pack cannot bring the next
//! piece to depth.

use super::cycle::{self, Cycle, Warmth};
use super::shortest::{LONGEST_REST_MIN, shortest};
use crate::job::Job;
use crate::run::{Bench, METALS, Precision, RunError, Setup, Stop, Wells};
use crate::units::Quantity;

/// How the session goes between pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Session {
    /// Time at the bench between two pieces, s.
    pub bench_s: f64,
    /// Whether each piece gets a fresh bath.
    pub fresh_bath: bool,
    /// Most pieces to follow.
    pub most: usize,
    /// Whether the cells are charged or changed before each piece, as for counting what a
    /// bath gives.
    pub fresh_cells: bool,
    /// Share of the others' charge that the weakest cell holds, followed where given.
    pub weakest: Option<f64>,
}

impl Session {
    /// As the job has it.
    pub fn of(job: &Job) -> Self {
        let session = &job.session;
        let (bench_s, fresh_bath) = (session.bench_time.si(), session.fresh_bath);
        Self { bench_s, fresh_bath, ..Self::default() }
    }
}

impl Default for Session {
    fn default() -> Self {
        Self {
            bench_s: crate::job::rest::DEFAULT_BENCH_S,
            fresh_bath: false,
            most: 500,
            fresh_cells: false,
            weakest: None,
        }
    }
}

/// One piece of a session.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceRun {
    /// When its current first went on, s.
    pub start_s: f64,
    /// How long it took, rests in it and all, s.
    pub time_s: f64,
    /// Why it ended.
    pub stop: Stop,
    /// Depth reached, m.
    pub depth_m: f64,
    /// Terminal voltage at its end, V.
    pub end_source_v: f64,
    /// The wells at its end; none without cells.
    pub wells: Option<Wells>,
    /// Hottest spot and surface during it, K; none without cells.
    pub peak: Option<(f64, f64)>,
    /// Dissolved plating metals at its end, mol/m3, in the setup's order.
    pub metals: [f64; METALS],
    /// Silver on the pan by its end, since the first piece, mol: loose, and held.
    pub pan_silver: (f64, f64),
    /// Whether the weakest cell had been driven empty, and so backwards, by its end.
    pub weakest_empty: bool,
}

/// A charge's worth of pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieces {
    /// Every piece, the last one being the first that failed, if one did.
    pub each: Vec<PieceRun>,
    /// The cycle within a piece, where heat asks for one.
    pub cycle: Option<Cycle>,
}

impl Pieces {
    /// How many came to depth.
    pub fn count(&self) -> usize {
        self.each.iter().filter(|p| p.stop == Stop::Depth).count()
    }

    /// Whether the last one failed, so that no more would follow.
    pub fn ended(&self) -> bool {
        self.each.last().is_some_and(|p| p.stop != Stop::Depth)
    }
}

/// Follows a session, each piece with a cycle or in one go.
///
/// # Errors
/// When a run cannot be worked out.
pub fn pieces(
    setup: &Setup,
    limits: &Warmth,
    session: &Session,
    cycle: Option<Cycle>,
) -> Result<Pieces, RunError> {
    let mut bench = Bench::new(setup, Precision::COARSE);
    if let Some(holds) = session.weakest {
        bench = bench.with_a_weak_cell(holds);
    }
    let mut each: Vec<PieceRun> = Vec::new();
    while each.len() < session.most {
        let etched = if each.is_empty() {
            etch(&mut bench, setup, cycle)?
        } else {
            bench.next_piece(session.fresh_bath);
            if session.fresh_cells {
                bench.fresh_cells();
            }
            after_a_rest(&mut bench, setup, limits, session, cycle)?
        };
        each.push(etched);
        if etched.stop != Stop::Depth {
            break;
        }
    }
    Ok(Pieces { each, cycle })
}

/// Etches the piece that hangs, with a cycle or in one go.
fn etch(bench: &mut Bench, setup: &Setup, cycle: Option<Cycle>) -> Result<PieceRun, RunError> {
    let start_s = bench.time_s();
    bench.take_peaks();
    let (stop, _) = cycle::etch(bench, setup, cycle.unwrap_or(Cycle::ONE_GO))?;
    let cells = setup.cells().is_some();
    Ok(PieceRun {
        start_s,
        time_s: bench.time_s() - start_s,
        stop,
        depth_m: bench.depth_m(),
        end_source_v: bench.last_source_v(),
        wells: bench.wells(),
        peak: cells.then(|| bench.take_peaks()),
        metals: bench.metals(),
        pan_silver: bench.pan_silver_mol(),
        weakest_empty: bench.weak_cell_empty_at().is_some(),
    })
}

/// Etches the next piece after the bench time, or the rest that it needs to stay cool,
/// whichever is longer.
fn after_a_rest<'a>(
    bench: &mut Bench<'a>,
    setup: &Setup,
    limits: &Warmth,
    session: &Session,
    cycle: Option<Cycle>,
) -> Result<PieceRun, RunError> {
    let attempt = |rest_s: f64| -> Result<(Bench<'a>, PieceRun), RunError> {
        let mut trial = bench.clone();
        trial.off(rest_s)?;
        let etched = etch(&mut trial, setup, cycle)?;
        Ok((trial, etched))
    };
    let warm = |p: &PieceRun| p.stop == Stop::Hot || p.peak.is_some_and(|k| !limits.holds(k));
    let mut done = attempt(session.bench_s)?;
    if warm(&done.1) {
        let longer = (session.bench_s / 60.0) as i64 + 1..=LONGEST_REST_MIN;
        let cool = |rest_s| attempt(rest_s).map(|a| Some(a).filter(|a| !warm(&a.1)));
        done = shortest(longer, cool)?.map_or(done, |(_, rested)| rested);
    }
    *bench = done.0;
    Ok(done.1)
}
