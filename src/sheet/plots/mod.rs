//! Plots as SVG texts: of one run (sag, depth, heat, charge), of on and off over a session
//! ([`spell()`]), of many cells ([`wall()`], [`cells()`]), and of several ways to do one job
//! ([`compare()`]).
//!
//! Every plot is drawn [`WIDTH`] units wide with text of at least [`TEXT`] units, so that it
//! reads at 360 CSS pixels as 12 pixel text. Curves carry their names at their ends, limits
//! theirs on the line; colour, lightness and dashes all tell them apart, so a grey print does.
//! Values come in SI and are converted once, where an axis is chosen.

mod band;
mod canvas;
mod cells;
mod charge;
mod compare;
mod depth;
mod hatch;
mod heat;
mod ink;
mod key;
pub(super) mod labels;
mod panel;
mod regions;
mod sag;
mod scale;
mod spaced;
mod spell;
#[cfg(test)]
mod tests;
mod timeline;
mod wall;
mod wall_words;
mod warmth;
mod words;

pub use canvas::{TEXT, WIDTH};
pub use cells::cells;
pub use compare::{Compared, compare};
pub use spell::{REST, SpellLimits, spell};
pub use timeline::timeline;
pub use wall::wall;

use crate::advice::spread::bands::Bands;
use crate::advice::{Case, Plan};
use crate::run::Trace;
use crate::units::say::System;
use anyhow::ensure;

/// What the plots are drawn from; SI.
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
    /// Units to speak in.
    pub system: System,
}

/// Names of all plots of a run.
pub const NAMES: [&str; 4] = ["sag", "depth", "heat", "charge"];

impl<'a> View<'a> {
    /// What a run has to show.
    pub fn of(case: &'a Case, trace: &'a Trace, system: System) -> Self {
        let (piece, pack) = (&case.setup.piece, case.setup.source.pack());
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

/// One plot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plot {
    /// Name, fit for a file name.
    pub name: &'static str,
    /// One sentence that says what the plot shows, with its numbers; not escaped.
    pub alt: String,
    /// The SVG, from its root element on; in it all text is escaped.
    pub svg: String,
}

/// Draws the plots of a run: three, or four where cells push the current.
///
/// # Errors
/// When the trace holds no point, or arrays of different lengths.
pub fn plots(view: &View) -> anyhow::Result<Vec<Plot>> {
    check(view.trace)?;
    view.bands.map_or(Ok(()), band::check)?;
    let mut list = vec![sag::draw(view)?, depth::draw(view)?, heat::draw(view)?];
    list.extend(charge::draw(view)?);
    Ok(list)
}

fn check(trace: &Trace) -> anyhow::Result<()> {
    let points = trace.t_s.len();
    ensure!(points > 0, "nothing to plot: the trace holds no point, expected one at least");
    check_even(trace)
}

fn check_even(trace: &Trace) -> anyhow::Result<()> {
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
        ensure!(
            list.len() == points,
            "the trace holds {} points of {what}, expected {points}, one for each time",
            list.len()
        );
    }
    Ok(())
}
