//! Heat that comes back to where it was with every cycle of on and off.
//!
//! What a cycle makes of the temperatures that it begins with is a map; where that leads is its fixed
//! point. Followed cycle by cycle it would take as many as the slowest body has minutes. Here the
//! last few cycles say which mixture of them would have changed nothing, and the next begins with
//! what they make of that (Anderson mixing: Anderson, J. ACM 1965, 12, 547; Walker and Ni, SIAM J.
//! Numer. Anal. 2011, 49, 1715).

use crate::run::RunError;
use nalgebra::{Matrix2, Vector2, Vector3};

/// Something that warms while on and cools while off.
pub(super) trait Body {
    /// One cycle; the hottest spot and surface in it.
    fn cycle(&mut self) -> Result<(f64, f64), RunError>;
    /// Its temperatures, K.
    fn warmth(&self) -> [f64; 3];
    /// Sets them.
    fn set_warmth(&mut self, warmth: [f64; 3]);
    /// What it never cools below, K: a mixture that leads there leads to another body's heat, such
    /// as of cells too cold to give any.
    fn coldest(&self) -> f64 {
        f64::NEG_INFINITY
    }
}

/// Most cycles that are followed.
const MOST_CYCLES: usize = 200;
/// Cycles that are mixed, besides the last: one for the cells, whose surface follows their core
/// within seconds, and one for the bath.
const MIXED: usize = 2;
/// Furthest that a mixture may lead from the last cycle's end, K.
const FURTHEST_K: f64 = 60.0;

/// One cycle: the temperatures that it began with, and those that it ended with.
type Pass = (Vector3<f64>, Vector3<f64>);

/// Cycles a body until its temperatures change by less than `settled` from one cycle to the
/// next, and would come no further; the peaks of the last one.
pub(super) fn periodic(body: &mut impl Body, settled: f64) -> Result<(f64, f64), RunError> {
    let mut passes: Vec<Pass> = Vec::new();
    let mut peak = (f64::NEG_INFINITY, f64::NEG_INFINITY);
    for _ in 0..MOST_CYCLES {
        let from = Vector3::from(body.warmth());
        peak = body.cycle()?;
        let to = Vector3::from(body.warmth());
        passes.push((from, to));
        if passes.len() > MIXED + 1 {
            passes.remove(0);
        }
        let warm = |next: &Vector3<f64>| next.min() >= body.coldest();
        let next = mixed(&passes).filter(warm).unwrap_or(to);
        if (to - from).amax() < settled && (next - to).amax() < 10.0 * settled {
            break;
        }
        if next != to {
            body.set_warmth(next.into());
        }
    }
    Ok(peak)
}

/// What the mixture of the cycles that changes least would end with; none where it is not told.
fn mixed(passes: &[Pass]) -> Option<Vector3<f64>> {
    let (last, before) = passes.split_last()?;
    let change = |pass: &Pass| (pass.1 - pass.0).remove_row(1);
    let r = change(last);
    // Least squares over the differences to the last, by normal equations; a hair on the diagonal
    // keeps those that say the same apart.
    let differences: Vec<Vector2<f64>> = before.iter().map(|pass| r - change(pass)).collect();
    let mut normal = Matrix2::identity();
    let mut right = Vector2::zeros();
    for (i, a) in differences.iter().enumerate() {
        for (j, b) in differences.iter().enumerate() {
            normal[(i, j)] = a.dot(b);
        }
        normal[(i, i)] *= 1.0 + 1e-10;
        right[i] = a.dot(&r);
    }
    let weights = normal.lu().solve(&right)?;
    let moved = before.iter().zip(weights.iter());
    let next = moved.fold(last.1, |sum, (pass, weight)| sum - (last.1 - pass.1) * *weight);
    ((next - last.1).amax() < FURTHEST_K).then_some(next)
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn two_bodies_of_their_own_pace_are_there_at_once() {
        // A linear map is solved by as many mixtures as it has dimensions; its fixed point by hand:
        // x = s x + (1 - s) 10.
        struct Three([f64; 3], usize);
        impl Body for Three {
            fn cycle(&mut self) -> Result<(f64, f64), RunError> {
                for (x, s) in self.0.iter_mut().zip([0.9, 0.9, 0.999]) {
                    *x = s * *x + (1.0 - s) * 10.0;
                }
                self.1 += 1;
                Ok((self.0[0], self.0[1]))
            }
            fn warmth(&self) -> [f64; 3] {
                self.0
            }
            fn set_warmth(&mut self, warmth: [f64; 3]) {
                self.0 = warmth;
            }
        }
        let mut three = Three([0.0; 3], 0);
        periodic(&mut three, 1e-6).unwrap();
        assert!(three.0.iter().all(|x| (x - 10.0).abs() < 1e-4), "{:?}", three.0);
        assert!(three.1 < 12, "{}", three.1);
    }

    /// A lumped body: constant power, constant heat transfer, exact over any time.
    struct Lump {
        rise: f64,
        tau: f64,
        steady: f64,
        on_s: f64,
        off_s: f64,
    }

    impl Body for Lump {
        fn cycle(&mut self) -> Result<(f64, f64), RunError> {
            let e = (-self.on_s / self.tau).exp();
            let peak = self.rise * e + self.steady * (1.0 - e);
            self.rise = peak * (-self.off_s / self.tau).exp();
            Ok((peak, peak))
        }
        fn warmth(&self) -> [f64; 3] {
            [self.rise; 3]
        }
        fn set_warmth(&mut self, warmth: [f64; 3]) {
            self.rise = warmth[0];
        }
    }

    #[test]
    fn periodic_peak_of_a_lumped_body() {
        // Closed form P R (1 - e^(-t_on/tau))/(1 - e^(-T/tau)), to 1e-6; and its values for
        // P R = 100 K, T = 600 s (own arithmetic, duty after IEC 60034-1, S3).
        for (tau, factor, printed) in [
            (600.0, 0.15, 22.036),
            (600.0, 0.25, 34.993),
            (600.0, 0.60, 71.377),
            (1800.0, 0.25, 28.206),
            (9000.0, 0.40, 41.0),
        ] {
            let (on_s, off_s) = (600.0 * factor, 600.0 * (1.0 - factor));
            let mut lump = Lump { rise: 0.0, tau, steady: 100.0, on_s, off_s };
            let (peak, _) = periodic(&mut lump, 1e-9).unwrap();
            let closed = 100.0 * (1.0 - (-on_s / tau).exp()) / (1.0 - (-600.0f64 / tau).exp());
            assert!((peak - closed).abs() < 1e-6, "{tau} {factor}: {peak} {closed}");
            assert!((peak - printed).abs() < 0.5, "{peak} {printed}");
        }
    }
}
