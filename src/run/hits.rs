//! What a step runs into: a corner of a cell's curves, or an end of the run; and the step cut there.

use super::events::{self, Margins};
use super::outcome::Stop;
use super::simulate::{March, SMALLEST_STEP_S};
use super::state::State;
use super::stepper::Step;

/// Stopping times are found to this, s: a hundredth of what the model asks.
const TIME_TOLERANCE_S: f64 = 1e-5;

/// Relative tolerance over which a run is rough.
const ROUGH: f64 = 1e-7;

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
                let volts = if whole {
                    events::cut_off_volts(self.setup, &step.at)
                } else {
                    self.cut_off_volts(&y)
                };
                let setup = self.setup;
                margins = std::array::from_fn(|k| events::margin(setup, &y, k, || volts));
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
        let setup = self.setup;
        let mut found: Option<(f64, usize)> = None;
        for k in (0..margins.len()).filter(|k| margins[*k] <= 0.0) {
            let x = events::root(before.0, before.1[k], share, margins[k], 1e-7, |x| {
                let y = step.between(x);
                let volts = if events::WATCHED[k] == Stop::Empty {
                    self.cut_off_volts(&y)
                } else {
                    0.0 // not asked
                };
                events::margin(setup, &y, k, || volts)
            });
            if found.is_none_or(|(best, _)| x < best) {
                found = Some((x, k));
            }
        }
        found
    }

    /// What the cut-off is held against at a state, V.
    fn cut_off_volts(&mut self, y: &State) -> f64 {
        let off = events::cut_off_volts_off(self.setup, y, self.segments);
        off.unwrap_or_else(|| events::cut_off_volts(self.setup, &self.solver.at(y, self.segments)))
    }

    /// Whether a run is followed so coarsely that the interpolant's order is as good as a step's.
    pub(super) fn rough(&self) -> bool {
        self.relative > ROUGH
    }

    /// Ends a step at a share of itself, by the interpolant.
    pub(super) fn end_at(&mut self, step: &mut Step, share: f64) {
        step.end_at(share);
        self.work.evaluations += 1;
        step.at = if self.on {
            self.solver.at(&step.to, self.segments)
        } else {
            self.solver.off(&step.to, self.segments)
        };
    }

    /// Ends a step at a corner of a curve.
    pub(super) fn cut_at_corner(&mut self, step: &mut Step, hit: &Hit) {
        if self.rough() {
            self.end_at(step, hit.share);
        } else {
            self.step((hit.share * step.h).max(SMALLEST_STEP_S), step);
        }
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
