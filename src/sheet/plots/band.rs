//! Where depth, current and warmth lie eight times in ten: an area behind the curve, and
//! what the key says of it.

use super::canvas::Canvas;
use super::ink::{BAND, BAND_EDGE, SLATE};
use super::key::{self, Entry, Sign};
use super::panel::Panel;
use super::sizes::{At, TEXT, THIN};
use super::view::View;
use crate::advice::spread::bands::{Band, Bands};
use crate::sheet::plots::error::{Painted, even};

/// Line of the fast case: width and dashes.
pub const FAST: (f64, &[f64]) = (3.0, &[12.0, 9.0]);
/// Name of it in the key.
const FAST_NAME: &str = "fast case, 1 in 10 is deeper";
/// From the bottom of a panel with its words to the key.
const UNDER: f64 = 52.0;
/// Left free under a key.
const FREE: f64 = 10.0;

/// A band as shown on an axis: lower and upper edge.
pub struct Shown<'a> {
    pub t_s: &'a [f64],
    pub low: Vec<f64>,
    pub high: Vec<f64>,
}

impl<'a> Shown<'a> {
    /// One of the bands of a view, where it has any, shown as `show` does.
    pub fn of(
        view: &View<'a>,
        which: impl Fn(&'a Bands) -> Option<&'a Band>,
        show: impl Fn(f64) -> f64,
    ) -> Option<Self> {
        let bands = view.bands?;
        let band = which(bands)?;
        let shown = |edge: &[f64]| edge.iter().map(|x| show(*x)).collect();
        Some(Self { t_s: &bands.t_s, low: shown(&band.low), high: shown(&band.high) })
    }

    /// Paints it.
    pub fn paint(&self, panel: &mut Panel) -> Painted<()> {
        panel.band(self.t_s, &self.low, &self.high)
    }
}

/// What the key explains: the band under its name, and on the depth its fast edge.
pub fn entries(band: Option<&Shown>, name: &'static str, fast: bool) -> Vec<Entry<'static>> {
    let line = (Sign::Line(FAST.0, SLATE.line, FAST.1), FAST_NAME);
    let list = [Some((Sign::Mark(&sign), name)), fast.then_some(line)];
    list.into_iter().flatten().filter(|_| band.is_some()).collect()
}

/// Height of a plot whose last panel ends at `bottom`, with room for a key.
pub fn height(without: f64, bottom: f64, entries: &[Entry]) -> f64 {
    if entries.is_empty() { without } else { bottom + UNDER + key::height(entries) + FREE }
}

/// Paints the key under a panel that ends at `bottom`.
pub fn paint_key(canvas: &Canvas, bottom: f64, entries: &[Entry]) -> Painted<()> {
    key::paint(canvas, bottom + UNDER, entries)
}

/// Bands must hold as many points as times.
pub fn check(bands: &Bands) -> Painted<()> {
    let points = bands.t_s.len();
    let hot = bands.hot_spot_k.as_ref();
    for band in [Some(&bands.depth_m), Some(&bands.current_a), hot].into_iter().flatten() {
        for edge in [&band.low, &band.high] {
            even("a band", "an edge", edge.len(), points)?;
        }
    }
    Ok(())
}

/// "; eight times in ten it is 1.6 A to 2.1 A", at the end.
pub fn said(band: Option<&Band>, what: &str, say: impl Fn(f64) -> String) -> String {
    let ends = band.and_then(|b| Some((*b.low.last()?, *b.high.last()?)));
    ends.map_or_else(String::new, |(low, high)| {
        format!("; eight times in ten {what} is then {} to {}", say(low), say(high))
    })
}

fn sign(canvas: &Canvas, at: At) -> Painted<()> {
    let (wide, high) = (TEXT, 13.0);
    canvas.rectangle((at.0 - wide, at.1 - high), (at.0 + wide, at.1 + high), BAND)?;
    [-high, high].into_iter().try_for_each(|dy| {
        let y = at.1 + dy;
        canvas.line(&[(at.0 - wide, y), (at.0 + wide, y)], THIN, BAND_EDGE, &[])
    })
}
