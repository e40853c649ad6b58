//! Rests: for this piece and for a whole session, how long to cool, what a rest gives back.

use super::cycle::{Cycle, Cycled, Warmth, etch, session_peak, soonest, this_run};
use crate::run::{Bench, Precision, RunError, Setup, Stop};

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
    /// Cycles around it.
    pub table: Vec<Row>,
    /// Rest before the next piece, s.
    pub cool_down_s: f64,
    /// Time until the cells are cool enough to pack away, s.
    pub pack_away_s: f64,
    /// Rest voltage of the pack when the current goes off, and after the rest before the
    /// next piece, V.
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
const COARSE: Precision = Precision { relative: 1e-6 };
const LONGEST_REST_MIN: u32 = 240;

/// Works the rests out; none without cells.
///
/// # Errors
/// When a run cannot be worked out.
pub fn rests(setup: &Setup, limits: &Warmth) -> Result<Option<Rests>, RunError> {
    if setup.source.pack().is_none() {
        return Ok(None);
    }
    let alone = this_run(setup, Cycle::ONE_GO)?;
    let piece_needs = alone.stop == Stop::Hot || !limits.holds(alone.peak);
    let running_on = session_peak(setup, Cycle { on_s: 600.0, off_s: 0.0 })?;
    let best = soonest(setup, limits)?;
    let table = table(setup, limits, best.map(|b| b.cycle))?;
    let after = after_the_piece(setup, limits, best.map_or(Cycle::ONE_GO, |b| b.cycle))?;
    Ok(Some(Rests {
        limits: *limits,
        piece_needs,
        running_on,
        best,
        table,
        cool_down_s: after.cool_down_s,
        pack_away_s: after.pack_away_s,
        recovery_v: after.recovery_v,
    }))
}

impl Rests {
    /// Whether running on and on would stay under every limit.
    pub fn never_needed(&self) -> bool {
        self.limits.holds(self.running_on)
    }
}

/// Cycles two minutes about the best one; a few coarse ones where there is none.
fn table(setup: &Setup, limits: &Warmth, best: Option<Cycle>) -> Result<Vec<Row>, RunError> {
    let around = |s: f64, least: i64| {
        let minutes = (s / 60.0).round() as i64;
        (minutes - 2..=minutes + 2).filter(move |m| *m >= least).map(|m| m as f64 * 60.0)
    };
    let cycles: Vec<Cycle> = match best {
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
        let within = cycled.stop == Stop::Depth && limits.holds(cycled.peak) && limits.holds(peak);
        Ok(Row { cycled, within })
    };
    cycles.into_iter().map(row).collect()
}

struct After {
    cool_down_s: f64,
    pack_away_s: f64,
    recovery_v: (f64, f64),
}

/// What comes after the piece: the shortest rest of whole minutes with which the next one
/// stays cool too, and the time until the cells are cool.
fn after_the_piece(setup: &Setup, limits: &Warmth, cycle: Cycle) -> Result<After, RunError> {
    let mut bench = Bench::new(setup, COARSE);
    etch(&mut bench, setup, cycle)?;
    let rest_v = bench.rest_v();
    let cool_enough = |minutes: u32| -> Result<bool, RunError> {
        let mut next = bench.clone();
        next.off(f64::from(minutes) * 60.0)?;
        next.next_piece(false);
        next.take_peaks();
        let (stop, _) = etch(&mut next, setup, cycle)?;
        Ok(stop != Stop::Hot && limits.holds(next.take_peaks()))
    };
    let mut long = 0;
    if !cool_enough(0)? {
        let mut short = 0;
        long = LONGEST_REST_MIN;
        while long - short > 1 {
            let middle = (short + long) / 2;
            if cool_enough(middle)? { long = middle } else { short = middle }
        }
    }
    let cool_down_s = f64::from(long) * 60.0;
    let mut resting = bench.clone();
    resting.off(cool_down_s.max(600.0))?;
    let recovery_v = (rest_v, resting.rest_v());
    let goal = setup.ambient_k + COOL_K;
    let mut pack_away_s = 0.0;
    while bench.hot_spot_k().is_some_and(|k| k > goal) && pack_away_s < 86_400.0 {
        bench.off(60.0)?;
        pack_away_s += 60.0;
    }
    Ok(After { cool_down_s, pack_away_s, recovery_v })
}
