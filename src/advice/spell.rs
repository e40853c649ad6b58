//! On and off over time: the piece with its rests, or, where it needs none, three pieces
//! with the rest between them; for the plot of resting and recovery.

use super::cycle::Cycle;
use super::rest::Rests;
use crate::run::{Bench, Precision, RunError, Setup, Stop};

/// Curves over the whole spell; SI.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Spell {
    /// Time, s.
    pub t_s: Vec<f64>,
    /// Voltage at the source, under load or without, V.
    pub source_v: Vec<f64>,
    /// Hot spot of a cell, K.
    pub hot_spot_k: Vec<f64>,
    /// Surface of a cell, K.
    pub surface_k: Vec<f64>,
    /// Share of the charge at hand.
    pub available: Vec<f64>,
    /// When the current is on, s.
    pub on: Vec<(f64, f64)>,
    /// Pieces etched.
    pub pieces: usize,
}

/// Samples in the whole spell, about.
const SAMPLES: f64 = 300.0;
/// Pieces followed where a piece needs no rest in itself.
const PIECES: usize = 3;

/// Follows the spell; `bench_s` is the time at the bench between two pieces.
///
/// # Errors
/// When a run cannot be worked out.
pub fn spell(setup: &Setup, rests: &Rests, bench_s: f64) -> Result<Spell, RunError> {
    let Some(best) = rests.best else {
        return Ok(Spell::default());
    };
    let cycle = rests.within_a_piece().unwrap_or(Cycle::ONE_GO);
    // One where no rest lets another follow.
    let pieces = if rests.piece_needs || rests.cool_down_s.is_none() { 1 } else { PIECES };
    // Between pieces, what the next one needs, or what a session needs in the long run.
    let in_a_session = if rests.never_needed() { 0.0 } else { best.cycle.off_s };
    let between = bench_s.max(rests.cool_down_s.unwrap_or(0.0)).max(in_a_session);
    let length = pieces as f64 * best.elapsed_s + (pieces - 1) as f64 * between;
    let mut walk = Walk {
        bench: Bench::new(setup, Precision::COARSE),
        spell: Spell::default(),
        step_s: (length / SAMPLES).max(1.0),
    };
    walk.sample();
    for n in 0..pieces {
        if n > 0 {
            walk.off(between)?;
            walk.bench.next_piece(false);
        }
        let until = walk.bench.time_s() + setup.time_limit_s;
        let stop = walk.piece(cycle, until)?;
        walk.spell.pieces += usize::from(stop == Some(Stop::Depth));
        if stop != Some(Stop::Depth) {
            break;
        }
    }
    walk.off(between)?;
    Ok(walk.spell)
}

struct Walk<'a> {
    bench: Bench<'a>,
    spell: Spell,
    step_s: f64,
}

impl Walk<'_> {
    fn sample(&mut self) {
        let (b, s) = (&self.bench, &mut self.spell);
        s.t_s.push(b.time_s());
        s.source_v.push(b.open_circuit_v());
        s.hot_spot_k.push(b.hot_spot_k().unwrap_or_default());
        s.surface_k.push(b.surface_k().unwrap_or_default());
        s.available.push(b.wells().map_or(0.0, |w| w.available));
    }

    fn off(&mut self, duration: f64) -> Result<(), RunError> {
        let until = self.bench.time_s() + duration;
        while self.bench.time_s() < until {
            self.bench.off(self.step_s.min(until - self.bench.time_s()))?;
            self.sample();
        }
        Ok(())
    }

    /// One piece with a cycle; why it ended, none when its time is over.
    fn piece(&mut self, cycle: Cycle, until: f64) -> Result<Option<Stop>, RunError> {
        while self.bench.time_s() < until {
            let start = self.bench.time_s();
            let off_at = (start + cycle.on_s).min(until);
            let mut stop = None;
            while stop.is_none() && self.bench.time_s() < off_at {
                stop = self.bench.on(self.step_s.min(off_at - self.bench.time_s()))?;
                self.sample();
                // While on, what is shown is the voltage under load.
                if let Some(last) = self.spell.source_v.last_mut() {
                    *last = self.bench.last_source_v();
                }
            }
            self.spell.on.push((start, self.bench.time_s()));
            if stop.is_some() {
                return Ok(stop);
            }
            self.off(cycle.off_s)?;
        }
        Ok(None)
    }
}
