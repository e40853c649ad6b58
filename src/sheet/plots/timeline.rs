//! The day as lanes over the clock: one for each source, one for the hands, breaks shaded.
//!
//! A piece's stay on a source is an outlined bar with its number; in it the current on is
//! dark, off is pale. Looks are notches under the lane. A swap is a striped block. So
//! lightness and shape tell all apart, not colour. The numbers are explained underneath.

use super::canvas::{self, Canvas, Caption, Type};
use super::ink::{AXIS, DARK, GRID, METAL, PAPER, QUIET, RUST, SLATE};
use super::labels::{shortened, width};
use super::plot::Plot;
use super::sizes::{LINE, MARGIN, TEXT, THIN, WIDTH};
use crate::advice::day::{DayPlan, Entry, Task, Work};
use crate::job::Day;
use crate::job::clock::clock;
use crate::sheet::plots::error::Painted;
use crate::sheet::words::day::piece_name;
use crate::units::say;

const TOP: f64 = 128.0;
/// From one lane's name to the next one's.
const LANE: f64 = 116.0;
/// A bar: its top under its lane's top, and its height.
const BAR: (f64, f64) = (40.0, 46.0);
const AXIS_ROOM: f64 = 56.0;
/// Break bands.
const BREAK: plotters::style::RGBColor = METAL;

/// Plots the time line of a day that can be done.
///
/// # Errors
/// When it cannot be plotted.
pub fn timeline(day: &Day, plan: &DayPlan) -> Painted<Plot> {
    let lanes = day.sources.len() + 1;
    let bottom = TOP + LANE * lanes as f64;
    let key = bottom + AXIS_ROOM;
    let swaps = usize::from(plan.recharges().next().is_some());
    let height = key + LINE * ((plan.entries.len() + swaps) as f64 + 1.0) + MARGIN;
    let alt = alt(day, plan);
    let caption = Caption { heading: "The day at the bench", title: &day.title, alt: &alt };
    let svg = canvas::plot(height, &caption, |canvas| {
        let chart = Chart { canvas, day, plan, end: plan.end_s.unwrap_or(1.0).max(1.0), bottom };
        chart.breaks()?;
        chart.axis()?;
        chart.break_words()?;
        for n in 0..day.sources.len() {
            chart.source(n)?;
        }
        chart.hands(lanes - 1)?;
        chart.key(key)
    })?;
    Ok(Plot { name: "timeline", alt, svg })
}

fn alt(day: &Day, plan: &DayPlan) -> String {
    let one = |e: &Entry| {
        format!(
            "{} on {} from {} to {}",
            piece_name(day, e.kind, e.copy),
            day.sources[e.source].name,
            clock(day.start_s, e.etched.hang_up.0),
            clock(day.start_s, e.etched.take_down.1)
        )
    };
    let all: Vec<String> = plan.entries.iter().map(one).collect();
    let end = clock(day.start_s, plan.end_s.unwrap_or_default());
    format!("The day from {} to {end}: {}.", clock(day.start_s, 0.0), all.join("; "))
}

struct Chart<'c, 'a> {
    canvas: &'c Canvas<'a>,
    day: &'c Day,
    plan: &'c DayPlan,
    end: f64,
    bottom: f64,
}

impl Chart<'_, '_> {
    fn x(&self, t_s: f64) -> f64 {
        MARGIN + (WIDTH - 2.0 * MARGIN) * (t_s / self.end).clamp(0.0, 1.0)
    }

    fn breaks(&self) -> Painted<()> {
        for (from, to) in self.day.breaks.iter().filter(|b| b.0 < self.end) {
            let (left, right) = (self.x(*from), self.x(*to));
            self.canvas.rectangle((left, TOP - 24.0), (right, self.bottom), BREAK)?;
        }
        Ok(())
    }

    fn break_words(&self) -> Painted<()> {
        for (from, to) in self.day.breaks.iter().filter(|b| b.0 < self.end) {
            let (left, right) = (self.x(*from), self.x(*to));
            if right - left > width("break", TEXT) {
                let (at, half) = ((0.5 * (left + right), TOP - 8.0), 0.5 * width("break", TEXT));
                // Over the grid's lines.
                let corners = ((at.0 - half, TOP - 22.0), (at.0 + half, TOP + 6.0));
                self.canvas.rectangle(corners.0, corners.1, BREAK)?;
                self.canvas.text(at, "break", Type::plain(QUIET).centred())?;
            }
        }
        Ok(())
    }

    /// The clock under the lanes, at a step that leaves each word its room.
    fn axis(&self) -> Painted<()> {
        let room = 1.7 * width("12:00", TEXT) / (WIDTH - 2.0 * MARGIN) * self.end;
        let steps = [5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 180.0, 360.0, 720.0, 1440.0];
        let step = steps.map(|m| m * 60.0).into_iter().find(|s| *s >= room).unwrap_or(room);
        let mut t = (self.day.start_s / step).ceil() * step - self.day.start_s;
        while t <= self.end {
            let x = self.x(t);
            self.canvas.line(&[(x, TOP - 24.0), (x, self.bottom)], THIN, GRID, &[])?;
            let half = 0.5 * width("12:00", TEXT);
            let word_at = x.clamp(MARGIN + half - 8.0, WIDTH - MARGIN - half + 8.0);
            let word = clock(self.day.start_s, t);
            let word = word.split(' ').next().unwrap_or_default();
            let set = Type::plain(QUIET).centred();
            self.canvas.text((word_at, self.bottom + 24.0), word, set)?;
            t += step;
        }
        let ends = [(MARGIN, self.bottom), (WIDTH - MARGIN, self.bottom)];
        self.canvas.line(&ends, THIN, AXIS, &[])
    }

    /// A lane's name; the top of its bars.
    fn lane(&self, n: usize, name: &str) -> Painted<f64> {
        let top = TOP + LANE * n as f64;
        let name = shortened(name, WIDTH - 2.0 * MARGIN, TEXT);
        self.canvas.text((MARGIN, top + 20.0), &name, Type::plain(DARK).bold())?;
        Ok(top + BAR.0)
    }

    fn block(&self, from: f64, to: f64, top: f64, low: f64, ink: Fill) -> Painted<()> {
        // Even a moment's work must be seen.
        let (left, right) = (self.x(from), self.x(to).max(self.x(from) + 3.0));
        self.canvas.rectangle((left, top), (right, low), ink.0)
    }

    fn source(&self, n: usize) -> Painted<()> {
        let top = self.lane(n, &self.day.sources[n].name)?;
        let low = top + BAR.1;
        let numbered = self.plan.entries.iter().enumerate();
        for (k, entry) in numbered.filter(|(_, e)| e.source == n) {
            let done = &entry.etched;
            let (from, to) = (done.hang_up.0, done.take_down.1);
            self.block(from, to, top, low, PALE)?;
            for (a, b) in &done.on {
                self.block(*a, *b, top, low, ON)?;
            }
            self.frame(from, to, top, low)?;
            for look in &done.looks {
                self.notch(look.at_s, low)?;
            }
            self.number(k + 1, entry, 0.5 * (top + low))?;
        }
        for swap in self.plan.recharges().filter(|t| t.source == n) {
            self.striped(swap, top, low)?;
        }
        Ok(())
    }

    fn frame(&self, from: f64, to: f64, top: f64, low: f64) -> Painted<()> {
        let (left, right) = (self.x(from), self.x(to));
        let round = [(left, top), (right, top), (right, low), (left, low), (left, top)];
        self.canvas.line(&round, THIN, SLATE.line, &[])
    }

    /// A piece's number on its longest stretch of current, or failing room there on a plate.
    fn number(&self, n: usize, entry: &Entry, middle: f64) -> Painted<()> {
        let (word, done) = (n.to_string(), &entry.etched);
        let half = 0.5 * width(&word, TEXT) + 4.0;
        let longest = |a: &&(f64, f64), b: &&(f64, f64)| (a.1 - a.0).total_cmp(&(b.1 - b.0));
        let stretch = done.on.iter().max_by(longest).copied().unwrap_or_default();
        let room = |(from, to): (f64, f64)| self.x(to) - self.x(from) >= 2.0 * half;
        let centre = |(from, to): (f64, f64)| 0.5 * (self.x(from) + self.x(to));
        let whole = (done.hang_up.0, done.take_down.1);
        if room(stretch) {
            let set = Type::plain(PAPER).bold().centred();
            return self.canvas.text((centre(stretch), middle), &word, set);
        }
        if !room(whole) {
            return Ok(());
        }
        let at = centre(whole);
        let plate = |grow: f64, ink| {
            let (wide, high) = (half + grow, 14.0 + grow);
            let corners = ((at - wide, middle - high), (at + wide, middle + high));
            self.canvas.rectangle(corners.0, corners.1, ink)
        };
        plate(0.0, SLATE.line)?;
        plate(-2.0, PAPER)?;
        self.canvas.text((at, middle), &word, Type::plain(DARK).bold().centred())
    }

    /// A notch under a bar where a look is due.
    fn notch(&self, at: f64, low: f64) -> Painted<()> {
        let x = self.x(at);
        let points = [(x, low + 3.0), (x - 8.0, low + 19.0), (x + 8.0, low + 19.0)];
        self.canvas.area(&points, RUST.line)
    }

    fn striped(&self, task: &Task, top: f64, low: f64) -> Painted<()> {
        let (left, right) = (self.x(task.start_s), self.x(task.end_s));
        self.canvas.rectangle((left, top), (right, low), PAPER)?;
        self.frame(task.start_s, task.end_s, top, low)?;
        let wide = right - left;
        for n in 1..4 {
            let y = top + (low - top) * f64::from(n) / 4.0;
            self.canvas.line(&[(left, y), (left + wide, y)], THIN, SLATE.line, &[])?;
        }
        Ok(())
    }

    fn hands(&self, n: usize) -> Painted<()> {
        let top = self.lane(n, "hands")?;
        let low = top + BAR.1;
        for task in &self.plan.hands {
            match task.what {
                Work::Look => self.block(task.start_s, task.end_s, top, low, LOOK)?,
                Work::Swap => self.striped(task, top, low)?,
                Work::HangUp | Work::TakeDown => {
                    self.block(task.start_s, task.end_s, top, low, PALE)?;
                    self.frame(task.start_s, task.end_s, top, low)?;
                }
            }
        }
        Ok(())
    }

    /// What the marks mean, and which piece has which number.
    fn key(&self, top: f64) -> Painted<()> {
        let y = top + 8.0;
        let mut at = MARGIN;
        for (word, fill) in [("current on", ON), ("a look", LOOK), ("other work, or off", PALE)] {
            self.canvas.rectangle((at, y - 11.0), (at + 22.0, y + 11.0), SLATE.line)?;
            self.canvas.rectangle((at + 2.5, y - 8.5), (at + 19.5, y + 8.5), fill.0)?;
            self.canvas.text((at + 30.0, y), word, Type::plain(QUIET))?;
            at += 30.0 + width(word, TEXT) + 18.0;
        }
        let mut lines: Vec<String> = Vec::new();
        for (n, e) in self.plan.entries.iter().enumerate() {
            let on: f64 = e.etched.on.iter().map(|(a, b)| b - a).sum();
            let name = piece_name(self.day, e.kind, e.copy);
            lines.push(format!("{}: {name}, {} of current", n + 1, say::time(on)));
        }
        if self.plan.recharges().next().is_some() {
            lines.push("striped: fresh charge".into());
        }
        for (n, words) in lines.iter().enumerate() {
            let words = shortened(words, WIDTH - 2.0 * MARGIN, TEXT);
            let y = top + LINE * (n as f64 + 1.0) + 12.0;
            self.canvas.text((MARGIN, y), &words, Type::plain(DARK))?;
        }
        Ok(())
    }
}

/// What fills a block.
#[derive(Clone, Copy)]
struct Fill(plotters::style::RGBColor);

const ON: Fill = Fill(SLATE.line);
const PALE: Fill = Fill(PAPER);
const LOOK: Fill = Fill(RUST.line);
