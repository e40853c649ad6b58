//! Several ways to do one job, a row each: current and depth over time, all on one scale of
//! time, of current and of depth.

use super::canvas::{self, Canvas, Caption, Type, one_line};
use super::ink::{DARK, LIMIT_DASH, QUIET, RUST, SLATE};
use super::key::{self, Entry, Sign};
use super::labels::{Words, shortened, width};
use super::panel::Panel;
use super::plot::Plot;
use super::scale::{self, Axis, plottable};
use super::sizes::{MARGIN, TEXT, THIN, WIDTH};
use super::view::check_even;
use super::words::{brief, course, last, lasting};
use crate::run::Trace;
use crate::sheet::plots::error::{Painted, PlotError};
use crate::units::say::{self, System};

/// Most alternatives on one sheet.
const MOST: usize = 8;
/// Top of the first row.
const TOP: f64 = 146.0;
/// From the top of a row to that of its panels, and their height.
const WORDS: f64 = 74.0;
const PANEL: f64 = 112.0;
/// From one row to the next.
const ROW: f64 = WORDS + PANEL + 26.0;
/// Under the last panel: words of the time axis.
const UNDER: f64 = 84.0;
/// Width of a curve.
const CURVE: f64 = 4.5;
/// How much wider bold words run.
const BOLD: f64 = 1.12;
/// A depth this share short of the target is none the less there.
const NEARLY: f64 = 1e-3;

/// A run that is shorter, in s, is plotted as a point.
const SHORTEST_S: f64 = 1e-3;

/// One way to do the job.
#[derive(Debug, Clone, Copy)]
pub struct Compared<'a> {
    /// What it is called, in anyone's words.
    pub name: &'a str,
    /// Its run over time.
    pub trace: &'a Trace,
    /// Depth to etch, m.
    pub target_m: f64,
}

/// Plots one to eight alternatives under each other.
///
/// # Errors
/// When there are none or too many, or a trace has arrays of different lengths.
pub fn compare(items: &[Compared], title: &str, system: System) -> Painted<Plot> {
    if !(1..=MOST).contains(&items.len()) {
        let (items, expected) = (items.len(), format!("1 to {MOST}"));
        return Err(PlotError::Count { items, of: "alternatives to compare", expected });
    }
    for item in items {
        check_even(&format!("the trace of {:?}", one_line(item.name)), item.trace)?;
    }
    let scales = Scales::of(items, system);
    let alt = alt(items, system);
    let caption = Caption { heading: "Alternatives compared", title, alt: &alt };
    let rows = TOP + ROW * (items.len() as f64 - 1.0) + WORDS + PANEL;
    let entries: [Entry; 1] = [(Sign::Line(THIN, RUST.line, LIMIT_DASH), "target depth")];
    let height = rows + UNDER + key::height(&entries) + 0.5 * MARGIN;
    let svg = canvas::plot(height, &caption, |canvas| {
        scales.heads(canvas)?;
        for (n, item) in items.iter().enumerate() {
            let top = TOP + ROW * n as f64;
            scales.row(canvas, item, top, n + 1 == items.len(), system)?;
        }
        key::paint(canvas, rows + UNDER, &entries)
    })?;
    Ok(Plot { name: "compare", alt, svg })
}

/// What all rows have in common.
struct Scales {
    amps: Axis,
    depth: Axis,
    time: Axis,
    /// Of time.
    unit: String,
    /// Left and right edge of the panels of current and of depth.
    left: (f64, f64),
    right: (f64, f64),
}

impl Scales {
    fn of(items: &[Compared], system: System) -> Self {
        let currents = items.iter().map(|i| &i.trace.current_a[..]);
        let currents: Vec<&[f64]> = currents.chain([&[0.0][..]]).collect();
        let amps = scale::quantity(&currents, "A", 4);
        let targets: Vec<f64> = items.iter().map(|i| i.target_m).collect();
        let depths = items.iter().map(|i| &i.trace.depth_m).chain([&targets]);
        let deepest = scale::extent(depths.flatten()).map_or(0.0, |(_, deepest)| deepest);
        let depth = scale::depth(1.1 * deepest, system, 3);
        let wide = |axis: &Axis| {
            axis.ticks.iter().map(|(_, word)| width(word, TEXT)).fold(30.0, f64::max) + 14.0
        };
        // Beside and between the panels stand the words at their ticks.
        let (before, between) = (MARGIN + wide(&amps), 40.0 + wide(&depth));
        let each = (WIDTH - 1.5 * MARGIN - before - between) / 2.0;
        let left = (before, before + each);
        let right = (left.1 + between, left.1 + between + each);
        let ends = items.iter().map(|i| last(&i.trace.t_s)).filter(|t| *t > SHORTEST_S);
        let time = scale::time_to(ends.fold(0.0, f64::max), each);
        // Beside the last tick there is no room for the unit; it stands below.
        let unit = time.unit.clone();
        let time = Axis { unit: String::new(), ..time };
        Self { amps, depth, time, unit, left, right }
    }

    fn heads(&self, canvas: &Canvas) -> Painted<()> {
        let set = Type::plain(QUIET);
        let y = TOP - 16.0;
        canvas.text((MARGIN, y), &format!("current, {}", self.amps.unit), set)?;
        let at = (self.left.1 + 40.0, y);
        canvas.text(at, &format!("depth, {}", self.depth.unit), set)
    }

    /// One alternative: its name, how it ends, and its two panels.
    fn row(
        &self,
        canvas: &Canvas,
        item: &Compared,
        top: f64,
        last: bool,
        system: System,
    ) -> Painted<()> {
        let room = WIDTH - 2.0 * MARGIN;
        let name = shortened(&one_line(item.name), room / BOLD, TEXT);
        canvas.text((MARGIN, top + 16.0), &name, Type::plain(DARK).bold())?;
        let outcome = shortened(&outcome(item, system), room, TEXT);
        canvas.text((MARGIN, top + 45.0), &outcome, Type::plain(QUIET))?;
        let (above, under) = (top + WORDS, top + WORDS + PANEL);
        let frame = |(left, right)| Words { left, top: above, right, bottom: under };
        let target = item.target_m * self.depth.factor;
        let (t, trace) = (&item.trace.t_s, item.trace);
        let panels = [
            (frame(self.left), &self.amps, &trace.current_a, RUST, None),
            (frame(self.right), &self.depth, &trace.depth_m, SLATE, Some(target)),
        ];
        for (frame, axis, values, ink, target) in panels {
            let mut panel = Panel::new(canvas, frame, &self.time, axis);
            panel.grid()?;
            panel.uprights()?;
            panel.upright()?;
            panel.floor(last)?;
            if last {
                let at = ((frame.left + frame.right) / 2.0, under + 60.0);
                let words = format!("time, {}", self.unit);
                canvas.text(at, &words, Type::plain(QUIET).centred())?;
            }
            if let Some(target) = target.filter(|t| plottable(*t)) {
                panel.across_at(target, THIN, RUST.line, LIMIT_DASH)?;
            }
            let shown: Vec<f64> = values.iter().map(|x| x * axis.factor).collect();
            let line = panel.traced(t, &shown);
            canvas.line(&line, CURVE, ink.line, &[])?;
            if let Some(end) = line.last() {
                canvas.dot(*end, 7.0, ink.line)?;
            }
        }
        Ok(())
    }
}

/// How a run ends: "0.35 mm after 14 min", and what it lacks.
fn outcome(item: &Compared, system: System) -> String {
    if item.trace.t_s.is_empty() {
        return "no run".into();
    }
    let say = |m: f64| brief(system.depth(m), m, "m");
    let reached = last(&item.trace.depth_m);
    let after = lasting(&item.trace.t_s).replacen("in ", "after ", 1);
    let short = reached < item.target_m * (1.0 - NEARLY);
    if short && plottable(item.target_m) {
        format!("stops at {} {after}, short of {}", say(reached), say(item.target_m))
    } else {
        format!("{} {after}", say(reached))
    }
}

/// The sheet in one sentence.
fn alt(items: &[Compared], system: System) -> String {
    let of = |item: &Compared| {
        let trace = item.trace;
        let current = match trace.current_a[..] {
            [] => String::new(),
            _ => format!(", the current {}", course(&trace.current_a, say::current)),
        };
        format!("{}: {}{current}", one_line(item.name), outcome(item, system))
    };
    let parts: Vec<String> = items.iter().map(of).collect();
    let what = if items.len() == 1 { "run" } else { "runs compared" };
    format!("The {what} over time: {}.", parts.join("; "))
}
