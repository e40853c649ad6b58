//! Depth over the run, downwards, as a cut into the sheet: the recess grows from the left,
//! under it stands what is left of the metal, with target, floor and back.

use super::band::{self, FAST, Shown};
use super::canvas::{self, Canvas, Caption};
use super::ink::{AXIS, DARK, Ink, METAL, METAL_KEPT, QUIET, RECESS, RUST, SLATE};
use super::labels::{Words, width};
use super::panel::{Curve, Limit, Panel, edges};
use super::plot::Plot;
use super::scale::{self, Axis};
use super::sizes::{At, TEXT};
use super::view::View;
use super::words::{brief, joined, last, lasting};
use crate::sheet::plots::error::Painted;
use crate::units::say;

const HEIGHT: f64 = 588.0;
const PANEL: (f64, f64) = (148.0, 528.0);
/// A sheet up to this many times as thick as what matters is shown down to its back.
const WHOLE: f64 = 1.6;
const PLAIN: Ink = Ink { line: DARK, words: DARK, dash: &[] };

/// Plots depth over time.
pub fn plot(view: &View) -> Painted<Plot> {
    let trace = view.trace;
    let axis = scale::depth(deepest(view), view.system, 5);
    let end = last(&trace.depth_m);
    let curve = Curve {
        name: "reached",
        end: brief(view.system.depth(end), end, "m"),
        ink: SLATE,
        shown: trace.depth_m.iter().map(|m| m * axis.factor).collect(),
    };
    let (left, right) = edges(&[&axis], &[&curve]);
    let time = scale::time(trace, right - left);
    let looks = looks(view);
    let alt = alt(view, &looks);
    let caption = Caption { heading: "Depth of the cut", title: view.title, alt: &alt };
    let band = Shown::of(view, |b| Some(&b.depth_m), |m| m * axis.factor);
    let entries = band::entries(band.as_ref(), "8 in 10 lie within", true);
    let height = band::height(HEIGHT, PANEL.1, &entries);
    let svg = canvas::plot(height, &caption, |canvas| {
        let frame = Words { left, top: PANEL.0, right, bottom: PANEL.1 };
        let mut panel = Panel::new(canvas, frame, &time, &axis);
        panel.name("depth")?;
        sheet(canvas, &panel, view, &curve)?;
        if let Some(band) = &band {
            band.paint(&mut panel)?;
            let fast = panel.traced(band.t_s, &band.high);
            canvas.line(&fast, FAST.0, SLATE.line, FAST.1)?;
        }
        panel.upright()?;
        panel.floor(true)?;
        panel.curves(&trace.t_s, &[&curve])?;
        let levels = levels(view, &axis);
        panel.limit_lines(&levels)?;
        let ring = |t_s: &f64| {
            let at = panel.at(*t_s, depth_at(view, *t_s) * axis.factor);
            (at, format!("look {}", say::moment(*t_s)))
        };
        let rings: Vec<_> = looks.iter().map(ring).collect();
        panel.rings(&rings)?;
        panel.changes(view.changes_s)?;
        panel.limit_words(&levels)?;
        let cut = panel.traced(&trace.t_s, &curve.shown);
        remarks(&mut panel, &cut, &levels)?;
        panel.ends(&[&curve])?;
        band::paint_key(canvas, PANEL.1, &entries)
    })?;
    Ok(Plot { name: "depth", alt, svg })
}

/// How deep the view goes, m: to the back of the sheet, or not far under what matters.
fn deepest(view: &View) -> f64 {
    let finite = |x: &f64| x.is_finite() && *x >= 0.0;
    let floor = view.floor_depth_m.unwrap_or_default();
    let fast = view.bands.map_or(0.0, |b| last(&b.depth_m.high));
    let matters = [view.target_m, floor, last(&view.trace.depth_m), fast];
    let matters = matters.into_iter().filter(finite).fold(0.0, f64::max);
    if view.thickness_m <= WHOLE * matters {
        view.thickness_m.max(matters) * 1.12
    } else {
        matters * 1.3
    }
}

/// Metal, what must stay of it, and the recess.
fn sheet(canvas: &Canvas, panel: &Panel, view: &View, curve: &Curve) -> Painted<()> {
    let f = panel.frame;
    let factor = panel.y_factor();
    let back = panel.down(view.thickness_m * factor);
    canvas.rectangle((f.left, f.top), (f.right, back), METAL)?;
    if let Some(floor) = view.floor_depth_m {
        canvas.rectangle((f.left, panel.down(floor * factor)), (f.right, back), METAL_KEPT)?;
    }
    let mut recess = panel.traced(&view.trace.t_s, &curve.shown);
    if let (Some(first), Some(end)) = (recess.first().copied(), recess.last().copied()) {
        recess.push((end.0, f.top));
        recess.push((first.0, f.top));
        canvas.area(&recess, RECESS)?;
    }
    canvas.line(&[(f.left, f.top), (f.right, f.top)], 2.5, AXIS, &[])?;
    Ok(())
}

/// What the grounds are, where there is enough of them.
fn remarks(panel: &mut Panel, cut: &[At], levels: &[Limit]) -> Painted<()> {
    const HALF: f64 = 22.0;
    let f = panel.frame;
    let depth_under = |x: f64| cut.iter().find(|p| p.0 >= x).map_or(f.top, |p| p.1);
    let at = (f.right - width("cut away", TEXT) - 10.0, f.top + HALF);
    if depth_under(at.0) > at.1 + HALF {
        panel.remark("cut away", &[at])?;
    }
    let x = f.left + 8.0;
    let under = depth_under(x + width("metal", TEXT)) + HALF;
    let target = levels.first().map_or(f.bottom, |limit| panel.down(limit.at));
    let places = [target - 50.0, target + 50.0, target + 80.0].map(|y| (x, y.max(under)));
    panel.remark("metal", &places)
}

/// Target, floor and back, where the view goes down to them.
fn levels(view: &View, axis: &Axis) -> Vec<Limit> {
    let say = |m| view.system.depth(m);
    let level = |name: &str, m: f64, ink: Ink| Limit {
        label: format!("{name} {}", brief(say(m), m, "m")),
        ink,
        at: m * axis.factor,
    };
    let mut list = vec![level("target", view.target_m, RUST)];
    list.extend(view.floor_depth_m.map(|m| level("floor at", m, PLAIN)));
    if view.thickness_m * axis.factor < axis.from {
        let ink = Ink { line: QUIET, words: QUIET, dash: &[] };
        list.push(level("back", view.thickness_m, ink));
    }
    list.retain(|limit| limit.at.is_finite());
    list
}

/// The looks that fall within the run. The last one is at its end, which the trace's last time
/// meets but for rounding.
fn looks(view: &View) -> Vec<f64> {
    const ROUNDING: f64 = 1e-9;
    let end = last(&view.trace.t_s);
    let within = view.looks_s.iter().filter(|t| **t >= 0.0 && **t <= end * (1.0 + ROUNDING));
    within.map(|t| t.min(end)).collect()
}

/// Depth at a time, m, between the samples.
fn depth_at(view: &View, t_s: f64) -> f64 {
    let (t, depth) = (&view.trace.t_s, &view.trace.depth_m);
    let after = t.partition_point(|x| *x < t_s).min(t.len() - 1);
    let before = after.saturating_sub(1);
    let span = t[after] - t[before];
    let share = if span > 0.0 { ((t_s - t[before]) / span).clamp(0.0, 1.0) } else { 1.0 };
    depth[before] + share * (depth[after] - depth[before])
}

fn alt(view: &View, looks: &[f64]) -> String {
    let say = |m| view.system.depth(m);
    let reached = say(last(&view.trace.depth_m));
    let mut text = format!("The cut is {reached} deep {}", after(view));
    text += &band::said(view.bands.map(|b| &b.depth_m), "it", say);
    text += &format!("; the target is {}", say(view.target_m));
    if let Some(floor) = view.floor_depth_m {
        text += &format!(", the floor stands at {}", say(floor));
    }
    text += &format!(", the sheet is {} thick", say(view.thickness_m));
    if !looks.is_empty() {
        let times: Vec<String> = looks.iter().map(|t| say::moment(*t)).collect();
        text += &format!("; look at {}", joined(&times));
    }
    text + "."
}

fn after(view: &View) -> String {
    lasting(&view.trace.t_s).replacen("in ", "after ", 1)
}
