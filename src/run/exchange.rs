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
use super::tableau::C;
use std::sync::LazyLock;

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
}

/// Shares of a step at which what drives the difference is known.
const NODES: [f64; 6] = [0.0, C[0], C[1], C[2], C[3], C[4]];

/// What each known value, and last the slope at the start, adds to the polynomial's powers.
type Basis = [[f64; MOST]; MOST];

/// The basis of so many values, without the slope and with it.
static BASES: LazyLock<[[Basis; 2]; 6]> = LazyLock::new(|| {
    std::array::from_fn(|n| [false, true].map(|with_slope| basis(&NODES[..=n], with_slope)))
});

fn basis(nodes: &[f64], with_slope: bool) -> Basis {
    let of = |which: usize| {
        let unit = |k: usize| f64::from(u8::from(k == which));
        let mut p = Newton::default();
        p.add(0.0, unit(0));
        if with_slope {
            p.add(0.0, unit(nodes.len()));
        }
        for (k, x) in nodes.iter().enumerate().skip(1) {
            p.through(*x, unit(k));
        }
        p.powers()
    };
    let known = nodes.len() + usize::from(with_slope);
    std::array::from_fn(|which| if which < known { of(which) } else { [0.0; MOST] })
}

/// Core and surface within one step.
#[derive(Debug, Clone, Copy)]
pub struct Within {
    exchange: Exchange,
    h: f64,
    z: f64,
    start: f64,
    /// What drives the difference at the nodes known so far, K/s.
    values: [f64; NODES.len()],
    known: usize,
    /// Its slope at the start, as the last step ended with it, for a step: K/s.
    slope: Option<f64>,
    /// Powers of the polynomial through all values.
    whole: [f64; MOST],
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
        let mut values = [0.0; NODES.len()];
        values[0] = exchange.drive(y, rates);
        let (start, slope) = (y[CORE] - y[SURFACE], slope.map(|slope| slope * h));
        let (whole, end_slope, error) = ([0.0; MOST], 0.0, 0.0);
        Some(Self { exchange, h, z, start, values, known: 1, slope, whole, end_slope, error })
    }

    /// Puts core and surface at the share `x` of the step in place, by what is known so far.
    pub fn stage(&self, x: f64, y: &mut State) {
        let basis = &BASES[self.known - 1][usize::from(self.slope.is_some())];
        let powers = self.powers(basis, self.slope);
        self.exchange.put(y, self.difference(&powers, x));
    }

    /// The same at the end and, once that is reached, within the step, by all values.
    pub fn whole(&self, x: f64, y: &mut State) {
        self.exchange.put(y, self.difference(&self.whole, x));
    }

    /// Takes in the rates at the next node.
    pub fn note(&mut self, y: &State, rates: &State) {
        self.values[self.known] = self.exchange.drive(y, rates);
        self.known += 1;
        if self.known == NODES.len() {
            self.whole = self.powers(&BASES[NODES.len() - 1][0], None);
        }
    }

    /// Takes in the rates at the end, from which errors are known.
    pub fn end(&mut self, y: &State, rates: &State) {
        let last = NODES.len() - 1;
        let fewer = Self { known: last, ..*self }.powers(&BASES[last - 1][0], None);
        let mut renewed = *self;
        renewed.values[last] = self.exchange.drive(y, rates);
        let again = renewed.powers(&BASES[last][0], None);
        let there = self.difference(&self.whole, 1.0);
        self.error = (self.difference(&fewer, 1.0) - there).abs()
            + (self.difference(&again, 1.0) - there).abs();
        let slope = again.iter().enumerate().map(|(k, power)| k as f64 * power).sum::<f64>();
        self.end_slope = slope / self.h;
    }

    /// Error of the mean of two errors.
    pub fn mean_error(&self, errors: (f64, f64)) -> f64 {
        self.exchange.mean_error(errors)
    }

    /// Powers of the polynomial through the values known so far.
    fn powers(&self, basis: &Basis, slope: Option<f64>) -> [f64; MOST] {
        let mut powers = [0.0; MOST];
        let known = self.values[..self.known].iter().copied().chain(slope);
        for (value, adds) in known.zip(basis) {
            for (power, add) in powers.iter_mut().zip(adds) {
                *power += value * add;
            }
        }
        powers
    }

    /// The difference at the share `x` of the step, driven by a polynomial.
    fn difference(&self, powers: &[f64; MOST], x: f64) -> f64 {
        let fallen = libm::exp(-self.z * x);
        // Moments Int_0^x e^(-z (x - s)) s^k ds, each from the one before; z is over one, so no
        // more is lost than a few digits.
        let by = 1.0 / self.z;
        let mut moment = (1.0 - fallen) * by;
        let mut power = 1.0;
        let mut driven = powers[0] * moment;
        for (k, factor) in powers.iter().enumerate().skip(1) {
            power *= x;
            moment = (power - k as f64 * moment) * by;
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
        for x in &C[..5] {
            let x = *x;
            let mut y = y0;
            within.stage(x, &mut y);
            if x > 0.161 {
                let off = y[CORE] - y[SURFACE] - exact(x * h);
                assert!(off.abs() < 1e-9, "{x}: {off}");
            }
            assert!((CELL.mean(&y) - CELL.mean(&y0)).abs() < 1e-12);
            let rates = rates(x * h, &y);
            within.note(&y, &rates);
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
