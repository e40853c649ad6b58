//! Tsitouras' embedded Runge-Kutta pair of order 5(4) with its free interpolant.
//!
//! Tsitouras, Computers and Mathematics with Applications 2011, 62, 770. First same as
//! last: six evaluations a step.

#![allow(clippy::excessive_precision)] // the paper's digits, one more here and there than f64's

use super::exchange::{Exchange, Within};
use super::operating::Operating;
use super::state::{CORE, FED, SIZE, SURFACE, State};
use super::tableau::{A, C, E};

/// How much more the error of the exchange of heat counts than others: the cells' resistance hangs
/// on it, and it is an order less good than the rest.
const EXCHANGE_WEIGHS: f64 = 4.0;

/// One step with all its stages.
#[derive(Debug, Clone)]
pub struct Step {
    /// Time at its start, s.
    pub t: f64,
    /// Its length, s.
    pub h: f64,
    /// Length that it was taken with, s: more where it was ended early.
    taken: f64,
    /// State at its start.
    pub from: State,
    /// State at its end.
    pub to: State,
    /// Operating point at its end.
    pub at: Operating,
    /// Core and surface of the cells, where the step is long against their exchange of heat.
    pub within: Option<Within>,
    k: [State; 7],
}

impl Step {
    /// Room for a step.
    pub fn at_rest(at: Operating) -> Self {
        let nothing = [0.0; SIZE];
        Self {
            t: 0.0,
            h: 0.0,
            taken: 0.0,
            from: nothing,
            to: nothing,
            at,
            within: None,
            k: [nothing; 7],
        }
    }

    /// Becomes the step of length `h` from `from`, where the rates are `first`. `f` puts the rates
    /// at a state in place and tells the operating point; of the state it must read the part
    /// `FED` alone. `exchange`: that of the cells, and the slope of what drives it.
    pub fn take(
        &mut self,
        (t, h): (f64, f64),
        from: &State,
        first: &State,
        exchange: (Option<Exchange>, Option<f64>),
        f: &mut impl FnMut(&State, &mut State) -> Operating,
    ) {
        (self.t, self.h, self.taken) = (t, h, h);
        (self.from, self.k[0]) = (*from, *first);
        self.within = exchange.0.and_then(|of| Within::new(of, h, (from, first), exchange.1));
        for (stage, (row, c)) in A.iter().zip(C).enumerate() {
            let last = stage + 1 == A.len();
            // What nothing hangs on is added up at the end.
            let size = if last { SIZE } else { FED };
            let mut to = *from;
            for (weight, rates) in row.iter().zip(&self.k).take(stage + 1) {
                let hw = h * weight;
                for (x, r) in to[..size].iter_mut().zip(&rates[..size]) {
                    *x += hw * r;
                }
            }
            match &self.within {
                Some(within) if last => within.whole(1.0, &mut to),
                Some(within) => within.stage(c, &mut to),
                None => {}
            }
            self.at = f(&to, &mut self.k[stage + 1]);
            match &mut self.within {
                Some(within) if last => within.end(&to, &self.k[6]),
                Some(within) => within.note(&to, &self.k[stage + 1]),
                None => {}
            }
            self.to = to;
        }
    }

    /// Ends it at a share of itself, to the interpolant's order; the operating point there is the
    /// caller's to tell.
    pub fn end_at(&mut self, share: f64) {
        self.to = self.between(share);
        self.h *= share;
    }

    /// Share of the step as it was taken.
    fn whole_share(&self, x: f64) -> f64 {
        if self.h == self.taken { x } else { x * self.h / self.taken }
    }

    /// Rates at the end, of the step as it was taken.
    pub fn last_rates(&self) -> &State {
        &self.k[6]
    }

    /// Largest estimated error over its tolerance, of the states before `count`.
    pub fn error(&self, count: usize, relative: f64, floors: &State) -> f64 {
        let mut errors = [0.0; SIZE];
        for (e, k) in E.iter().zip(&self.k) {
            let he = self.h * e;
            for (sum, k) in errors[..count].iter_mut().zip(k) {
                *sum += he * k;
            }
        }
        if let Some(within) = &self.within {
            let both =
                within.mean_error((errors[CORE], errors[SURFACE])) + EXCHANGE_WEIGHS * within.error;
            (errors[CORE], errors[SURFACE]) = (both, both);
        }
        let mut worst: f64 = 0.0;
        for (i, error) in errors[..count].iter().enumerate() {
            let size = self.from[i].abs().max(self.to[i].abs()) + floors[i];
            let ratio = error.abs() / (relative * size);
            if ratio.is_nan() {
                return f64::INFINITY;
            }
            worst = worst.max(ratio);
        }
        worst
    }

    /// Core and surface at the share `x` of the step, as [`Step::between`].
    pub fn warmth_between(&self, x: f64) -> (f64, f64) {
        let (core, surface) = self.pair_between(x, (CORE, SURFACE));
        let mut y = self.from;
        (y[CORE], y[SURFACE]) = (core, surface);
        if let Some(within) = &self.within {
            within.whole(self.whole_share(x), &mut y);
        }
        (y[CORE], y[SURFACE])
    }

    /// One of the state's values at the share `x` of the step, as [`Step::between`].
    pub fn one_between(&self, x: f64, which: usize) -> f64 {
        self.pair_between(x, (which, which)).0
    }

    fn pair_between(&self, x: f64, (a, b): (usize, usize)) -> (f64, f64) {
        let (mut first, mut second) = (0.0, 0.0);
        for (w, k) in interpolant(self.whole_share(x)).iter().zip(&self.k) {
            first += w * k[a];
            second += w * k[b];
        }
        (self.from[a] + self.taken * first, self.from[b] + self.taken * second)
    }

    /// State at the share `x` of the step, 0..=1 (fourth order).
    pub fn between(&self, x: f64) -> State {
        let x = self.whole_share(x);
        let weights = interpolant(x);
        let mut y = self.from;
        for (w, k) in weights.iter().zip(&self.k) {
            let hw = self.taken * w;
            for (y, r) in y.iter_mut().zip(k) {
                *y += hw * r;
            }
        }
        if let Some(within) = &self.within {
            within.whole(x, &mut y);
        }
        y
    }
}

/// Weights of the interpolant (Tsitouras 2011, section 4).
fn interpolant(x: f64) -> [f64; 7] {
    let x2 = x * x;
    [
        -1.053_088_497_729_021_6
            * x
            * (x - 1.329_989_018_975_141_2)
            * (x2 - 1.436_402_854_171_635_1 * x + 0.713_981_691_707_420_9),
        0.1017 * x2 * (x2 - 2.196_656_833_824_975_4 * x + 1.294_985_250_737_463_1),
        2.490_627_285_651_253 * x2 * (x2 - 2.385_356_454_720_616_6 * x + 1.578_034_682_080_924_9),
        -16.548_102_889_244_903
            * (x - 1.217_129_272_955_332_4)
            * (x - 0.616_204_060_378_000_9)
            * x2,
        47.379_521_962_819_28 * (x - 1.203_071_208_372_362_6) * (x - 0.658_047_292_653_547_4) * x2,
        -34.870_657_861_496_61 * (x - 1.2) * (x - 2.0 / 3.0) * x2,
        2.5 * (x - 1.0) * (x - 0.6) * x2,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_add_up_to_nodes() {
        for (row, c) in A.iter().zip(C) {
            assert!((row.iter().sum::<f64>() - c).abs() < 1e-14);
        }
        assert!(E.iter().sum::<f64>().abs() < 1e-14);
    }

    #[test]
    fn order_conditions_of_the_fifth_order_solution() {
        // Butcher's quadrature conditions sum b c^k = 1/(k+1), k = 0..4 (any text on
        // Runge-Kutta methods); nodes of the stages 0, c2..c6.
        let b = A[5];
        let nodes = [0.0, C[0], C[1], C[2], C[3], C[4]];
        for k in 0..5 {
            let sum: f64 = b.iter().zip(nodes).map(|(b, c)| b * c.powi(k)).sum();
            assert!((sum - 1.0 / f64::from(k + 1)).abs() < 1e-12, "{k}: {sum}");
        }
    }

    #[test]
    fn interpolant_meets_both_ends() {
        assert!(interpolant(0.0).iter().all(|w| *w == 0.0));
        let end = interpolant(1.0);
        for (w, b) in end.iter().zip(A[5]) {
            assert!((w - b).abs() < 1e-12, "{w} {b}");
        }
        assert!(end[6].abs() < 1e-14);
        // Consistency: the weights add up to x.
        for x in [0.2, 0.5, 0.8] {
            assert!((interpolant(x).iter().sum::<f64>() - x).abs() < 1e-12);
        }
    }
}
