//! Constriction of the current into the bare lines of a pattern, in metres of bath.
//!
//! Lines of pitch p, bare share phi: l_c = (p/pi) ln(1/sin(pi phi/2)), the conformal map
//! of a row of coplanar strips (Smythe, Static and Dynamic Electricity, slit grating).
//! Good for a pitch well under the gap; over twice the gap it no longer holds.

use super::range::Range;
use std::f64::consts::{FRAC_PI_2, PI};

/// Pitch over gap up to which the constriction holds.
pub const PITCH: Range = Range {
    law: "constriction",
    of: "pitch over gap",
    low: 0.0,
    high: 2.0,
    unit: "",
    source: "judgement: the map has no pan; beyond, lines no longer share the bath below them",
};

/// Extra length of bath, m, for pitch `p` (m) and bare share `phi` in (0, 1].
pub fn length(p: f64, phi: f64) -> f64 {
    if phi >= 1.0 { 0.0 } else { -(p / PI) * libm::log(libm::sin(FRAC_PI_2 * phi)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn against_finite_volumes() {
        // Own two-dimensional finite volumes, Richardson-extrapolated, per pitch: they
        // agree to 0.05 %.
        for (phi, l) in [(0.05, 0.810_28), (0.25, 0.305_84), (0.5, 0.110_35), (0.9, 0.003_945)] {
            assert!((length(1.0, phi) / l - 1.0).abs() < 6e-4, "{phi}");
        }
        assert_eq!(length(0.004, 1.0), 0.0);
    }
}
