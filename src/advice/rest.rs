//! Rests: for this piece and for a whole session, how long to cool, what a rest gives back.

use super::cycle::{Cycle, Cycled, Warmth, etch, session_peak, soonest, this_run};
use super::shortest::{LONGEST_REST_MIN, shortest};
use crate::run::{Bench, Precision, Run, RunError, Setup, Stop};

/// Advice on rests.
#[derive(Debug, Clone)]
pub struct Rests {
    /// Temperatures to stay under.
    pub limits: Warmth,
    /// Whether the piece, etched in one go from room temperature, passes a limit.
    pub piece_needs: bool,
    /// Hottest spot and surface when the current never goes off, in the long run, K.
    pub running_on: (f64, f64),
    /// The cycle to take; none when no cycle does it.
    pub best: Option<Cycled>,
    /// Rest before the next piece, s; none where not even the longest keeps that one cool.
    pub cool_down_s: Option<f64>,
    /// Time until the cells are cool enough to pack away, s; none where they are not within a
    /// day.
    pub pack_away_s: Option<f64>,
    /// Open-circuit voltage of the pack when the current goes off, and after the rest before
    /// the next piece, V.
    pub recovery_v: (f64, f64),
}

/// One cycle of the table.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// The cycle and what it comes to, its session's peaks too.
    pub cycled: Cycled,
    /// Whether it stays under every limit and comes to depth.
    pub within: bool,
}

/// Cells count as cool when they are this near to the air, K.
pub const COOL_K: f64 = 5.0;
/// As long as cells are watched while they cool, s.
pub const LONGEST_WAIT_S: f64 = 86_400.0;

/// Works the rests out; none without cells. `run` is the piece in one go,
/// `found` the soonest cycle where it is known.
///
/// # Errors
/// When a run cannot be worked out.
pub fn rests(
    setup: &Setup,
    limits: &Warmth,
    run: &Run,
    found: Option<Cycled>,
) -> Result<Option<Rests>, RunError> {
    if setup.cells().is_none() {
        return Ok(None);
    }
    let best = if found.is_some() { found } else { soonest(setup, limits)? };
    let mut rests = Rests {
        limits: *limits,
        piece_needs: limits.passed_by(run),
        running_on: session_peak(setup, Cycle { on_s: 600.0, off_s: 0.0 })?,
        best,
        cool_down_s: None,
        pack_away_s: None,
        recovery_v: (0.0, 0.0),
    };
    rests.after_the_piece(setup)?;
    Ok(Some(rests))
}

impl Rests {
    /// Whether running on and on would stay under every limit.
    pub fn never_needed(&self) -> bool {
        self.limits.holds(self.running_on)
    }

    /// The cycle within the piece; none where it needs none, or none helps.
    pub fn within_a_piece(&self) -> Option<Cycle> {
        self.best.filter(|_| self.piece_needs).map(|best| best.cycle)
    }

    /// What comes after the piece: the shortest rest with which the next one stays cool too,
    /// the time until the cells are cool, and what a rest gives back.
    fn after_the_piece(&mut self, setup: &Setup) -> Result<(), RunError> {
        let cycle = self.best.map_or(Cycle::ONE_GO, |best| best.cycle);
        let mut bench = Bench::new(setup, Precision::COARSE);
        etch(&mut bench, setup, cycle)?;
        let cool_enough = |off_s: f64| -> Result<Option<f64>, RunError> {
            let mut next = bench.clone();
            next.off(off_s)?;
            next.next_piece(false);
            next.take_peaks();
            let (stop, _) = etch(&mut next, setup, cycle)?;
            let cool = stop != Stop::Hot && self.limits.holds(next.take_peaks());
            Ok(cool.then_some(off_s))
        };
        self.cool_down_s = match cool_enough(0.0)? {
            None => shortest(1..=LONGEST_REST_MIN, cool_enough)?.map(|(off_s, _)| off_s),
            at_once => at_once,
        };
        let mut resting = bench.clone();
        resting.off(self.cool_down_s.unwrap_or(0.0).max(600.0))?;
        self.recovery_v = (bench.open_circuit_v(), resting.open_circuit_v());
        let goal = setup.ambient_k + COOL_K;
        let warm = |bench: &Bench| bench.hot_spot_k().is_some_and(|k| k > goal);
        let mut waited_s = 0.0;
        while warm(&bench) && waited_s < LONGEST_WAIT_S {
            bench.off(60.0)?;
            waited_s += 60.0;
        }
        self.pack_away_s = (!warm(&bench)).then_some(waited_s);
        Ok(())
    }
}

/// Works out cycles two minutes about the best one; a few coarse ones where there is none.
///
/// # Errors
/// When a run cannot be worked out.
pub fn table(setup: &Setup, rests: &Rests) -> Result<Vec<Row>, RunError> {
    let around = |s: f64, least: i64| {
        let minutes = (s / 60.0).round() as i64;
        (minutes - 2..=minutes + 2).filter(move |m| *m >= least).map(|m| m as f64 * 60.0)
    };
    let cycles: Vec<Cycle> = match rests.best.map(|b| b.cycle) {
        Some(b) => around(b.on_s, 1)
            .flat_map(|on_s| around(b.off_s, 0).map(move |off_s| Cycle { on_s, off_s }))
            .collect(),
        None => [1.0, 2.0, 5.0, 10.0]
            .into_iter()
            .flat_map(|on| [5.0, 15.0, 60.0].map(|off| (on, off)))
            .map(|(on, off)| Cycle { on_s: on * 60.0, off_s: off * 60.0 })
            .collect(),
    };
    let row = |cycle: Cycle| -> Result<Row, RunError> {
        let mut cycled = this_run(setup, cycle)?;
        let peak = session_peak(setup, cycle)?;
        cycled.session_peak = Some(peak);
        let cool = rests.limits.holds(cycled.peak) && rests.limits.holds(peak);
        Ok(Row { cycled, within: cycled.stop == Stop::Depth && cool })
    };
    cycles.into_iter().map(row).collect()
}
