//! One panel: frame, ticks and grid, curves with their names at their ends, limits with
//! theirs on the line.

use super::canvas::{Canvas, Type};
use super::ink::{AXIS, BAND, BAND_EDGE, DARK, GRID, Ink, LIMIT_DASH, PAPER, QUIET};
use super::labels::{Placer, Words, spread, width};
use super::scale::{Axis, plottable};
use super::sizes::{At, LINE, MARGIN, TEXT, THIN, WIDTH};
use crate::sheet::plots::error::Painted;
use plotters::style::RGBColor;

/// Width of a curve, units.
const CURVE: f64 = 4.5;
/// From the panel's right edge to the words beside it.
const LEADER: f64 = 24.0;
/// How much wider bold words run.
const BOLD: f64 = 1.12;
/// How bad it is to write over a curve or a limit, and over the grid.
const STRONG: usize = 20;
const FAINT: usize = 1;
/// How bad it is to name a limit a line of words away from it.
const FAR: usize = 60;
/// Points nearer to each other than this, in units, are plotted as one.
const NEAR: f64 = 1.0;

/// A curve with what is said at its end.
pub struct Curve {
    /// Name; empty when the panel has only one.
    pub name: &'static str,
    /// Last value in words.
    pub end: String,
    pub ink: Ink,
    /// Values as shown on the axis, one for each time.
    pub shown: Vec<f64>,
}

impl Curve {
    fn lines(&self) -> impl Iterator<Item = &str> {
        [self.name, &self.end].into_iter().filter(|line| !line.is_empty())
    }
}

/// A level that must not be crossed, or that is to be reached.
pub struct Limit {
    pub label: String,
    pub ink: Ink,
    /// As shown on the axis.
    pub at: f64,
}

/// Left and right edge of panels under each other: room for ticks, and for what stands at
/// the ends of curves.
pub fn edges(axes: &[&Axis], curves: &[&Curve]) -> (f64, f64) {
    let ticks = axes.iter().flat_map(|axis| &axis.ticks);
    let left = ticks.map(|(_, word)| width(word, TEXT)).fold(30.0, f64::max);
    let ends = curves.iter().flat_map(|curve| curve.lines());
    let right = ends.map(|line| BOLD * width(line, TEXT)).fold(60.0, f64::max);
    let right = (right + LEADER + 0.5 * MARGIN).min(0.4 * WIDTH);
    (MARGIN + left + 14.0, WIDTH - right)
}

/// A panel on paper.
pub struct Panel<'c, 'a> {
    canvas: &'c Canvas<'a>,
    /// Where it stands.
    pub frame: Words,
    x: &'c Axis,
    y: &'c Axis,
    placer: Placer,
}

impl<'c, 'a> Panel<'c, 'a> {
    pub fn new(canvas: &'c Canvas<'a>, frame: Words, x: &'c Axis, y: &'c Axis) -> Self {
        Self { canvas, frame, x, y, placer: Placer::new(frame) }
    }

    /// Where a time in s and a shown value lie on paper.
    pub fn at(&self, t_s: f64, shown: f64) -> At {
        (self.across(t_s), self.down(shown))
    }

    fn across(&self, t_s: f64) -> f64 {
        let f = &self.frame;
        f.left + self.x.share(t_s * self.x.factor) * (f.right - f.left)
    }

    /// What a value in SI is multiplied by to be shown.
    pub fn y_factor(&self) -> f64 {
        self.y.factor
    }

    /// Height of a shown value on paper.
    pub fn down(&self, shown: f64) -> f64 {
        let f = &self.frame;
        f.bottom - self.y.share(shown) * (f.bottom - f.top)
    }

    /// What the panel shows and in which unit, over its upper left corner.
    pub fn name(&self, what: &str) -> Painted<()> {
        let text = format!("{what}, {}", self.y.unit);
        self.canvas.text((MARGIN, self.frame.top - 36.0), &text, Type::plain(QUIET))
    }

    /// Fills spans of time, s, from top to bottom.
    pub fn shade(&self, spans: &[(f64, f64)], colour: RGBColor) -> Painted<()> {
        let f = &self.frame;
        spans.iter().try_for_each(|(from, to)| {
            let (left, right) = (self.across(*from), self.across(*to));
            self.canvas.rectangle((left, f.top), (right, f.bottom), colour)
        })
    }

    /// Names spans of time, s, each where it is wide enough and words are free to stand.
    pub fn span_words(&mut self, word: &str, spans: &[(f64, f64)]) -> Painted<()> {
        let f = self.frame;
        let wide = width(word, TEXT);
        for (from, to) in spans {
            let (left, right) = (self.across(*from), self.across(*to));
            if right - left < wide + 8.0 {
                continue;
            }
            let x = (left + right - wide) / 2.0;
            let heights = (0..).map(|n| f.bottom - 20.0 - 6.0 * f64::from(n));
            let heights = heights.take_while(|y| *y > f.top);
            let places: Vec<(At, usize)> = heights.map(|y| ((x, y), 0)).collect();
            // The grid may run behind them, nothing else.
            if let Some(at) = self.placer.place(word, &places, STRONG - 1) {
                self.canvas.text(at, word, Type::plain(QUIET))?;
            }
        }
        Ok(())
    }

    /// Lines across at every tick.
    pub fn grid(&mut self) -> Painted<()> {
        for (shown, _) in &self.y.ticks {
            self.across_at(*shown, THIN, GRID, &[])?;
            self.keep_off(*shown, FAINT);
        }
        Ok(())
    }

    /// Keeps words off a level.
    fn keep_off(&mut self, shown: f64, weight: usize) {
        let y = self.down(shown);
        self.placer.avoid(&[(self.frame.left, y), (self.frame.right, y)], weight);
    }

    /// A line from edge to edge.
    pub fn across_at(&self, shown: f64, width: f64, colour: RGBColor, dash: &[f64]) -> Painted<()> {
        let y = self.down(shown);
        self.canvas.line(&[(self.frame.left, y), (self.frame.right, y)], width, colour, dash)
    }

    /// Lines upright at every tick.
    pub fn uprights(&self) -> Painted<()> {
        let f = &self.frame;
        for (shown, _) in &self.x.ticks {
            let x = f.left + self.x.share(*shown) * (f.right - f.left);
            self.canvas.line(&[(x, f.top), (x, f.bottom)], THIN, GRID, &[])?;
        }
        Ok(())
    }

    /// Words at the ticks of the upright axis.
    pub fn upright(&self) -> Painted<()> {
        let set = Type::plain(QUIET).to_the_left();
        for (shown, word) in &self.y.ticks {
            self.canvas.text((self.frame.left - 14.0, self.down(*shown)), word, set)?;
        }
        Ok(())
    }

    /// The line of time under the panel; with its words where `words`.
    pub fn floor(&self, words: bool) -> Painted<()> {
        let f = &self.frame;
        self.canvas.line(&[(f.left, f.bottom), (f.right, f.bottom)], THIN, AXIS, &[])?;
        let mut free = f.right + 12.0;
        for (shown, word) in &self.x.ticks {
            let x = f.left + self.x.share(*shown) * (f.right - f.left);
            self.canvas.line(&[(x, f.bottom), (x, f.bottom + 9.0)], THIN, AXIS, &[])?;
            if words {
                let set = Type::plain(QUIET).centred();
                self.canvas.text((x, f.bottom + 29.0), word, set)?;
                free = free.max(x + width(word, TEXT) / 2.0 + 14.0);
            }
        }
        if words && !self.x.unit.is_empty() {
            let set = Type::plain(QUIET);
            self.canvas.text((free, f.bottom + 29.0), &self.x.unit, set)?;
        }
        Ok(())
    }

    /// A curve on paper, without the points that could not be told apart there.
    pub fn traced(&self, t_s: &[f64], shown: &[f64]) -> Vec<At> {
        let sound = t_s.iter().zip(shown).filter(|(t, x)| plottable(**t) && plottable(**x));
        let all: Vec<At> = sound.map(|(t, x)| self.at(*t, *x)).collect();
        let mut kept: Vec<At> = Vec::new();
        for (n, p) in all.iter().enumerate() {
            let far = kept.last().is_none_or(|k| libm::hypot(p.0 - k.0, p.1 - k.1) >= NEAR);
            if far || n + 1 == all.len() {
                kept.push(*p);
            }
        }
        kept
    }

    /// Fills what lies between two curves, and paints its edges.
    pub fn band(&mut self, t_s: &[f64], low: &[f64], high: &[f64]) -> Painted<()> {
        let edges = [low, high].map(|edge| self.traced(t_s, edge));
        if edges.iter().any(|edge| edge.len() < 2) {
            return Ok(());
        }
        let around: Vec<At> = edges[0].iter().chain(edges[1].iter().rev()).copied().collect();
        self.canvas.area(&around, BAND)?;
        for edge in &edges {
            self.canvas.line(edge, THIN, BAND_EDGE, &[])?;
            self.placer.avoid(edge, FAINT);
        }
        Ok(())
    }

    /// Paints curves, the last one on top.
    pub fn curves(&mut self, t_s: &[f64], curves: &[&Curve]) -> Painted<()> {
        for curve in curves {
            let line = self.traced(t_s, &curve.shown);
            self.placer.avoid(&line, STRONG);
            let run = line.first().zip(line.last()).map_or(0.0, |(a, b)| (b.0 - a.0).abs());
            match line.last() {
                Some(only) if run < NEAR => self.canvas.dot(*only, 7.0, curve.ink.line)?,
                _ => self.canvas.line(&line, CURVE, curve.ink.line, curve.ink.dash)?,
            }
        }
        Ok(())
    }

    /// Names and last values beside the ends of curves, each with a line that leads to it.
    pub fn ends(&self, curves: &[&Curve]) -> Painted<()> {
        let f = &self.frame;
        let lines = curves.iter().map(|c| c.lines().count()).max().unwrap_or(1);
        let room = LINE * lines as f64 + 8.0;
        let asked: Vec<f64> =
            curves.iter().map(|c| self.down(c.shown.last().copied().unwrap_or_default())).collect();
        let places = spread(&asked, room, f.top - 0.4 * TEXT, f.bottom + 0.4 * TEXT);
        for ((curve, asked), y) in curves.iter().zip(asked).zip(places) {
            let lead = [(f.right + 3.0, asked), (f.right + LEADER - 7.0, y)];
            if curve.shown.len() > 1 {
                self.canvas.line(&lead, THIN, curve.ink.line, &[])?;
            }
            let set = Type::plain(curve.ink.words);
            let top = y - LINE * (curve.lines().count() as f64 - 1.0) / 2.0;
            for (n, line) in curve.lines().enumerate() {
                let at = (f.right + LEADER, top + n as f64 * LINE);
                let value = line == curve.end;
                self.canvas.text(at, line, if value { set.bold() } else { set })?;
            }
        }
        Ok(())
    }

    /// Paints limits as broken lines.
    pub fn limit_lines(&mut self, limits: &[Limit]) -> Painted<()> {
        for limit in limits {
            self.across_at(limit.at, THIN, limit.ink.line, LIMIT_DASH)?;
            self.keep_off(limit.at, STRONG);
        }
        Ok(())
    }

    /// Names limits, each beside its line where nothing else is.
    pub fn limit_words(&mut self, limits: &[Limit]) -> Painted<()> {
        let ends = (self.frame.left, self.frame.right);
        for limit in limits {
            let y = self.down(limit.at);
            let room = ends.1 - ends.0 - width(&limit.label, TEXT);
            let across = [(8.0, 0), (room - 8.0, 10), (room / 2.0, 20)];
            let beside = [(-18.0, 0), (20.0, 0), (-48.0, FAR), (50.0, FAR), (84.0, 2 * FAR)];
            let places =
                across.map(|(dx, odd)| beside.map(|(dy, far)| ((ends.0 + dx, y + dy), odd + far)));
            let Some(at) = self.placer.place(&limit.label, places.as_flattened(), usize::MAX)
            else {
                continue;
            };
            self.canvas.text(at, &limit.label, Type::plain(limit.ink.words))?;
        }
        Ok(())
    }

    /// Words where they are free to stand, in quiet colour; left out where they are not.
    pub fn remark(&mut self, words: &str, places: &[At]) -> Painted<()> {
        let places: Vec<(At, usize)> = places.iter().map(|at| (*at, 0)).collect();
        if let Some(at) = self.placer.place(words, &places, 0) {
            self.canvas.text(at, words, Type::plain(QUIET))?;
        }
        Ok(())
    }

    /// Where one source gives way to the next.
    pub fn changes(&mut self, changes_s: &[f64]) -> Painted<()> {
        // Words stand over the frame, where nothing else does; none where two would meet.
        const OVER: f64 = 12.0;
        let f = self.frame;
        let mut free = f.left;
        for (n, t) in changes_s.iter().enumerate() {
            let x = self.at(*t, 0.0).0;
            self.canvas.line(&[(x, f.top), (x, f.bottom)], 1.2, QUIET, &[3.0, 4.0])?;
            let word = if n == 0 { "source " } else { "" };
            let words = format!("{word}{}", n + 2);
            if x >= free && x + width(&words, TEXT) <= f.right {
                self.canvas.text((x, f.top - OVER), &words, Type::plain(QUIET))?;
                free = x + width(&words, TEXT) + OVER;
            }
        }
        Ok(())
    }

    /// Rings on a curve, each with words beside it where there is room.
    pub fn rings(&mut self, rings: &[(At, String)]) -> Painted<()> {
        for (at, _) in rings {
            self.canvas.dot(*at, 10.0, DARK)?;
            self.canvas.dot(*at, 6.5, PAPER)?;
            self.placer.mark(*at, 10.0);
        }
        for (at, words) in rings {
            let wide = width(words, TEXT);
            let mut places = vec![
                ((at.0 + 20.0, at.1 - 18.0), 0),
                ((at.0 + 8.0, at.1 - 32.0), 0),
                ((at.0 - wide - 20.0, at.1 + 20.0), 0),
                ((at.0 - wide / 2.0, at.1 + 36.0), 0),
            ];
            let by_the_edge = self.frame.right - wide - 4.0;
            if by_the_edge < at.0 {
                places.extend([60.0, 90.0].map(|up| ((by_the_edge, at.1 - up), 0)));
            }
            if let Some(at) = self.placer.place(words, &places, 0) {
                self.canvas.text(at, words, Type::plain(DARK))?;
            }
        }
        Ok(())
    }
}
