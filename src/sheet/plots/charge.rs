//! Charge left in the cells over the run: in total, and available at once.

use super::canvas::{self, Caption};
use super::ink::{Ink, RUST, SLATE};
use super::labels::Words;
use super::panel::{Curve, Panel, edges};
use super::plot::Plot;
use super::scale::{self, Axis};
use super::view::View;
use super::words::{course, last, lasting};
use crate::sheet::plots::error::Painted;
use crate::units::say;

const HEIGHT: f64 = 568.0;
const PANEL: (f64, f64) = (148.0, 508.0);

/// Plots the charge left over time; none without cells.
pub fn plot(view: &View) -> Painted<Option<Plot>> {
    let trace = view.trace;
    let (Some(available), Some(total)) = (&trace.available, &trace.total) else {
        return Ok(None);
    };
    // Of several sources one without cells: no curve that means one thing.
    if available.iter().any(|share| !share.is_finite()) {
        return Ok(None);
    }
    let percent = Axis {
        ticks: [0, 25, 50, 75, 100].map(|x| (f64::from(x), x.to_string())).into(),
        factor: 100.0,
        ..Axis::over(0.0, 100.0, 4, "% of full")
    };
    let in_total = curve("total", total, SLATE);
    let at_once = curve("available", available, RUST);
    let curves = [&in_total, &at_once];
    let (left, right) = edges(&[&percent], &curves);
    let time = scale::time(trace, right - left);
    let alt = format!(
        "The total charge left in the cells {} of full {}; what of it is available at once {}.",
        course(total, say::share),
        lasting(&trace.t_s),
        course(available, say::share),
    );
    let caption = Caption { heading: "Charge left in the cells", title: view.title, alt: &alt };
    let svg = canvas::plot(HEIGHT, &caption, |canvas| {
        let frame = Words { left, top: PANEL.0, right, bottom: PANEL.1 };
        let mut panel = Panel::new(canvas, frame, &time, &percent);
        panel.name("charge left")?;
        panel.grid()?;
        panel.upright()?;
        panel.floor(true)?;
        panel.curves(&trace.t_s, &curves)?;
        panel.ends(&curves)
    })?;
    Ok(Some(Plot { name: "charge", alt, svg }))
}

fn curve(name: &'static str, shares: &[f64], ink: Ink) -> Curve {
    let shown = shares.iter().map(|x| 100.0 * x).collect();
    Curve { name, end: say::share(last(shares)), ink, shown }
}
