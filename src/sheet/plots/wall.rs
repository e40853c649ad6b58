//! The wall chart: minutes to depth against bare area, a line for each number of cells, and
//! hatched where it does not go well. To be printed, also in black and white.

use super::canvas::{self, Canvas, Caption, Type, one_line};
use super::hatch::{hatch, tint};
use super::ink::{AXIS, DARK, Ground, PAPER, QUIET, SLATE};
use super::key::{self, Entry, Sign};
use super::labels::{Placer, Words, shortened, spread, width, wrap};
use super::panel::Panel;
use super::plot::Plot;
use super::regions::{OUTSIDE, Path, areas, places_within};
use super::scale::{Axis, extent, plottable};
use super::sizes::{At, LINE, MARGIN, TEXT, THIN, WIDTH};
use super::spaced;
use super::wall_words::{REASONS, alt, area, cells, note};
use super::words::with_sign;
use crate::advice::size::chart::{Bad, WallChart};
use crate::sheet::plots::error::Painted;
use crate::units::say::System;

/// Top and bottom of the panel.
const PANEL: (f64, f64) = (180.0, 726.0);
/// From the bottom of the panel to the key.
const UNDER: f64 = 82.0;
/// Width of a line where it goes well, where it does not, and of the white about that.
const GOOD: f64 = 5.0;
const POOR: f64 = 3.0;
const CLEAR: f64 = 8.0;
const POOR_DASH: &[f64] = &[12.0, 7.0];
/// How bad it is to write over a line that goes well, and over one that does not.
const OVER_GOOD: usize = 40;
const OVER_POOR: usize = 4;
/// A line that ends this near to the edge has its name beside the panel.
const BY_THE_EDGE: f64 = 40.0;
/// From the end of a line to its name.
const LEADER: f64 = 26.0;
/// Room over the longest time, and where there is something too slow to be named there; as
/// powers of the longest over the shortest.
const OVER_TOP: (f64, f64) = (0.06, 0.15);

/// Smallest area that is plotted over the largest: under it lines lie too near the corner.
const LEAST: f64 = 0.01;

/// Plots the wall chart of one kind of cell in one holder.
///
/// # Errors
/// When the plot cannot be written.
pub fn wall(chart: &WallChart, title: &str, system: System) -> Painted<Plot> {
    let (x, y) = axes(chart, system);
    let (unit, x) = (x.unit.clone(), Axis { unit: String::new(), ..x });
    let alt = one_line(&alt(chart, system));
    let heading = format!("Time to depth with {} cells", chart.cell);
    let heading = shortened(&heading, 0.72 * WIDTH, TEXT);
    let caption = Caption { heading: &heading, title, alt: &alt };
    let entries = entries(chart);
    let lines = key::note_lines(&with_sign(&note(chart, system)));
    let under = PANEL.1 + UNDER;
    let end = under + key::height(&entries) + 12.0;
    let height = end + LINE * lines.len() as f64 + MARGIN;
    let svg = canvas::plot(height, &caption, |canvas| {
        let left = y.ticks.iter().map(|(_, word)| width(word, TEXT)).fold(40.0, f64::max);
        let right = WIDTH - LEADER - width("8 cells", TEXT) - 0.5 * MARGIN;
        let frame = Words { left: MARGIN + left + 14.0, top: PANEL.0, right, bottom: PANEL.1 };
        let panel = Panel::new(canvas, frame, &x, &y);
        Sheet::of(chart, canvas, panel, &unit).paint(chart, system)?;
        key::paint(canvas, under, &entries)?;
        key::note(canvas, end, &lines)
    })?;
    Ok(Plot { name: "wall-chart", alt, svg })
}

/// Areas across, times upright.
fn axes(chart: &WallChart, system: System) -> (Axis, Axis) {
    let spots = || chart.lines.iter().flat_map(|line| &line.spots);
    let largest = largest(chart);
    let shown = spots().filter(|s| s.bare_m2 >= LEAST * largest);
    let times: Vec<f64> = shown.filter_map(|s| s.time_s).filter(|t| *t > 0.0).collect();
    let (low, high) = extent(&times).unwrap_or((60.0, 3600.0));
    let ratio = (high / low).clamp(4.0, 1e6);
    let slow = met(chart).any(|(bad, ..)| *bad == Bad::Slow);
    let over = libm::pow(ratio, if slow { OVER_TOP.1 } else { OVER_TOP.0 });
    let y =
        spaced::clock(low / libm::pow(ratio, OVER_TOP.0), high * over, PANEL.1 - PANEL.0, false);
    (spaced::area(largest, system, 0.7 * WIDTH), y)
}

/// Largest area, m2.
fn largest(chart: &WallChart) -> f64 {
    let spots = chart.lines.iter().flat_map(|line| &line.spots);
    let areas: Vec<f64> = spots.map(|s| s.bare_m2).chain([chart.own_bare_m2]).collect();
    extent(&areas).map_or(0.0, |(_, largest)| largest)
}

/// The reasons that the chart holds.
fn met(chart: &WallChart) -> impl Iterator<Item = &'static (Bad, &'static str, Ground)> {
    let spots = || chart.lines.iter().flat_map(|line| &line.spots);
    REASONS.iter().filter(move |(bad, ..)| spots().any(|s| s.bad == Some(*bad)))
}

/// The key: how lines and grounds are plotted.
fn entries(chart: &WallChart) -> Vec<Entry<'static>> {
    let mut list = vec![
        (Sign::Line(GOOD, SLATE.line, &[]), "does the job"),
        (Sign::Line(POOR, SLATE.line, POOR_DASH), "does not"),
    ];
    list.extend(met(chart).map(|(_, name, ground)| (Sign::Ground(ground), *name)));
    list
}

/// The panel with its lines.
struct Sheet<'c, 'a> {
    canvas: &'c Canvas<'a>,
    panel: Panel<'c, 'a>,
    paths: Vec<Path>,
    /// Areas with why it is bad there.
    areas: Vec<(Option<Bad>, Vec<At>)>,
    placer: Placer,
    /// Of area.
    unit: &'c str,
}

impl<'c, 'a> Sheet<'c, 'a> {
    fn of(chart: &WallChart, canvas: &'c Canvas<'a>, panel: Panel<'c, 'a>, unit: &'c str) -> Self {
        let least_m2 = LEAST * largest(chart);
        let paths: Vec<Path> =
            chart.lines.iter().map(|line| Path::of(line, least_m2, &panel)).collect();
        let areas = areas(&paths);
        let placer = Placer::new(panel.frame);
        Self { canvas, panel, paths, areas, placer, unit }
    }

    fn paint(&mut self, chart: &WallChart, system: System) -> Painted<()> {
        let grounds: Vec<(&Ground, Vec<Vec<At>>)> =
            met(chart).map(|(bad, _, ground)| (ground, self.region(Some(*bad)))).collect();
        grounds.iter().try_for_each(|(ground, areas)| tint(self.canvas, areas, ground))?;
        self.panel.grid()?;
        self.panel.uprights()?;
        grounds.iter().try_for_each(|(ground, areas)| hatch(self.canvas, areas, ground))?;
        self.panel.upright()?;
        self.panel.floor(true)?;
        self.names_of_axes()?;
        self.lines()?;
        self.own(chart.own_bare_m2, system)?;
        self.ends()?;
        for (bad, name, ground) in met(chart) {
            self.name_region(Some(*bad), name, Type::plain(ground.words))?;
        }
        if self.paths.iter().all(|path| path.end().is_none()) {
            let at = (self.panel.frame.left + 20.0, (PANEL.0 + PANEL.1) / 2.0);
            self.canvas.text(at, "no line reaches the depth", Type::plain(DARK))?;
            return Ok(());
        }
        self.name_region(None, "does the job", Type::plain(DARK).bold())
    }

    /// The areas where it is bad for one reason, or where it goes well.
    fn region(&self, bad: Option<Bad>) -> Vec<Vec<At>> {
        self.areas.iter().filter(|a| a.0 == bad).map(|a| a.1.clone()).collect()
    }

    fn names_of_axes(&self) -> Painted<()> {
        let f = &self.panel.frame;
        self.canvas.text((MARGIN, PANEL.0 - 66.0), "time to depth", Type::plain(QUIET))?;
        let at = ((f.left + f.right) / 2.0, f.bottom + 60.0);
        let words = format!("bare area of one piece, {}", self.unit);
        self.canvas.text(at, &words, Type::plain(QUIET).centred())
    }

    /// The lines: heavy where it goes well, broken and clear of the hatching where not.
    fn lines(&mut self) -> Painted<()> {
        for path in &self.paths {
            let stretches = path.timed();
            for part in &stretches {
                if part.bad.is_some() {
                    self.canvas.line(&part.points, CLEAR, PAPER, &[])?;
                    self.canvas.line(&part.points, POOR, SLATE.line, POOR_DASH)?;
                    self.placer.avoid(&part.points, OVER_POOR);
                } else {
                    self.canvas.line(&part.points, GOOD, SLATE.line, &[])?;
                    self.placer.avoid(&part.points, OVER_GOOD);
                }
            }
            if let Some(end) = path.end() {
                self.canvas.dot(end, 6.0, SLATE.line)?;
                self.placer.mark(end, 6.0);
            }
        }
        Ok(())
    }

    /// The job's own bare area: an upright line, named over the panel.
    fn own(&mut self, own_m2: f64, system: System) -> Painted<()> {
        if !(plottable(own_m2) && own_m2 > 0.0) {
            return Ok(());
        }
        let f = self.panel.frame;
        let x = self.panel.at(own_m2, 1.0).0;
        let line = [(x, f.top - 14.0), (x, f.bottom)];
        self.canvas.line(&line, 7.0, PAPER, &[])?;
        self.canvas.line(&line, THIN, DARK, &[])?;
        self.placer.avoid(&line, OVER_GOOD);
        let words = format!("this job: {}", with_sign(&area(own_m2, system)));
        let wide = width(&words, TEXT);
        let left = (x - wide / 2.0).clamp(MARGIN, WIDTH - MARGIN - wide);
        self.canvas.text((left, f.top - 32.0), &words, Type::plain(DARK).bold())
    }

    /// Names of the lines: where they end, or beside the panel with a line that leads there.
    fn ends(&mut self) -> Painted<()> {
        let f = self.panel.frame;
        let mut beside = Vec::new();
        let ends: Vec<At> = self.paths.iter().filter_map(Path::end).collect();
        for path in &self.paths {
            let Some(end) = path.end() else { continue };
            let name = cells(path.cells);
            let near = [(14.0, 0.0, 0), (14.0, -14.0, 2), (14.0, 16.0, 2), (14.0, 28.0, 4)];
            let back = -width(&name, TEXT) - 6.0;
            let near = near.into_iter().chain([(back, -22.0, 6), (back - 20.0, -30.0, 8)]);
            // Names stay clear of the lines that may lead from other ends to the edge.
            let clear = |at: &At| {
                let to = at.0 + width(&name, TEXT);
                ends.iter().all(|o| *o == end || o.0 > to || (o.1 - at.1).abs() > 0.7 * TEXT)
            };
            let places = near.map(|(x, y, far)| ((end.0 + x, end.1 + y), far));
            let places: Vec<(At, usize)> = places.filter(|(at, _)| clear(at)).collect();
            let free = if end.0 > f.right - BY_THE_EDGE {
                None
            } else {
                self.placer.place(&name, &places, 2 * OVER_POOR)
            };
            match free {
                Some(at) => self.on_clear_ground(at, &name, Type::plain(SLATE.words))?,
                None => beside.push((end, name)),
            }
        }
        let asked: Vec<f64> = beside.iter().map(|(end, _)| end.1).collect();
        let places = spread(&asked, LINE, f.top - TEXT, f.bottom + 0.4 * TEXT);
        for ((end, name), y) in beside.into_iter().zip(places) {
            let lead = [end, (f.right + 4.0, y), (f.right + LEADER - 8.0, y)];
            self.canvas.line(&lead, THIN, AXIS, &[])?;
            self.placer.avoid(&lead[..2], OVER_GOOD);
            self.canvas.text((f.right + LEADER, y), &name, Type::plain(SLATE.words))?;
        }
        Ok(())
    }

    /// Names a region within it, on one line or on two, where there is room.
    fn name_region(&mut self, bad: Option<Bad>, name: &str, set: Type) -> Painted<()> {
        let areas = self.region(bad);
        let bearable = if bad.is_some() { usize::MAX } else { 8 * OVER_POOR };
        let name = if set.bold { format!("{name} ") } else { name.to_string() };
        let in_two = wrap(&name, 0.66 * width(&name, TEXT), TEXT);
        for lines in [vec![name], in_two] {
            let mut places = places_within(&self.panel.frame, &areas, &lines);
            if bad.is_none() {
                places.retain(|(_, far)| *far < OUTSIDE);
            }
            if let Some(at) = self.placer.place_block(&lines, &places, bearable) {
                for (n, line) in lines.iter().enumerate() {
                    let at = (at.0, at.1 + LINE * n as f64);
                    match bad {
                        Some(_) => self.on_clear_ground(at, line, set)?,
                        None => self.canvas.text(at, line, set)?,
                    }
                }
                return Ok(());
            }
        }
        Ok(())
    }

    /// Words on white, so that they stand out from hatching.
    fn on_clear_ground(&self, at: At, words: &str, set: Type) -> Painted<()> {
        let to = (at.0 + width(words, TEXT) + 3.0, at.1 + 14.0);
        self.canvas.rectangle((at.0 - 5.0, at.1 - 14.0), to, PAPER)?;
        self.canvas.text(at, words, set)
    }
}
