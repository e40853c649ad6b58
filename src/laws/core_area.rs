//! How much of the pan the current lands on.
//!
//! Core, the area that would carry all current at the density under the middle of the sheet:
//! A_u = sqrt((h/s_slab)^2 + (pi h^2/G)^2). Near the pan the density under the middle is V/h, so
//! the area is h/s_slab exactly; far away the sheet is a point in the insulating plane, whose
//! images give I G/(pi h^2), G = 1 - 1/9 + 1/25 - ... Catalan's constant. The sum by squares
//! between them is our own: within 2.5 % of Laplace's equation for discs, h/a 0.1 to 4 (computed).
//!
//! Spread, the area on which a metal at its limit is laid down wherever current arrives: the
//! outline wider by 2 h all round, A_t = A_o + 2 h P + 4 pi h^2 (judgement; Laplace's equation
//! gives 1.5 to 2.2 h).
//!
//! Both times the pieces, and neither over the wetted area; A_t at least A_u. h the gap, a the
//! radius of the disc of the same area, P the perimeter, all in m; s_slab of one piece, 1/m.

use super::range::Range;
use std::f64::consts::PI;

/// Catalan's constant (Abramowitz and Stegun 23.2.23: 0.915965594177219...).
const CATALAN: f64 = 0.915_965_594_177_219;

/// How far the spread area reaches beyond the outline, in gaps.
const REACH: f64 = 2.0;

/// Gap over radius within which the core has been compared with Laplace's equation.
pub const GAP: Range = Range {
    law: "core area",
    of: "gap over the radius of the disc of the outline's area",
    low: 0.1,
    high: 4.0,
    unit: "",
    source: "Laplace's equation for discs, computed, within 2.5 %",
};

/// The pan below pieces that hang side by side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Landing {
    /// Gap, m.
    pub gap: f64,
    /// Pieces.
    pub count: f64,
    /// Wetted area of the pan, m2.
    pub wetted: f64,
}

impl Landing {
    /// Core area, m2, for the shape factor of one piece (1/m).
    #[must_use]
    pub fn core(&self, shape_factor: f64) -> f64 {
        let h = self.gap;
        (self.count * libm::hypot(h / shape_factor, PI * h * h / CATALAN)).min(self.wetted)
    }

    /// Spread area, m2, for one outline's area (m2) and perimeter (m) and a core area below it.
    #[must_use]
    pub fn spread(&self, area: f64, perimeter: f64, core: f64) -> f64 {
        let reach = REACH * self.gap;
        let one = area + reach * perimeter + PI * reach * reach;
        (self.count * one).min(self.wetted).max(core)
    }
}

#[cfg(test)]
mod tests {
    use super::super::slab::Face;
    use super::*;

    fn over(gap: f64, wetted: f64) -> Landing {
        Landing { gap, count: 1.0, wetted }
    }

    #[test]
    fn limits() {
        let disc = Face::Disc(0.02);
        // Close by: the outline with its edge (conformal map), h/s_slab = A + g h P.
        let h = 1e-5;
        let near = over(h, 1.0).core(disc.shape_factor(h));
        assert!((near / disc.area() - 1.0).abs() < 2e-3);
        // Far off: a point and its images; the series is Catalan's constant.
        let series: f64 = (0..2000)
            .map(|n| (2 * n + 1, if n % 2 == 0 { 1.0 } else { -1.0 }))
            .map(|(n, sign): (i32, f64)| sign / f64::from(n).powi(2))
            .sum();
        assert!((series - CATALAN).abs() < 1e-7);
        let far = over(2.0, 1e3).core(disc.shape_factor(2.0));
        assert!((far / (PI * 4.0 / CATALAN) - 1.0).abs() < 1e-3);
    }

    #[test]
    fn never_more_than_the_pan() {
        let face = Face::Rectangle(0.04, 0.03);
        for gap in [5e-4, 0.015, 0.1, 1.0] {
            for wetted in [1e-4, 2e-3, 0.02] {
                let pan = Landing { gap, count: 3.0, wetted };
                let core = pan.core(face.shape_factor(gap));
                let spread = pan.spread(face.area(), face.perimeter(), core);
                assert!(core > 0.0 && core <= wetted && core <= spread && spread <= wetted);
            }
        }
        // A disc wider by 2 h all round, by hand.
        let h = 0.01;
        let spread = over(h, 1.0).spread(PI * 4e-4, PI * 0.04, 0.0);
        assert!((spread / (PI * 0.04 * 0.04) - 1.0).abs() < 1e-12);
    }
}
