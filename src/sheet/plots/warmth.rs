//! The ramp of hot spots: which colour a temperature has, and its key.

use super::canvas::{Canvas, Type};
use super::ink::{AXIS, DARK, heat};
use super::labels::width;
use super::scale::{extent, plottable};
use super::sizes::{MARGIN, TEXT, THIN};
use super::words::{brief, with_sign};
use crate::advice::size::chart::{Bar, CellChart};
use crate::sheet::plots::error::Painted;
use crate::units::say::System;
use plotters::style::RGBColor;

/// A hot spot that can be plotted, K.
pub fn warm(bar: &Bar) -> Option<f64> {
    bar.hot_spot_k.filter(|k| *k > 0.0 && plottable(*k))
}

/// Degrees as plotted.
pub fn degrees(k: f64, system: System) -> String {
    brief(with_sign(&system.temperature(k)), k, "K")
}

/// The ramp of hot spots.
pub struct Warmth {
    low_k: f64,
    high_k: f64,
    /// Whether the upper end is what a cell bears.
    limit: bool,
}

impl Warmth {
    /// From the coolest hot spot to what a cell bears, or to the hottest.
    pub fn of(chart: &CellChart) -> Self {
        let warm: Vec<f64> = chart.bars.iter().filter_map(warm).collect();
        let (low_k, high_k) = extent(&warm).unwrap_or((293.15, 293.15));
        let limit = plottable(chart.limit_k) && chart.limit_k >= high_k - 0.5;
        let high_k = if limit { chart.limit_k } else { high_k };
        Self { low_k, high_k, limit }
    }

    /// Where a hot spot lies on the ramp, 0..=1.
    pub fn share(&self, k: f64) -> f64 {
        let share = (k - self.low_k) / (self.high_k - self.low_k);
        if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
    }

    pub fn colour(&self, k: f64) -> RGBColor {
        heat(self.share(k))
    }

    /// The key of colours.
    pub fn paint(&self, canvas: &Canvas, y: f64, system: System) -> Painted<()> {
        const STEPS: usize = 24;
        const STEP: f64 = 8.0;
        let set = Type::plain(DARK);
        let low = format!("hot spot {}", degrees(self.low_k, system));
        canvas.text((MARGIN, y), &low, set)?;
        let left = MARGIN + width(&low, TEXT) + 14.0;
        let right = left + STEP * STEPS as f64;
        let edge = (left - THIN, y - 11.0 - THIN);
        canvas.rectangle(edge, (right + THIN, y + 11.0 + THIN), AXIS)?;
        for n in 0..STEPS {
            let from = left + STEP * n as f64;
            let colour = heat(n as f64 / (STEPS - 1) as f64);
            canvas.rectangle((from, y - 11.0), (from + STEP, y + 11.0), colour)?;
        }
        let high = degrees(self.high_k, system);
        let high = if self.limit { format!("{high} limit") } else { high };
        canvas.text((right + 14.0, y), &high, set)
    }
}
