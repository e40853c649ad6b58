//! What the ammeter shows soon after switching on, and how much that tells.

use super::draw::Followed;
use super::quantile::Quantiles;

/// One standard deviation of an ammeter, as a share.
const METER: f64 = 0.02;

/// The ammeter's reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Metered {
    /// When, s after switching on.
    pub at_s: f64,
    /// Current, A.
    pub current_a: Quantiles,
    /// Span of the time to depth that is left once it is read, over that before: one where it tells
    /// nothing.
    pub narrows_to: f64,
}

impl Metered {
    /// Of draws.
    pub(super) fn of(at_s: f64, followed: &[Followed]) -> Self {
        let current_a =
            Quantiles::of(followed.iter().map(|f| f.metered_a).filter(|a| a.is_finite()));
        let pairs: Vec<(f64, f64)> = followed
            .iter()
            .map(|f| (f.metered_a, f.draw.time_s))
            .filter(|(a, t)| *a > 0.0 && t.is_finite())
            .map(|(a, t)| (libm::log(a), libm::log(t)))
            .collect();
        Self { at_s, current_a, narrows_to: narrows_to(&pairs) }
    }
}

/// Spread of the second of two numbers once the first is read, over that before, were they jointly
/// normal: sqrt(1 - r2), the meter's own error taken into r.
fn narrows_to(pairs: &[(f64, f64)]) -> f64 {
    let n = pairs.len() as f64;
    let mean = |of: &dyn Fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / n;
    let (a, b) = (mean(&|p| p.0), mean(&|p| p.1));
    let moment = |of: &dyn Fn(f64, f64) -> f64| mean(&|p| of(p.0 - a, p.1 - b));
    let (aa, bb, ab) = (moment(&|x, _| x * x), moment(&|_, y| y * y), moment(&|x, y| x * y));
    let told = ab * ab / ((aa + METER * METER) * bb);
    if told.is_finite() { (1.0 - told).max(0.0).sqrt() } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_hangs_together_is_told() {
        // Without an error of the meter a straight line would leave nothing; with one, by hand:
        // variances of +-0.2 alike, 1 - 0.04/(0.04 + 0.0004).
        let line = [(0.2, -0.2), (-0.2, 0.2)];
        assert!((narrows_to(&line) - (1.0 - 0.04f64 / 0.0404).sqrt()).abs() < 1e-12);
        let nothing = [(0.2, 0.2), (0.2, -0.2), (-0.2, 0.2), (-0.2, -0.2)];
        assert_eq!(narrows_to(&nothing), 1.0);
        assert_eq!(narrows_to(&[]), 1.0);
    }
}
