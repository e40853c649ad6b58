//! What stands under a chart: a key to its signs, and a note.

use super::canvas::{Canvas, Type};
use super::hatch::{hatch, tint};
use super::ink::{AXIS, DARK, Ground, QUIET};
use super::labels::{width, wrap};
use super::sizes::{At, LINE, MARGIN, TEXT, THIN, WIDTH};
use crate::sheet::plots::error::Painted;
use plotters::style::RGBColor;

/// Width of a sign and what stands clear after it.
const SIGN: (f64, f64) = (52.0, 12.0);
/// From one entry to the next on its line.
const APART: f64 = 30.0;
/// From one line of the key to the next.
pub const ROW: f64 = 38.0;

/// A sign that is explained.
#[derive(Clone, Copy)]
pub enum Sign<'a> {
    Ground(&'a Ground),
    /// A line of a width, colour and dash.
    Line(f64, RGBColor, &'a [f64]),
    /// A mark, painted about a point.
    Mark(&'a dyn Fn(&Canvas, At) -> Painted<()>),
}

/// An entry of a key.
pub type Entry<'a> = (Sign<'a>, &'a str);

/// Where each entry starts: its line, and how far across.
fn places(entries: &[Entry]) -> Vec<(usize, f64)> {
    let (mut row, mut x) = (0, MARGIN);
    let mut list = Vec::new();
    for (_, words) in entries {
        let wide = SIGN.0 + SIGN.1 + width(words, TEXT);
        if x > MARGIN && x + wide > WIDTH - 0.5 * MARGIN {
            (row, x) = (row + 1, MARGIN);
        }
        list.push((row, x));
        x += wide + APART;
    }
    list
}

/// Height of a key.
pub fn height(entries: &[Entry]) -> f64 {
    places(entries).last().map_or(0.0, |(row, _)| ROW * (*row as f64 + 1.0))
}

/// Paints a key from `top` downwards.
pub fn paint(canvas: &Canvas, top: f64, entries: &[Entry]) -> Painted<()> {
    for ((sign, words), (row, x)) in entries.iter().zip(places(entries)) {
        let y = top + ROW * (row as f64 + 0.5);
        match sign {
            Sign::Ground(ground) => swatch(canvas, (x, y), ground)?,
            Sign::Line(wide, colour, dash) => {
                canvas.line(&[(x, y), (x + SIGN.0, y)], *wide, *colour, dash)?;
            }
            Sign::Mark(mark) => mark(canvas, (x + SIGN.0 / 2.0, y))?,
        }
        canvas.text((x + SIGN.0 + SIGN.1, y), words, Type::plain(DARK))?;
    }
    Ok(())
}

fn swatch(canvas: &Canvas, at: At, ground: &Ground) -> Painted<()> {
    let (left, right) = (at.0, at.0 + SIGN.0);
    let (top, bottom) = (at.1 - 14.0, at.1 + 14.0);
    let corners = vec![(left, top), (right, top), (right, bottom), (left, bottom)];
    let frame: Vec<At> = corners.iter().chain(corners.first()).copied().collect();
    let area = [corners];
    tint(canvas, &area, ground)?;
    hatch(canvas, &area, ground)?;
    canvas.line(&frame, THIN, AXIS, &[])
}

/// The lines of a note.
pub fn note_lines(note: &str) -> Vec<String> {
    wrap(note, WIDTH - 2.0 * MARGIN, TEXT)
}

/// Writes a note from `top` downwards.
pub fn note(canvas: &Canvas, top: f64, lines: &[String]) -> Painted<()> {
    for (n, line) in lines.iter().enumerate() {
        let at = (MARGIN, top + LINE * (n as f64 + 0.5));
        canvas.text(at, line, Type::plain(QUIET))?;
    }
    Ok(())
}
