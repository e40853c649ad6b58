//! Temperatures over the run: hot spot and surface of a cell, the bath, and what each bears.

use super::canvas::{self, Caption};
use super::ink::{Ink, RUST, SLATE, VERDIGRIS};
use super::labels::Words;
use super::panel::{Curve, Limit, Panel, edges};
use super::scale;
use super::words::{brief, course, joined, last, lasting, with_sign};
use super::{Plot, View};

const HEIGHT: f64 = 568.0;
const PANEL: (f64, f64) = (148.0, 508.0);

/// One temperature and its limit.
struct Warm<'a> {
    name: &'static str,
    /// In a sentence.
    said: &'static str,
    kelvins: &'a [f64],
    limit: Option<f64>,
    limited: &'static str,
    ink: Ink,
}

/// Draws the plot.
pub fn draw(view: &View) -> anyhow::Result<Plot> {
    let trace = view.trace;
    let list = warm(view);
    let curves: Vec<Curve> = list.iter().map(|w| curve(w, view)).collect();
    let curves: Vec<&Curve> = curves.iter().collect();
    let limits: Vec<Limit> = list.iter().filter_map(|w| limit(w, view)).collect();
    let all = list.iter().flat_map(|w| w.kelvins.iter().copied().chain(w.limit));
    let degrees = scale::temperature(&all.collect::<Vec<f64>>(), view.system, 4);
    let (left, right) = edges(&[&degrees], &curves);
    let time = scale::time(trace, right - left);
    let alt = alt(view, &list);
    let heading = if list.len() > 1 { "Heat in cells and bath" } else { "Heat in the bath" };
    let caption = Caption { heading, title: view.title, alt: &alt };
    let svg = canvas::draw(HEIGHT, &caption, |canvas| {
        let frame = Words { left, top: PANEL.0, right, bottom: PANEL.1 };
        let mut panel = Panel::new(canvas, frame, &time, &degrees);
        panel.name("temperature")?;
        panel.grid()?;
        panel.upright()?;
        panel.floor(true)?;
        let back_to_front: Vec<&Curve> = curves.iter().rev().copied().collect();
        panel.curves(&trace.t_s, &back_to_front)?;
        panel.limit_lines(&limits)?;
        panel.limit_words(&limits)?;
        panel.ends(&curves)
    })?;
    Ok(Plot { name: "heat", alt, svg })
}

/// What there is to show, the hottest first.
fn warm<'a>(view: &View<'a>) -> Vec<Warm<'a>> {
    let trace = view.trace;
    let finite = |limit: Option<f64>| limit.filter(|k| k.is_finite());
    let mut list = Vec::new();
    if let Some(kelvins) = &trace.hot_spot_k {
        list.push(Warm {
            name: "hot spot",
            said: "the hot spot of a cell",
            kelvins,
            limit: finite(view.hot_limit_k),
            limited: "cell limit",
            ink: SLATE,
        });
    }
    if let Some(kelvins) = &trace.surface_k {
        list.push(Warm {
            name: "surface",
            said: "its surface",
            kelvins,
            limit: finite(view.touch_limit_k),
            limited: "touch limit",
            ink: RUST,
        });
    }
    list.push(Warm {
        name: "bath",
        said: "the bath",
        kelvins: &trace.bath_k,
        limit: finite(view.resist_limit_k),
        limited: "resist limit",
        ink: VERDIGRIS,
    });
    list
}

fn curve(warm: &Warm, view: &View) -> Curve {
    let end = last(warm.kelvins);
    let shown = warm.kelvins.iter().map(|k| scale::degrees(*k, view.system)).collect();
    let said = with_sign(&view.system.temperature(end));
    Curve { name: warm.name, end: brief(said, end, "K"), ink: warm.ink, shown }
}

fn limit(warm: &Warm, view: &View) -> Option<Limit> {
    let k = warm.limit?;
    let label = format!("{} {}", warm.limited, with_sign(&view.system.temperature(k)));
    Some(Limit { label, ink: warm.ink, at: scale::degrees(k, view.system) })
}

fn alt(view: &View, list: &[Warm]) -> String {
    let say = |k: f64| view.system.temperature(k);
    let courses: Vec<String> = list
        .iter()
        .map(|w| {
            let limit = w.limit.map(|k| format!(" ({} {})", w.limited, say(k)));
            format!("{} {}{}", w.said, course(w.kelvins, say), limit.unwrap_or_default())
        })
        .collect();
    let lasting = lasting(&view.trace.t_s);
    let text = format!("{} {lasting}.", joined(&courses));
    text.replacen("the", "The", 1)
}
