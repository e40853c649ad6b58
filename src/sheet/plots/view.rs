//! What the plots of a run are made from.

use crate::advice::spread::bands::Bands;
use crate::advice::{Case, Plan};
use crate::run::Trace;
use crate::sheet::plots::error::{Painted, PlotError, even};
use crate::units::say::System;

/// What the plots are made from; SI.
#[derive(Debug, Clone)]
pub struct View<'a> {
    /// Title of the job, in the user's words.
    pub title: &'a str,
    /// The run over time.
    pub trace: &'a Trace,
    /// Where it lies eight times in ten; none where nothing was drawn.
    pub bands: Option<&'a Bands>,
    /// Depth to etch, m.
    pub target_m: f64,
    /// Depth at which the floor is reached, m.
    pub floor_depth_m: Option<f64>,
    /// Thickness of the sheet, m.
    pub thickness_m: f64,
    /// Limit of a cell's hot spot, K.
    pub hot_limit_k: Option<f64>,
    /// Limit of a surface that one touches, K.
    pub touch_limit_k: Option<f64>,
    /// Bath temperature that the resist bears, K.
    pub resist_limit_k: Option<f64>,
    /// Times to look, s.
    pub looks_s: Vec<f64>,
    /// When each source after the first takes over, s.
    pub changes_s: &'a [f64],
    /// Units to speak in.
    pub system: System,
}

impl<'a> View<'a> {
    /// What a run has to show.
    pub fn of(case: &'a Case, trace: &'a Trace, system: System) -> Self {
        let (piece, pack) = (&case.setup.piece, case.setup.cells());
        Self {
            title: &case.job.title,
            trace,
            bands: None,
            target_m: piece.depth,
            floor_depth_m: piece.floor.map(|floor| piece.thickness - floor),
            thickness_m: piece.thickness,
            hot_limit_k: pack.map(|p| p.temperature_limit_k),
            touch_limit_k: pack.map(|_| case.bounds.touch_k),
            resist_limit_k: Some(case.bounds.resist_k),
            looks_s: Vec::new(),
            changes_s: &case.run.changes_s,
            system,
        }
    }

    /// What a plan has to show: its run with looks and bands.
    pub fn of_plan(plan: &'a Plan, system: System) -> Self {
        Self {
            bands: plan.spread.as_ref().and_then(|s| s.bands.as_ref()),
            looks_s: plan.looks.checks.iter().map(|c| c.at_s).collect(),
            ..Self::of(plan.case(), &plan.trace, system)
        }
    }
}

/// Refuses a trace that holds nothing to plot.
pub fn check(trace: &Trace) -> Painted<()> {
    let points = trace.t_s.len();
    if points == 0 {
        let expected = "one at least".into();
        return Err(PlotError::Count { items: 0, of: "points to plot", expected });
    }
    check_even("the trace", trace)
}

/// Refuses arrays of different lengths.
pub fn check_even(holder: &str, trace: &Trace) -> Painted<()> {
    let points = trace.t_s.len();
    let always = [
        ("current", &trace.current_a),
        ("source voltage", &trace.source_v),
        ("bath voltage", &trace.bath_v),
        ("depth", &trace.depth_m),
        ("bath temperature", &trace.bath_k),
    ];
    let cells = [
        ("hot spot", &trace.hot_spot_k),
        ("cell surface", &trace.surface_k),
        ("available charge", &trace.available),
        ("total charge", &trace.total),
    ];
    let cells = cells.into_iter().filter_map(|(what, list)| Some((what, list.as_ref()?)));
    for (what, list) in always.into_iter().chain(cells) {
        even(holder, what, list.len(), points)?;
    }
    Ok(())
}
