//! Temperatures over the run: hot spot and surface of a cell, the bath, and what each bears.

use super::band::{self, Shown};
use super::canvas::{self, Caption};
use super::ink::{Ink, RUST, SLATE, VERDIGRIS};
use super::labels::Words;
use super::panel::{Curve, Limit, Panel, edges};
use super::plot::Plot;
use super::scale::{self, Axis, plottable};
use super::view::View;
use super::words::{brief, course, joined, last, lasting, with_sign};
use crate::sheet::plots::error::Painted;
use crate::units::say::System;

const HEIGHT: f64 = 568.0;
const PANEL: (f64, f64) = (148.0, 508.0);

/// One temperature and its limit.
pub struct Warm<'a> {
    name: &'static str,
    /// In a sentence.
    pub said: &'static str,
    pub kelvins: &'a [f64],
    limit: Option<f64>,
    limited: &'static str,
    ink: Ink,
}

impl<'a> Warm<'a> {
    /// The hot spot of a cell.
    pub fn hot_spot(kelvins: &'a [f64], limit: Option<f64>) -> Self {
        let (name, said) = ("hot spot", "the hot spot of a cell");
        let limit = limit.filter(|k| plottable(*k));
        Self { name, said, kelvins, limit, limited: "cell limit", ink: SLATE }
    }

    /// A cell's surface.
    pub fn surface(kelvins: &'a [f64], limit: Option<f64>) -> Self {
        let (name, said) = ("surface", "its surface");
        let limit = limit.filter(|k| plottable(*k));
        Self { name, said, kelvins, limit, limited: "touch limit", ink: RUST }
    }

    fn bath(kelvins: &'a [f64], limit: Option<f64>) -> Self {
        let (name, said) = ("bath", "the bath");
        let limit = limit.filter(|k| plottable(*k));
        Self { name, said, kelvins, limit, limited: "resist limit", ink: VERDIGRIS }
    }

    /// As plotted.
    pub fn curve(&self, system: System) -> Curve {
        let end = last(self.kelvins);
        let shown = self.kelvins.iter().map(|k| scale::degrees(*k, system)).collect();
        let said = with_sign(&system.temperature(end));
        Curve { name: self.name, end: brief(said, end, "K"), ink: self.ink, shown }
    }

    /// Its limit as plotted.
    pub fn line(&self, system: System) -> Option<Limit> {
        let k = self.limit?;
        let label = format!("{} {}", self.limited, with_sign(&system.temperature(k)));
        Some(Limit { label, ink: self.ink, at: scale::degrees(k, system) })
    }

    /// " (cell limit 54 degC)", or nothing.
    pub fn limit_said(&self, system: System) -> String {
        let said = |k: f64| format!(" ({} {})", self.limited, system.temperature(k));
        self.limit.map_or_else(String::new, said)
    }
}

/// The upright axis over temperatures and their limits.
pub fn axis(list: &[Warm], system: System, most: usize) -> Axis {
    axis_over(list, [], system, most)
}

/// The upright axis over temperatures, their limits and `more` temperatures, K.
fn axis_over(
    list: &[Warm],
    more: impl IntoIterator<Item = f64>,
    system: System,
    most: usize,
) -> Axis {
    let all = list.iter().flat_map(|w| w.kelvins.iter().copied().chain(w.limit));
    scale::temperature(&all.chain(more).collect::<Vec<f64>>(), system, most)
}

/// Plots temperatures over time.
pub fn plot(view: &View) -> Painted<Plot> {
    let trace = view.trace;
    let list = warm(view);
    let curves: Vec<Curve> = list.iter().map(|w| w.curve(view.system)).collect();
    let curves: Vec<&Curve> = curves.iter().collect();
    let limits: Vec<Limit> = list.iter().filter_map(|w| w.line(view.system)).collect();
    let show = |k| scale::degrees(k, view.system);
    let band = Shown::of(view, |b| b.hot_spot_k.as_ref(), show);
    let bands = view.bands.and_then(|b| b.hot_spot_k.as_ref());
    let spread = bands.iter().flat_map(|b| b.low.iter().chain(&b.high)).copied();
    let degrees = axis_over(&list, spread, view.system, 4);
    let (left, right) = edges(&[&degrees], &curves);
    let time = scale::time(trace, right - left);
    let alt = alt(view, &list);
    let heading = if list.len() > 1 { "Heat in cells and bath" } else { "Heat in the bath" };
    let caption = Caption { heading, title: view.title, alt: &alt };
    let entries = band::entries(band.as_ref(), "hot spot: 8 in 10 lie within", false);
    let height = band::height(HEIGHT, PANEL.1, &entries);
    let svg = canvas::plot(height, &caption, |canvas| {
        let frame = Words { left, top: PANEL.0, right, bottom: PANEL.1 };
        let mut panel = Panel::new(canvas, frame, &time, &degrees);
        panel.name("temperature")?;
        panel.grid()?;
        band.iter().try_for_each(|band| band.paint(&mut panel))?;
        panel.upright()?;
        panel.floor(true)?;
        let back_to_front: Vec<&Curve> = curves.iter().rev().copied().collect();
        panel.curves(&trace.t_s, &back_to_front)?;
        panel.limit_lines(&limits)?;
        panel.limit_words(&limits)?;
        panel.ends(&curves)?;
        band::paint_key(canvas, PANEL.1, &entries)
    })?;
    Ok(Plot { name: "heat", alt, svg })
}

/// What there is to show, the hottest first.
fn warm<'a>(view: &View<'a>) -> Vec<Warm<'a>> {
    let trace = view.trace;
    let hot = trace.hot_spot_k.as_deref().map(|k| Warm::hot_spot(k, view.hot_limit_k));
    let surface = trace.surface_k.as_deref().map(|k| Warm::surface(k, view.touch_limit_k));
    let bath = Warm::bath(&trace.bath_k, view.resist_limit_k);
    hot.into_iter().chain(surface).chain([bath]).collect()
}

fn alt(view: &View, list: &[Warm]) -> String {
    let say = |k: f64| view.system.temperature(k);
    let courses: Vec<String> = list
        .iter()
        .map(|w| format!("{} {}{}", w.said, course(w.kelvins, say), w.limit_said(view.system)))
        .collect();
    let lasting = lasting(&view.trace.t_s);
    let band = view.bands.and_then(|b| b.hot_spot_k.as_ref());
    let band = band::said(band, "the hot spot", say);
    let text = format!("{} {lasting}{band}.", joined(&courses));
    text.replacen("the", "The", 1)
}
