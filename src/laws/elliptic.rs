//! Complete elliptic integral of the first kind K(m), parameter m = k^2.
//!
//! Arithmetic-geometric mean, Abramowitz and Stegun 17.6: K = pi / (2 AGM(1, sqrt(1-m))).

use super::range::Range;
use std::f64::consts::FRAC_PI_2;

/// Parameter of the integral.
pub const PARAMETER: Range = Range {
    law: "elliptic integral",
    of: "parameter m",
    low: 0.0,
    high: 1.0,
    unit: "",
    source: "by definition",
};

/// K(m) for 0 <= m < 1; infinite at m = 1.
pub fn complete_k(m: f64) -> f64 {
    let (mut a, mut b) = (1.0, (1.0 - m).sqrt());
    while (a - b).abs() > 1e-15 * a {
        (a, b) = (0.5 * (a + b), (a * b).sqrt());
        if b == 0.0 {
            return f64::INFINITY;
        }
    }
    FRAC_PI_2 / a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn handbook_values() {
        // Abramowitz and Stegun table 17.1.
        for (m, k) in [(0.1, 1.612_441_348_7), (0.5, 1.854_074_677_3), (0.9, 2.578_092_113_3)] {
            assert!((complete_k(m) - k).abs() < 1e-9, "{m}");
        }
        assert_eq!(complete_k(0.0), FRAC_PI_2);
        assert_eq!(complete_k(1.0), f64::INFINITY);
    }
}
