//! What a step runs into: a corner of a cell's curves, or an end of the run; and the step cut there.

use super::events::{self, Margins};
use super::simulate::March;
use super::state::State;
use super::stepper::Step;

/// Stopping times are found to this, s: a hundredth of what the model asks.
const TIME_TOLERANCE_S: f64 = 1e-5;

/// Where a step ends early, as a share of it, and why.
pub(super) struct Hit {
    pub(super) share: f64,
    /// Margins at the last sample before it, and the sample's share.
    before: (f64, Margins),
    pub(super) stop: Option<usize>,
}

impl March<'_> {
    /// The first thing that the step runs into.
    pub(super) fn first_hit(&mut self, step: &Step) -> Option<Hit> {
        let mut before = (0.0, self.margins());
        for share in [0.5, 1.0] {
            let whole = share == 1.0;
            let y = if whole { step.to } else { step.between(share) };
            let corner = self.corner(step, &y, before.0, share);
            let (mut margins, mut stop) = (before.1, None);
            if self.on {
                margins = match events::margins_off(self.setup, &y, self.segments) {
                    _ if whole => events::margins(self.setup, &y, &step.at),
                    Some(margins) => margins,
                    None => events::margins(self.setup, &y, &self.solver.at(&y, self.segments)),
                };
                stop = self.earliest_stop(step, &before, share, &margins);
            }
            match (corner, stop) {
                (Some(c), Some((s, _))) if c < s => {
                    return Some(Hit { share: c, before, stop: None });
                }
                (_, Some((s, which))) => {
                    return Some(Hit { share: s, before, stop: Some(which) });
                }
                (Some(c), None) => return Some(Hit { share: c, before, stop: None }),
                (None, None) => before = (share, margins),
            }
        }
        None
    }

    /// Share at which the earliest corner lies between two samples.
    fn corner(&self, step: &Step, y: &State, from: f64, to: f64) -> Option<f64> {
        // The first share past the corner, so that the run lands on its far side.
        const PAST: f64 = 1e-12;
        let past = |y: &State| events::past_segments(self.setup, y, self.segments);
        let high = past(y);
        if high.iter().all(|past| *past <= PAST) {
            return None;
        }
        let low = past(&step.between(from));
        (0..high.len())
            .filter(|k| high[*k] > PAST)
            .map(|k| {
                let f = |x: f64| PAST - past(&step.between(x))[k];
                let f_low = (PAST - low[k]).max(PAST);
                events::root(from, f_low, to, PAST - high[k], 1e-9, f)
            })
            .min_by(f64::total_cmp)
    }

    /// Share and index of the earliest end between two samples, by the interpolant.
    fn earliest_stop(
        &mut self,
        step: &Step,
        before: &(f64, Margins),
        share: f64,
        margins: &Margins,
    ) -> Option<(f64, usize)> {
        let (setup, segments) = (self.setup, self.segments);
        let solver = &mut self.solver;
        let mut found: Option<(f64, usize)> = None;
        for k in (0..margins.len()).filter(|k| margins[*k] <= 0.0) {
            let x = events::root(before.0, before.1[k], share, margins[k], 1e-7, |x| {
                let y = step.between(x);
                events::margins(setup, &y, &solver.at(&y, segments))[k]
            });
            if found.is_none_or(|(best, _)| x < best) {
                found = Some((x, k));
            }
        }
        found
    }

    /// The step cut where margin `which` comes to zero, by true steps rather than the
    /// interpolant, which is an order less good.
    pub(super) fn cut_at_stop(&mut self, step: &Step, hit: &Hit, which: usize, cut: &mut Step) {
        let setup = self.setup;
        let margin = |s: &Step| events::margins(setup, &s.to, &s.at)[which];
        let tolerance = TIME_TOLERANCE_S.min(1e-3 * step.h);
        let (low, f_low) = (hit.before.0 * step.h, hit.before.1[which]);
        // Twice nearly always does: to where the interpolant has it, and from there by the slope.
        let mut h = hit.share * step.h;
        for _ in 0..3 {
            self.step(h, cut);
            let left = margin(cut);
            let further = left * (h - low) / (f_low - left);
            if further.abs() <= tolerance {
                return;
            }
            h = (h + further).min(step.h);
            if h <= low || h.is_nan() {
                break;
            }
        }
        let mut high = (hit.share * step.h + tolerance).min(step.h);
        self.step(high, cut);
        while margin(cut) > 0.0 && high < step.h {
            high = (2.0 * high - low).min(step.h);
            self.step(high, cut);
        }
        let f_high = margin(cut).min(0.0);
        // The root's end past zero is the last step that came out so.
        let mut trial = cut.clone();
        events::root(low, f_low, high, f_high, tolerance, |h| {
            self.step(h, &mut trial);
            let left = margin(&trial);
            if left <= 0.0 {
                std::mem::swap(cut, &mut trial);
            }
            left
        });
    }
}
