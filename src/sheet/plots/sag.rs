//! Current over the run, and under it on the same time axis the volts at the source and
//! across the bath.

use super::band::{self, Shown};
use super::canvas::{self, Caption};
use super::ink::{RUST, SLATE, VERDIGRIS};
use super::labels::Words;
use super::panel::{Curve, Panel, edges};
use super::plot::Plot;
use super::scale::{self, Axis};
use super::view::View;
use super::words::{brief, course, last, lasting};
use crate::sheet::plots::error::Painted;
use crate::units::say;

const HEIGHT: f64 = 776.0;
/// Top and bottom of the upper and the lower panel, units.
const UPPER: (f64, f64) = (148.0, 364.0);
const LOWER: (f64, f64) = (456.0, 716.0);

/// Plots current and voltages over time.
pub fn plot(view: &View) -> Painted<Plot> {
    let trace = view.trace;
    let bands = view.bands.map(|b| &b.current_a);
    let [low, high] = [bands.map_or(&[][..], |b| &b.low), bands.map_or(&[][..], |b| &b.high)];
    let amps = scale::quantity(&[&trace.current_a, low, high], "A", 4);
    let volts = scale::quantity(&[&trace.source_v, &trace.bath_v], "V", 4);
    let end = last(&trace.current_a);
    let current = Curve {
        name: "",
        end: brief(say::current(end), end, "A"),
        ink: RUST,
        shown: shown(&trace.current_a, &amps),
    };
    let source = of_volts("source", &trace.source_v, &volts);
    let bath = of_volts("bath", &trace.bath_v, &volts);
    let (left, right) = edges(&[&amps, &volts], &[&current, &source, &bath]);
    let time = scale::time(trace, right - left);
    let alt = alt(view);
    let caption = Caption { heading: "Current and voltage", title: view.title, alt: &alt };
    let band = Shown::of(view, |b| Some(&b.current_a), |x| x * amps.factor);
    let entries = band::entries(band.as_ref(), "current: 8 in 10 lie within", false);
    let height = band::height(HEIGHT, LOWER.1, &entries);
    let svg = canvas::plot(height, &caption, |canvas| {
        let frame = |(top, bottom)| Words { left, top, right, bottom };
        let mut upper = Panel::new(canvas, frame(UPPER), &time, &amps);
        upper.name("current")?;
        upper.grid()?;
        band.iter().try_for_each(|band| band.paint(&mut upper))?;
        upper.upright()?;
        upper.floor(false)?;
        upper.curves(&trace.t_s, &[&current])?;
        upper.changes(view.changes_s)?;
        upper.ends(&[&current])?;
        let mut lower = Panel::new(canvas, frame(LOWER), &time, &volts);
        lower.name("voltage")?;
        lower.grid()?;
        lower.upright()?;
        lower.floor(true)?;
        lower.curves(&trace.t_s, &[&bath, &source])?;
        lower.changes(view.changes_s)?;
        lower.ends(&[&source, &bath])?;
        band::paint_key(canvas, LOWER.1, &entries)
    })?;
    Ok(Plot { name: "sag", alt, svg })
}

fn of_volts(name: &'static str, volts: &[f64], axis: &Axis) -> Curve {
    let end = last(volts);
    let ink = if name == "source" { SLATE } else { VERDIGRIS };
    Curve { name, end: brief(say::voltage(end), end, "V"), ink, shown: shown(volts, axis) }
}

fn shown(list: &[f64], axis: &Axis) -> Vec<f64> {
    list.iter().map(|x| x * axis.factor).collect()
}

fn alt(view: &View) -> String {
    let trace = view.trace;
    format!(
        "The current {} {}{}; the voltage of the source {}, that across the bath {}.",
        course(&trace.current_a, say::current),
        lasting(&trace.t_s),
        band::said(view.bands.map(|b| &b.current_a), "it", say::current),
        course(&trace.source_v, say::voltage),
        course(&trace.bath_v, say::voltage),
    )
}
