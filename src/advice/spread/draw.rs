//! One draw: the job with every uncertain input moved, run, and what came of it.

use super::against::Against;
use super::bands::{self, Course, ROUNDING};
use super::sample::Inputs;
use crate::advice::cores::on_all_cores;
use crate::advice::cycle::{self, Cycle, this_run};
use crate::advice::error::AdviceError;
use crate::advice::held::weigh;
use crate::advice::limit::Limit;
use crate::advice::verdict::Broke;
use crate::run::{Bench, Precision, Run, Setup, Stop, depth_of, run, run_onward};
use nalgebra::DVector;

/// What came of one draw.
#[derive(Debug, Clone, Copy)]
pub struct Draw {
    /// Time to depth, s; infinite when it is not reached.
    pub time_s: f64,
    /// Hottest spot, K; no number without cells.
    pub hot_spot_k: f64,
    /// Whether it passed a limit of warmth.
    pub hot: bool,
    /// Silver on the pan at its end, and in solution after a night, kg; no number where it was
    /// etched with rests.
    pub silver: (f64, f64),
    /// The limits that it broke.
    pub broke: Broke,
    /// Logarithm of the mean rate of depth, m/s.
    pub ln_rate: f64,
}

/// A draw followed to the nominal stop, past its own depth where it is faster.
#[derive(Debug, Clone)]
pub struct Followed {
    /// What came of it.
    pub draw: Draw,
    /// Depth at the nominal stop, m.
    pub depth_m: f64,
    /// Its course until then, where it was asked for.
    pub course: Option<Course>,
    /// Current when the ammeter is read, A; no number where that is not asked, or not reached.
    pub metered_a: f64,
}

impl Against<'_> {
    /// All draws, each followed to the nominal stop.
    pub(super) fn follow_all(
        &self,
        inputs: &Inputs,
        sample: &[DVector<f64>],
        times: &[f64],
    ) -> Result<Vec<Followed>, AdviceError> {
        let list: Vec<(usize, &DVector<f64>)> = sample.iter().enumerate().collect();
        on_all_cores(&list, |(n, draw)| {
            let kept = bands::kept(*n, sample.len());
            self.follow(inputs, draw, kept.then_some(times))
        })
    }

    fn setup(&self, inputs: &Inputs, logarithms: &DVector<f64>) -> Result<Setup, AdviceError> {
        self.case.moved(&inputs.factors(logarithms))
    }

    /// One draw followed to the nominal stop. One that ends before without its depth (empty,
    /// too hot) stays as deep as it is.
    pub(super) fn follow(
        &self,
        inputs: &Inputs,
        logarithms: &DVector<f64>,
        times: Option<&[f64]>,
    ) -> Result<Followed, AdviceError> {
        let setup = self.setup(inputs, logarithms)?;
        let (stop_s, mut at_stop) = (self.stop_s, None);
        let (meter_s, mut metered_a, mut before) =
            (self.meter_s.unwrap_or(-1.0), f64::NAN, f64::NAN);
        let mut course = times.map(Course::new);
        let run = run_onward(&setup, Precision::DRAWN, stop_s, |step, _| {
            if at_stop.is_none() && step.t + step.h >= stop_s * (1.0 - ROUNDING) {
                let share = ((stop_s - step.t) / step.h).clamp(0.0, 1.0);
                at_stop = Some(depth_of(&setup, &step.between(share)));
            }
            if meter_s >= step.t && meter_s < step.t + step.h {
                let share = (meter_s - step.t) / step.h;
                // Straight within the step; before the first there is only its end.
                let from = if step.t > 0.0 { before } else { step.at.current };
                metered_a = setup.duty() * (from + share * (step.at.current - from));
            }
            before = step.at.current;
            if let Some(course) = &mut course {
                course.take(&setup, step);
            }
        })?;
        let course = course.map(|course| course.done(&run));
        let depth_m = at_stop.unwrap_or(run.depth_m);
        let mut draw = self.of_run(&setup, &run);
        if through(&setup, depth_m) {
            draw.broke = draw.broke.and(Limit::Floor);
        }
        Ok(Followed { draw, depth_m, course, metered_a })
    }

    /// One draw with the current on and off in turn, followed to its end.
    pub(super) fn follow_cycle(
        &self,
        inputs: &Inputs,
        logarithms: &DVector<f64>,
        cycle: Cycle,
    ) -> Result<Followed, AdviceError> {
        let mut setup = self.setup(inputs, logarithms)?;
        let cycled = this_run(&setup, cycle)?;
        // What hangs on the current alone, as without rests; heat, time and charge with them.
        let one_go = run(&setup, Precision::DRAWN)?;
        let mut broke = Broke::of(&weigh(&self.case.weigh(&setup, &one_go), Some(&cycled)));
        setup.go_on_for_ever();
        setup.time_limit_s = self.stop_s;
        let mut bench = Bench::new(&setup, Precision::DRAWN);
        cycle::etch(&mut bench, &setup, cycle)?;
        let depth_m = bench.depth_m();
        if through(&self.case.setup, depth_m) {
            broke = broke.and(Limit::Floor);
        }
        let ended = match cycled.stop {
            Stop::Empty => Some(Limit::Empty),
            Stop::Time => Some(Limit::Time),
            Stop::Hot => Some(Limit::Hot),
            _ => None,
        };
        let broke = ended.map_or(broke, |limit| broke.and(limit));
        let silver = (f64::NAN, f64::NAN);
        let end = (cycled.stop, cycled.elapsed_s, depth_m);
        let draw = self.outcome(end, Some(cycled.peak), silver, broke);
        Ok(Followed { draw, depth_m, course: None, metered_a: f64::NAN })
    }

    fn of_run(&self, setup: &Setup, run: &Run) -> Draw {
        let peaks = run.peak_hot_spot_k.zip(run.peak_surface_k);
        let silver = (run.end_silver.down(), run.night_silver.solution);
        let broke = Broke::of(&weigh(&self.case.weigh(setup, run), None));
        self.outcome((run.stop, run.time_s, run.depth_m), peaks, silver, broke)
    }

    /// The depth is that after the time, or near enough to tell of the rate.
    fn outcome(
        &self,
        (stop, time_s, depth_m): (Stop, f64, f64),
        peaks: Option<(f64, f64)>,
        silver: (f64, f64),
        broke: Broke,
    ) -> Draw {
        Draw {
            time_s: if stop == Stop::Depth { time_s } else { f64::INFINITY },
            hot_spot_k: peaks.map_or(f64::NAN, |(hot, _)| hot),
            hot: broke.has(Limit::Hot) || broke.has(Limit::OwnTouch),
            silver,
            broke,
            ln_rate: libm::log(
                ((depth_m - self.case.setup.piece.begun) / time_s.max(1e-9)).max(1e-300),
            ),
        }
    }
}

/// Whether a depth is past the floor.
fn through(setup: &Setup, depth_m: f64) -> bool {
    depth_m > setup.piece.thickness - setup.piece.floor.unwrap_or(0.0)
}
