//! Time against the number of cells: a row for each wiring, from few cells to many, with a
//! mark at its time, coloured by the hot spot. What does not do the job is hollow and crossed.

use super::canvas::{self, Canvas, Caption, Type, one_line};
use super::ink::{AXIS, DARK, GRID, PAPER, QUIET, heat};
use super::key::{self, Entry, Sign};
use super::labels::{Words, shortened, width};
use super::panel::Panel;
use super::plot::Plot;
use super::scale::{Axis, extent, plottable};
use super::sizes::{At, LINE, MARGIN, TEXT, THIN, WIDTH};
use super::spaced;
use super::warmth::{Warmth, degrees, warm};
use super::words::joined;
use crate::advice::size::chart::{Bar, CellChart};
use crate::sheet::plots::error::Painted;
use crate::units::say::{self, System};

/// Top of the panel.
const TOP: f64 = 152.0;
/// From one row to the next.
const ROW: f64 = 42.0;
/// Edges of the panel.
const EDGES: (f64, f64) = (180.0, 506.0);
/// Where marks stand that have no time.
const NEVER: f64 = 538.0;
/// Where the wiring and the hot spot stand.
const WIRING: f64 = 96.0;
const WARMTH: f64 = 580.0;
/// Radius of a mark, and of the ring about the chosen one.
const MARK: f64 = 12.0;
const RING: f64 = 19.0;
/// From the bottom of the panel to the key.
const UNDER: f64 = 52.0;

/// Plots time against the number of cells, for one kind of cell in one holder.
///
/// # Errors
/// When the plot cannot be written.
pub fn cells(chart: &CellChart, title: &str, system: System) -> Painted<Plot> {
    let warmth = Warmth::of(chart);
    let alt = one_line(&alt(chart, system));
    let heading = shortened(&format!("Time with more {} cells", chart.cell), 0.72 * WIDTH, TEXT);
    let caption = Caption { heading: &heading, title, alt: &alt };
    let bottom = TOP + ROW * chart.bars.len().max(1) as f64;
    let entries = entries(chart);
    let ramp = bottom + UNDER + key::height(&entries);
    let notes = ramp + key::ROW + 10.0;
    let lines = key::note_lines(&note(chart));
    let height = notes + LINE * lines.len() as f64 + MARGIN;
    let axis = axis(chart);
    let svg = canvas::plot(height, &caption, |canvas| {
        let frame = Words { left: EDGES.0, top: TOP, right: EDGES.1, bottom };
        let none = Axis::over(0.0, 1.0, 1, "");
        let panel = Panel::new(canvas, frame, &axis, &none);
        heads(canvas)?;
        panel.uprights()?;
        panel.floor(true)?;
        let mut above = None;
        for (n, bar) in chart.bars.iter().enumerate() {
            let y = TOP + ROW * (n as f64 + 0.5);
            if above != Some(bar.cells) {
                let across = [(MARGIN, y - 0.5 * ROW), (WIDTH - MARGIN, y - 0.5 * ROW)];
                canvas.line(&across, THIN, GRID, &[])?;
                let many = shortened(&bar.cells.to_string(), WIRING - MARGIN - 8.0, TEXT);
                canvas.text((MARGIN, y), &many, Type::plain(DARK).bold())?;
            }
            above = Some(bar.cells);
            row(canvas, &panel, bar, y, &warmth, system)?;
        }
        if chart.bars.is_empty() {
            let at = (EDGES.0 + 12.0, TOP + 0.5 * ROW);
            canvas.text(at, "no wiring was tried", Type::plain(QUIET))?;
        }
        key::paint(canvas, bottom + UNDER, &entries)?;
        warmth.paint(canvas, ramp + 0.5 * key::ROW, system)?;
        key::note(canvas, notes, &lines)
    })?;
    Ok(Plot { name: "cell-chart", alt, svg })
}

/// Time across, from the shortest to the longest.
fn axis(chart: &CellChart) -> Axis {
    let times: Vec<f64> = chart.bars.iter().filter_map(time).collect();
    let (low, high) = extent(&times).unwrap_or((60.0, 3600.0));
    let spare = libm::pow((high / low).clamp(2.0, 1e4), 0.08);
    spaced::clock(low / spare, high * spare, EDGES.1 - EDGES.0, true)
}

/// A time that can be plotted.
fn time(bar: &Bar) -> Option<f64> {
    bar.time_s.filter(|t| *t > 0.0 && plottable(*t))
}

/// "4 × 2".
fn wiring(bar: &Bar) -> String {
    format!("{} × {}", bar.wiring.0, bar.wiring.1)
}

fn heads(canvas: &Canvas) -> Painted<()> {
    let set = Type::plain(QUIET);
    let y = TOP - 26.0;
    canvas.text((MARGIN, y), "cells", set)?;
    canvas.text((WIRING, y), "wired", set)?;
    canvas.text((EDGES.0 + 8.0, y), "time to depth", set)?;
    canvas.text((WARMTH, y), "hot spot", set)
}

/// One wiring.
fn row(
    canvas: &Canvas,
    panel: &Panel,
    bar: &Bar,
    y: f64,
    warmth: &Warmth,
    system: System,
) -> Painted<()> {
    let set = if bar.chosen { Type::plain(DARK).bold() } else { Type::plain(DARK) };
    canvas.text((WIRING, y), &shortened(&wiring(bar), EDGES.0 - WIRING - 8.0, TEXT), set)?;
    if let Some(k) = warm(bar) {
        let (left, side) = (WARMTH + 2.0, 11.0);
        canvas.rectangle((left, y - side), (left + 2.0 * side, y + side), AXIS)?;
        let inner = side - THIN;
        let within = ((left + THIN, y - inner), (left + 2.0 * side - THIN, y + inner));
        canvas.rectangle(within.0, within.1, warmth.colour(k))?;
        canvas.text((left + 32.0, y), &degrees(k, system), set)?;
    }
    let Some(time_s) = time(bar) else {
        crossed(canvas, (NEVER, y))?;
        let (at, words) = ((NEVER - MARK - 12.0, y), "not reached");
        let wide = width(words, TEXT);
        on_paper(canvas, (at.0 - wide, y), wide)?;
        return canvas.text(at, words, Type::plain(QUIET).to_the_left());
    };
    let at = (panel.at(time_s, 0.0).0, y);
    if bar.chosen {
        ring(canvas, at)?;
    }
    if bar.feasible {
        filled(canvas, at, warmth.share(warm(bar).unwrap_or_default()))?;
    } else {
        crossed(canvas, at)?;
    }
    beside(canvas, at, &say::time(time_s), bar.chosen)
}

/// The time beside its mark, on the side that has room; for the chosen one with words.
fn beside(canvas: &Canvas, at: At, time: &str, chosen: bool) -> Painted<()> {
    const TAKE: &str = "take this";
    let clear = if chosen { RING } else { MARK } + 10.0;
    let (left, right) = (at.0 - clear - EDGES.0, WARMTH - 10.0 - at.0 - clear);
    let set = Type::plain(DARK);
    let on_the_right = |words: &str| {
        on_paper(canvas, (at.0 + clear, at.1), width(words, TEXT))?;
        canvas.text((at.0 + clear, at.1), words, set)
    };
    let on_the_left = |words: &str| {
        let wide = width(words, TEXT);
        on_paper(canvas, (at.0 - clear - wide, at.1), wide)?;
        canvas.text((at.0 - clear, at.1), words, set.to_the_left())
    };
    let words = if chosen { format!("{TAKE}, {time}") } else { time.to_string() };
    if width(&words, TEXT) <= right {
        on_the_right(&words)
    } else if width(&words, TEXT) <= left {
        on_the_left(&words)
    } else if !chosen {
        on_the_right(&shortened(time, right, TEXT))
    } else if width(TAKE, TEXT) <= left {
        on_the_left(TAKE)?;
        on_the_right(&shortened(time, right, TEXT))
    } else {
        on_the_right(&shortened(TAKE, right, TEXT))
    }
}

/// Clears the grid away where words will stand.
fn on_paper(canvas: &Canvas, at: At, wide: f64) -> Painted<()> {
    canvas.rectangle((at.0 - 4.0, at.1 - 15.0), (at.0 + wide, at.1 + 15.0), PAPER)
}

fn filled(canvas: &Canvas, at: At, share: f64) -> Painted<()> {
    canvas.dot(at, MARK, DARK)?;
    canvas.dot(at, MARK - THIN, heat(share))
}

fn crossed(canvas: &Canvas, at: At) -> Painted<()> {
    canvas.dot(at, MARK, QUIET)?;
    canvas.dot(at, MARK - THIN, PAPER)?;
    let r = 0.6 * MARK;
    for side in [1.0, -1.0] {
        let stroke = [(at.0 - r, at.1 - side * r), (at.0 + r, at.1 + side * r)];
        canvas.line(&stroke, THIN, QUIET, &[])?;
    }
    Ok(())
}

fn ring(canvas: &Canvas, at: At) -> Painted<()> {
    canvas.dot(at, RING, DARK)?;
    canvas.dot(at, RING - 3.5, PAPER)
}

fn entries(chart: &CellChart) -> Vec<Entry<'static>> {
    let mut list: Vec<Entry> = vec![
        (Sign::Mark(&|canvas, at| filled(canvas, at, 0.3)), "does the job"),
        (Sign::Mark(&crossed), "does not"),
    ];
    if chart.bars.iter().any(|bar| bar.chosen) {
        list.push((Sign::Mark(&chosen_sign), "the one to take"));
    }
    list
}

fn chosen_sign(canvas: &Canvas, at: At) -> Painted<()> {
    ring(canvas, at)?;
    filled(canvas, at, 0.3)
}

fn note(chart: &CellChart) -> String {
    format!(
        "Fresh {} cells, {}. Wired 4 × 2: 4 in series, 2 such strings side by side. Time with \
         rests and all.",
        chart.cell, chart.holder
    )
}

/// The chart in one sentence.
fn alt(chart: &CellChart, system: System) -> String {
    let good = chart.bars.iter().filter(|bar| bar.feasible && time(bar).is_some());
    let mut parts: Vec<String> = good.map(|bar| of_bar(bar, system)).collect();
    let others: Vec<String> = chart
        .bars
        .iter()
        .filter(|bar| !(bar.feasible && time(bar).is_some()))
        .map(wiring)
        .collect();
    if parts.is_empty() {
        parts.push("no wiring does the job".into());
    }
    if !others.is_empty() {
        let verb = if others.len() == 1 { "does" } else { "do" };
        parts.push(format!("{} {verb} not do the job", joined(&others)));
    }
    format!(
        "The chart gives the time for {} cells, {}, by their number, wired in series × side by \
         side: {}.",
        chart.cell,
        chart.holder,
        parts.join("; ")
    )
}

fn of_bar(bar: &Bar, system: System) -> String {
    let time = time(bar).map_or_else(String::new, say::time);
    let warm = warm(bar).map(|k| format!(", hot spot {}", system.temperature(k)));
    let chosen = if bar.chosen { ", the one to take" } else { "" };
    format!("{} takes {time}{}{chosen}", wiring(bar), warm.unwrap_or_default())
}
