//! On and off over time: temperatures of a cell, and under them on the same time axis the
//! volts at the source, under load and without. Rests are shaded; a bar between the panels
//! tells when the current is on.

use super::canvas::{self, Canvas, Caption, Type};
use super::heat::{self, Warm};
use super::ink::{AXIS, DARK, QUIET, REST as SHADE, SLATE};
use super::key::{self, Entry, Sign};
use super::labels::Words;
use super::panel::{Curve, Limit, Panel, edges};
use super::plot::Plot;
use super::scale::{self, Axis, extent, plottable};
use super::sizes::{At, MARGIN, TEXT, THIN};
use super::words::{brief, last};
use crate::advice::cycle::Warmth;
use crate::advice::spell::Spell;
use crate::sheet::plots::error::{Painted, even};
use crate::units::say::{self, System};

/// Name of the plot.
pub const REST: &str = "rest";

/// Top and bottom of the upper and the lower panel, units.
const UPPER: (f64, f64) = (148.0, 432.0);
const LOWER: (f64, f64) = (544.0, 760.0);
/// From the bottom of the upper panel to the middle of the bar of on-times, and the bar's
/// half height.
const BAR: (f64, f64) = (26.0, 8.0);
/// Further room over temperatures, as a share of the axis.
const OVER: f64 = 0.06;
/// From the bottom of the lower panel to the key.
const UNDER: f64 = 52.0;

/// What the cells must stay under.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpellLimits {
    /// Limit of a cell's hot spot, K.
    pub hot_spot_k: f64,
    /// Limit of a surface that one touches, K.
    pub surface_k: f64,
}

impl From<Warmth> for SpellLimits {
    fn from(w: Warmth) -> Self {
        Self { hot_spot_k: w.hot_spot_k, surface_k: w.surface_k }
    }
}

/// Plots on and off over time; none where the spell holds no span of time.
///
/// # Errors
/// When the spell holds arrays of different lengths, or the plot cannot be written.
pub fn spell(
    spell: &Spell,
    title: &str,
    limits: SpellLimits,
    system: System,
) -> Painted<Option<Plot>> {
    check_even(spell)?;
    if spell.t_s.len() < 2 {
        return Ok(None);
    }
    let warm = [
        Warm::hot_spot(&spell.hot_spot_k, Some(limits.hot_spot_k)),
        Warm::surface(&spell.surface_k, Some(limits.surface_k)),
    ];
    let [hot, surface] = warm.each_ref().map(|w| w.curve(system));
    let lines: Vec<Limit> = warm.iter().filter_map(|w| w.line(system)).collect();
    let degrees = heat::axis(&warm, system, 4);
    // Over the highest limit there is room for its name.
    let over = OVER * (degrees.to - degrees.from);
    let degrees = Axis { to: degrees.to + over, ..degrees };
    let volts = scale::quantity(&[&spell.source_v], "V", 4);
    let end = last(&spell.source_v);
    let source = Curve {
        name: "",
        end: brief(say::voltage(end), end, "V"),
        ink: SLATE,
        shown: spell.source_v.iter().map(|v| v * volts.factor).collect(),
    };
    let (left, right) = edges(&[&degrees, &volts], &[&hot, &surface, &source]);
    let time = scale::time_to(extent(&spell.t_s).map_or(0.0, |(_, end)| end), right - left);
    let on = on(spell);
    let rests = rests(spell, &on);
    let alt = alt(spell, &on, &warm, system);
    let caption = Caption { heading: "Work and rest", title, alt: &alt };
    let entries: [Entry; 2] =
        [(Sign::Mark(&on_sign), "current on"), (Sign::Mark(&rest_sign), "rest, current off")];
    let height = LOWER.1 + UNDER + key::height(&entries) + 0.5 * MARGIN;
    let svg = canvas::plot(height, &caption, |canvas| {
        let frame = |(top, bottom)| Words { left, top, right, bottom };
        let mut upper = Panel::new(canvas, frame(UPPER), &time, &degrees);
        upper.shade(&rests, SHADE)?;
        upper.name("temperature")?;
        upper.grid()?;
        upper.upright()?;
        upper.floor(false)?;
        upper.curves(&spell.t_s, &[&surface, &hot])?;
        upper.limit_lines(&lines)?;
        upper.limit_words(&lines)?;
        upper.span_words("rest", &rests)?;
        upper.ends(&[&hot, &surface])?;
        bar(canvas, &upper, &on)?;
        let mut lower = Panel::new(canvas, frame(LOWER), &time, &volts);
        lower.shade(&rests, SHADE)?;
        lower.name("voltage at the source")?;
        lower.grid()?;
        lower.upright()?;
        lower.floor(true)?;
        lower.curves(&spell.t_s, &[&source])?;
        lower.span_words("rest", &rests)?;
        lower.ends(&[&source])?;
        key::paint(canvas, LOWER.1 + UNDER, &entries)
    })?;
    Ok(Some(Plot { name: REST, alt, svg }))
}

fn check_even(spell: &Spell) -> Painted<()> {
    let points = spell.t_s.len();
    let lists = [
        ("source voltage", &spell.source_v),
        ("hot spot", &spell.hot_spot_k),
        ("cell surface", &spell.surface_k),
    ];
    for (what, list) in lists {
        even("the spell", what, list.len(), points)?;
    }
    Ok(())
}

/// When the current is on, in order; what cannot be plotted left out.
fn on(spell: &Spell) -> Vec<(f64, f64)> {
    let sound = |(from, to): &(f64, f64)| plottable(*from) && plottable(*to) && from < to;
    let mut list: Vec<(f64, f64)> = spell.on.iter().copied().filter(sound).collect();
    list.sort_by(|a, b| a.0.total_cmp(&b.0));
    list
}

/// The times between those.
fn rests(spell: &Spell, on: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let Some((mut free, end)) = extent(&spell.t_s) else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for (from, to) in on.iter().copied().chain([(end, end)]) {
        if from > free {
            list.push((free, from));
        }
        free = free.max(to);
    }
    list
}

/// The bar of on-times under a panel.
fn bar(canvas: &Canvas, panel: &Panel, on: &[(f64, f64)]) -> Painted<()> {
    let f = &panel.frame;
    let y = f.bottom + BAR.0;
    canvas.text((f.left - 14.0, y), "on", Type::plain(QUIET).to_the_left())?;
    for (from, to) in on {
        let (left, right) = (panel.at(*from, 0.0).0, panel.at(*to, 0.0).0);
        canvas.rectangle((left, y - BAR.1), (right.max(left + THIN), y + BAR.1), DARK)?;
    }
    Ok(())
}

fn on_sign(canvas: &Canvas, at: At) -> Painted<()> {
    canvas.rectangle((at.0 - TEXT, at.1 - BAR.1), (at.0 + TEXT, at.1 + BAR.1), DARK)
}

fn rest_sign(canvas: &Canvas, at: At) -> Painted<()> {
    let (wide, high) = (TEXT, 13.0);
    canvas.rectangle((at.0 - wide, at.1 - high), (at.0 + wide, at.1 + high), AXIS)?;
    let (wide, high) = (wide - THIN, high - THIN);
    canvas.rectangle((at.0 - wide, at.1 - high), (at.0 + wide, at.1 + high), SHADE)
}

/// The plot in one sentence.
fn alt(spell: &Spell, on: &[(f64, f64)], warm: &[Warm], system: System) -> String {
    let within = say::time(extent(&spell.t_s).map_or(0.0, |(_, end)| end));
    let in_all = on.iter().map(|(from, to)| to - from).sum();
    let times = match on.len() {
        0 => "never on".into(),
        1 => format!("on once within {within}, for {}", say::time(in_all)),
        n => format!("on {n} times within {within}, for {} in all", say::time(in_all)),
    };
    let pieces = match spell.pieces {
        0 => "no piece comes to depth".into(),
        1 => "1 piece comes to depth".into(),
        n => format!("{n} pieces come to depth"),
    };
    let peak = |w: &Warm| {
        let peak = extent(w.kelvins).map_or(0.0, |(_, high)| high);
        format!("{} comes to {} at most{}", w.said, system.temperature(peak), w.limit_said(system))
    };
    let warm: Vec<String> = warm.iter().map(peak).collect();
    format!(
        "The current is {times}; {pieces}; {}; the voltage of the source starts at {}, sags \
         to {} under load and is back at {} in the end.",
        warm.join(", "),
        say::voltage(spell.source_v.iter().copied().find(|v| plottable(*v)).unwrap_or_default()),
        say::voltage(extent(&spell.source_v).map_or(0.0, |(low, _)| low)),
        say::voltage(last(&spell.source_v)),
    )
}
