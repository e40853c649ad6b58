//! One run over time, sampled at even times from the stepper's own interpolant.

use super::onward::run_onward;
use super::operating::Solver;
use super::outcome::Run;
use super::setup::Setup;
use super::simulate::{Precision, RunError, run_observed};
use super::state::{BATH, CHARGE, CORE, DEPTH, SURFACE, Segments, State, shares, start};
use super::stepper::Step;
use crate::laws::cell;

/// Share by which the sum of steps may miss a time that it was to end at.
const ROUNDING: f64 = 1e-9;

/// Arrays of one length; SI. What a source does not have is none.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Trace {
    /// Time, s.
    pub t_s: Vec<f64>,
    /// Current, A.
    pub current_a: Vec<f64>,
    /// Terminal voltage, V.
    pub source_v: Vec<f64>,
    /// Bath voltage, V.
    pub bath_v: Vec<f64>,
    /// Depth of the floor, m.
    pub depth_m: Vec<f64>,
    /// Depth that the charge is worth over the bare area, m.
    pub charge_depth_m: Vec<f64>,
    /// Charge passed, C.
    pub charge_c: Vec<f64>,
    /// Load of the pan.
    pub pan_load: Vec<f64>,
    /// Concentration at the sheet's face, mol/m3.
    pub face_mol_per_m3: Vec<f64>,
    /// Hot spot of a cell, K.
    pub hot_spot_k: Option<Vec<f64>>,
    /// Surface of a cell, K.
    pub surface_k: Option<Vec<f64>>,
    /// Bath, K.
    pub bath_k: Vec<f64>,
    /// Available share of charge.
    pub available: Option<Vec<f64>>,
    /// Total share of charge.
    pub total: Option<Vec<f64>>,
}

/// Runs a setup and samples it at `points` even times, the start and the end among them
/// (one point when the run ends where it starts).
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// use restbite::job::resolve::resolved;
/// use restbite::run::{Precision, trace};
///
/// let setup = resolved(&job, source, &stock)?.setup;
/// let (run, trace) = trace(&setup, Precision::COARSE, 101)?;
/// assert_eq!(trace.t_s.len(), 101);
/// assert!((trace.t_s[100] - run.time_s).abs() < 1e-9);
/// assert!(trace.current_a[100] < trace.current_a[0]); // cells sag
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`super::run`].
pub fn trace(setup: &Setup, precision: Precision, points: usize) -> Result<(Run, Trace), RunError> {
    let intervals = points.max(2) - 1;
    sampled(setup, precision, |end| match end {
        0.0 => vec![0.0],
        end => (0..=intervals).map(|n| end * n as f64 / intervals as f64).collect(),
    })
}

/// Runs a setup and samples it at these times, s, in order; past its end it stands still.
///
/// # Errors
/// As [`super::run`].
pub fn trace_at(
    setup: &Setup,
    precision: Precision,
    times: &[f64],
) -> Result<(Run, Trace), RunError> {
    sampled(setup, precision, |_| times.to_vec())
}

/// Runs a setup onward, as [`super::onward::run_onward`] does, and samples it at these times, s, in
/// order; past its end it stands still.
///
/// # Errors
/// As [`super::run`].
pub fn trace_onward(
    setup: &Setup,
    precision: Precision,
    times: &[f64],
) -> Result<(Run, Trace), RunError> {
    let mut sampler = Sampler::new(setup);
    let mut left = times.iter().copied().peekable();
    let mut last = (start(setup), Segments::of(setup, &start(setup)));
    let until = times.last().copied().unwrap_or(0.0);
    while let Some(t) = left.next_if(|t| *t <= 0.0) {
        sampler.sample(t, &last.0, last.1);
    }
    let run = run_onward(setup, precision, until, |step, segments| {
        let end = (step.t + step.h) * (1.0 + ROUNDING);
        while let Some(t) = left.next_if(|t| *t <= end) {
            let share = ((t - step.t) / step.h).clamp(0.0, 1.0);
            let y = if share < 1.0 { step.between(share) } else { step.to };
            sampler.sample(t, &y, segments);
        }
        last = (step.to, segments);
    })?;
    for t in left {
        sampler.sample(t, &last.0, last.1);
    }
    Ok((run, sampler.trace))
}

fn sampled(
    setup: &Setup,
    precision: Precision,
    times: impl Fn(f64) -> Vec<f64>,
) -> Result<(Run, Trace), RunError> {
    let mut steps: Vec<(Step, Segments)> = Vec::new();
    let run =
        run_observed(setup, precision, |step, segments| steps.push((step.clone(), segments)))?;
    let mut sampler = Sampler::new(setup);
    let mut k = 0;
    for t in times(run.time_s) {
        while k + 1 < steps.len() && t > steps[k].0.t + steps[k].0.h {
            k += 1;
        }
        match steps.get(k).filter(|_| t > 0.0) {
            Some((step, segments)) => {
                let share = ((t - step.t) / step.h).clamp(0.0, 1.0);
                let y = if share < 1.0 { step.between(share) } else { step.to };
                sampler.sample(t, &y, *segments);
            }
            None => {
                let y = start(setup);
                sampler.sample(t, &y, Segments::of(setup, &y));
            }
        }
    }
    Ok((run, sampler.trace))
}

struct Sampler<'a> {
    setup: &'a Setup,
    solver: Solver<'a>,
    trace: Trace,
}

impl<'a> Sampler<'a> {
    fn new(setup: &'a Setup) -> Self {
        let mut trace = Trace::default();
        if setup.cells().is_some() {
            trace.hot_spot_k = Some(Vec::new());
            trace.surface_k = Some(Vec::new());
            trace.available = Some(Vec::new());
            trace.total = Some(Vec::new());
        }
        Self { setup, solver: Solver::new(setup), trace }
    }

    fn sample(&mut self, t: f64, y: &State, segments: Segments) {
        self.solver.setup = self.setup.stage(segments.stage);
        let at = self.solver.at(y, segments);
        let out = &mut self.trace;
        out.t_s.push(t);
        out.current_a.push(at.current);
        out.source_v.push(at.source_v);
        out.bath_v.push(at.bath_v);
        out.depth_m.push(self.solver.setup.piece.walls.floor(y[DEPTH]));
        out.charge_depth_m.push(y[DEPTH]);
        out.charge_c.push(y[CHARGE]);
        out.pan_load.push(at.cathode_load);
        out.face_mol_per_m3.push(at.anode.surface);
        out.bath_k.push(y[BATH]);
        if self.setup.cells().is_some() {
            // Of a source without cells there is none of it.
            let none = (f64::NAN, f64::NAN);
            let pack = self.solver.setup.source.pack();
            let (available, total) = pack.map_or(none, |pack| shares(pack, y));
            let push = |list: &mut Option<Vec<f64>>, x| list.as_mut().map(|l| l.push(x));
            push(&mut out.hot_spot_k, cell::hot_spot(y[CORE], y[SURFACE]));
            push(&mut out.surface_k, y[SURFACE]);
            push(&mut out.available, available);
            push(&mut out.total, total);
        }
    }
}
