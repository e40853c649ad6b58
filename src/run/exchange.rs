//! Heat between core and surface of a cell, which within a step is followed exactly.
//!
//! The difference D of the two temperatures falls by itself within seconds (rate L) while all that
//! drives it, p, changes over minutes: D' = -L D + p(t). An explicit step would have to be as short
//! as the fall. Here D(x) = e^(-z x) D0 + h Int_0^x e^(-z (x - s)) p(s) ds, with z = L h and x, s
//! shares of the step, and p a polynomial through what the step's stages have shown of it. Exponential
//! time differencing: Cox and Matthews, J. Comput. Phys. 2002, 176, 430; Hochbruck and Ostermann,
//! Acta Numerica 2010, 19, 209.

use super::setup::Setup;
use super::state::{CORE, SURFACE, State};

/// Steps over which D falls by less than this power of e are as well taken explicitly.
const WORTH: f64 = 1.5;
/// Most values of p in a step, a slope among them.
const MOST: usize = 7;

/// Core and surface of a cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchange {
    /// Heat capacities over their sum.
    core: f64,
    surface: f64,
    /// Rate at which the difference of temperature falls, 1/s.
    rate: f64,
}

impl Exchange {
    /// Of a setup; none without cells.
    pub fn of(setup: &Setup) -> Option<Self> {
        let c = &setup.source.pack()?.cell;
        let (core, surface) = (c.core_j_per_k, c.surface_j_per_k);
        let rate = (1.0 / core + 1.0 / surface) / c.core_to_surface;
        Some(Self { core: core / (core + surface), surface: surface / (core + surface), rate })
    }

    /// Mean temperature by heat capacity, or its rate.
    fn mean(&self, y: &State) -> f64 {
        self.core * y[CORE] + self.surface * y[SURFACE]
    }

    /// What drives the difference, K/s.
    fn drive(&self, y: &State, rates: &State) -> f64 {
        rates[CORE] - rates[SURFACE] + self.rate * (y[CORE] - y[SURFACE])
    }

    /// Puts a difference in place of that of a state; the mean stays.
    fn put(&self, y: &mut State, difference: f64) {
        let mean = self.mean(y);
        y[CORE] = mean + self.surface * difference;
        y[SURFACE] = mean - self.core * difference;
    }

    /// Error of the mean in a state of errors, K.
    pub fn mean_error(&self, errors: (f64, f64)) -> f64 {
        (self.core * errors.0 + self.surface * errors.1).abs()
    }
}

/// A polynomial in Newton's form.
#[derive(Debug, Clone, Copy, Default)]
struct Newton {
    nodes: [f64; MOST],
    terms: [f64; MOST],
    len: usize,
}

impl Newton {
    fn at(&self, x: f64) -> f64 {
        (0..self.len).rev().fold(0.0, |sum, k| self.terms[k] + (x - self.nodes[k]) * sum)
    }

    fn through(&mut self, x: f64, value: f64) {
        let apart: f64 = self.nodes[..self.len].iter().map(|node| x - node).product();
        self.add(x, (value - self.at(x)) / apart);
    }

    fn add(&mut self, node: f64, term: f64) {
        (self.nodes[self.len], self.terms[self.len]) = (node, term);
        self.len += 1;
    }

    /// Factors of 1, x, x2 and so on.
    fn powers(&self) -> [f64; MOST] {
        let mut out = [0.0; MOST];
        for k in (0..self.len).rev() {
            for j in (1..=self.len - k).rev().filter(|j| *j < MOST) {
                out[j] = out[j - 1] - self.nodes[k] * out[j];
            }
            out[0] = self.terms[k] - self.nodes[k] * out[0];
        }
        out
    }

    fn slope(&self, x: f64) -> f64 {
        let powers = self.powers();
        (1..self.len).rev().fold(0.0, |sum, k| powers[k] * k as f64 + x * sum)
    }
}

/// Core and surface within one step.
#[derive(Debug, Clone, Copy)]
pub struct Within {
    exchange: Exchange,
    h: f64,
    z: f64,
    start: f64,
    /// With the slope that the last step ended with, for the stages.
    stages: Newton,
    /// Without, for the end.
    whole: Newton,
    /// Slope of what drives it at the end, K/s2.
    pub end_slope: f64,
    /// Estimated error of the difference at the end, K.
    pub error: f64,
}

impl Within {
    /// Of a step of length `h` from `y`, where the rates are `rates` and what drives the difference
    /// rises by `slope`, K/s2, if that is known; none where an explicit step is as good.
    pub fn new(
        exchange: Exchange,
        h: f64,
        (y, rates): (&State, &State),
        slope: Option<f64>,
    ) -> Option<Self> {
        let z = exchange.rate * h;
        if z < WORTH {
            return None;
        }
        let (mut stages, mut whole) = (Newton::default(), Newton::default());
        let drive = exchange.drive(y, rates);
        stages.add(0.0, drive);
        whole.add(0.0, drive);
        if let Some(slope) = slope {
            stages.add(0.0, slope * h);
        }
        let start = y[CORE] - y[SURFACE];
        Some(Self { exchange, h, z, start, stages, whole, end_slope: 0.0, error: 0.0 })
    }

    /// Puts core and surface at the share `x` of the step in place, by what is known so far.
    pub fn stage(&self, x: f64, y: &mut State) {
        self.exchange.put(y, self.difference(&self.stages, x));
    }

    /// The same at the end and, once that is reached, within the step.
    pub fn whole(&self, x: f64, y: &mut State) {
        self.exchange.put(y, self.difference(&self.whole, x));
    }

    /// Takes in the rates at a stage.
    pub fn note(&mut self, x: f64, y: &State, rates: &State) {
        let drive = self.exchange.drive(y, rates);
        self.stages.through(x, drive);
        self.whole.through(x, drive);
    }

    /// Takes in the rates at the end, from which errors are known.
    pub fn end(&mut self, y: &State, rates: &State) {
        let last = self.whole.len - 1;
        let mut fewer = self.whole;
        fewer.len = last;
        let mut again = fewer;
        again.through(1.0, self.exchange.drive(y, rates));
        let at = |p: &Newton| self.difference(p, 1.0);
        let there = at(&self.whole);
        self.error = (at(&fewer) - there).abs() + (at(&again) - there).abs();
        self.end_slope = again.slope(1.0) / self.h;
    }

    /// Error of the mean of two errors.
    pub fn mean_error(&self, errors: (f64, f64)) -> f64 {
        self.exchange.mean_error(errors)
    }

    /// The difference at the share `x` of the step, driven by `p`.
    fn difference(&self, p: &Newton, x: f64) -> f64 {
        let fallen = libm::exp(-self.z * x);
        // Moments Int_0^x e^(-z (x - s)) s^k ds, each from the one before; z is over one, so no
        // more is lost than a few digits.
        let mut moment = (1.0 - fallen) / self.z;
        let mut power = 1.0;
        let mut driven = 0.0;
        for (k, factor) in p.powers().iter().take(p.len).enumerate() {
            if k > 0 {
                power *= x;
                moment = (power - k as f64 * moment) / self.z;
            }
            driven += factor * moment;
        }
        fallen * self.start + self.h * driven
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::run::state::SIZE;

    const CELL: Exchange = Exchange { core: 0.9, surface: 0.1, rate: 0.25 };

    fn state(core: f64, surface: f64) -> State {
        let mut y = [0.0; SIZE];
        (y[CORE], y[SURFACE]) = (core, surface);
        y
    }

    #[test]
    fn a_polynomial_drive_is_followed_exactly() {
        // D' = -L D + p(t), p = 1 + 0.1 t - 0.002 t2; by hand D = a + b t + c t2 + C e^(-L t) with
        // c = p2/L, b = (p1 - 2 c)/L, a = (p0 - b)/L.
        let p = [1.0, 0.1, -0.002];
        let l = CELL.rate;
        let c = p[2] / l;
        let b = (p[1] - 2.0 * c) / l;
        let a = (p[0] - b) / l;
        let drive = |t: f64| p[0] + t * (p[1] + t * p[2]);
        let exact = |t: f64| a + t * (b + t * c) + (3.0 - a) * (-l * t).exp();
        let h = 40.0;
        // Rates of a state whose drive is p and whose mean stands still.
        let rates = |t: f64, y: &State| {
            let d = drive(t) - l * (y[CORE] - y[SURFACE]);
            state(0.1 * d, -0.9 * d)
        };
        let y0 = state(300.0, 297.0);
        let mut within = Within::new(CELL, h, (&y0, &rates(0.0, &y0)), Some(p[1])).unwrap();
        for x in [0.161, 0.327, 0.9, 0.98, 1.0] {
            let mut y = y0;
            within.stage(x, &mut y);
            if x > 0.161 {
                assert!((y[CORE] - y[SURFACE] - exact(x * h)).abs() < 1e-9, "{x}");
            }
            assert!((CELL.mean(&y) - CELL.mean(&y0)).abs() < 1e-12);
            let rates = rates(x * h, &y);
            within.note(x, &y, &rates);
        }
        let mut end = y0;
        within.whole(1.0, &mut end);
        assert!((end[CORE] - end[SURFACE] - exact(h)).abs() < 1e-9);
        let last = rates(h, &end);
        within.end(&end, &last);
        assert!(within.error < 1e-9, "{}", within.error);
        assert!((within.end_slope - (p[1] + 2.0 * p[2] * h)).abs() < 1e-9);
        let mut middle = y0;
        within.whole(0.5, &mut middle);
        assert!((middle[CORE] - middle[SURFACE] - exact(0.5 * h)).abs() < 1e-9);
    }

    #[test]
    fn short_steps_are_taken_explicitly() {
        let y = state(300.0, 297.0);
        assert!(Within::new(CELL, 1.0, (&y, &[0.0; SIZE]), None).is_none());
    }
}
