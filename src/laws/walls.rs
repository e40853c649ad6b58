//! Depth of the floor for a charge, where the recess dissolves sideways too.
//!
//! A quarter round under each edge: the charge is worth D over the bare area, the floor is at
//! d + (pi/4) (e/EF) d^2 = D. With q = pi e/EF:
//! d = (2/q) (sqrt(1 + q D) - 1) = 2 D/(1 + sqrt(1 + q D)), D = d (1 + q d/4),
//! dd/dD = 1/sqrt(1 + q D); d = D for e = 0.
//!
//! D and d in m; e the length of edge for each bare area, 1/m: 2/(phi p) for lines of pitch p (m)
//! and bare share phi, 0 for a face wholly bare; EF the depth over the undercut. Exact for an
//! isotropic groove (EF = 1) under thin resist (computed); for another EF the wall is a quarter
//! of an ellipse. It ends where neighbours meet under the resist.

use super::range::Range;
use std::f64::consts::PI;

/// Undercut over half the resist between two lines: at 1 neighbours meet.
pub const UNDERCUT: Range = Range {
    law: "walls",
    of: "undercut over half the width of the resist between two lines",
    low: 0.0,
    high: 1.0,
    unit: "",
    source: "geometry: beyond, neighbours have met under the resist",
};

/// The edges of a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Walls {
    /// e, 1/m.
    pub edge_per_m: f64,
    /// EF.
    pub etch_factor: f64,
}

impl Walls {
    fn q(&self) -> f64 {
        PI * self.edge_per_m / self.etch_factor
    }

    /// Floor d, m, for a charge worth `charge_depth` m over the bare area.
    #[must_use]
    pub fn floor(&self, charge_depth: f64) -> f64 {
        2.0 * charge_depth / (1.0 + (1.0 + self.q() * charge_depth).sqrt())
    }

    /// What the charge is worth over the bare area when the floor is at `floor` m.
    #[must_use]
    pub fn charge_depth(&self, floor: f64) -> f64 {
        let share = 0.25 * self.q() * floor;
        // An endless depth without edges is endless, not nothing times it.
        if share > 0.0 { floor * (1.0 + share) } else { floor }
    }

    /// dd/dD at `charge_depth` m.
    #[must_use]
    pub fn slope(&self, charge_depth: f64) -> f64 {
        1.0 / (1.0 + self.q() * charge_depth).sqrt()
    }
}

/// Length of edge for each bare area, 1/m, of lines of pitch `p` (m) and bare share `phi`.
#[must_use]
pub fn edge_of_lines(p: f64, phi: f64) -> f64 {
    if phi >= 1.0 { 0.0 } else { 2.0 / (phi * p) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back() {
        for edge_per_m in [0.0, 1e-12, 1e-3, 250.0, 1000.0, 1e5] {
            for etch_factor in [0.5, 1.0, 3.0] {
                let walls = Walls { edge_per_m, etch_factor };
                for depth in [0.0, 1e-12, 1e-6, 5e-4, 1e-2] {
                    let floor = walls.floor(depth);
                    assert!(floor <= depth && (floor > 0.0 || depth == 0.0));
                    let back = walls.charge_depth(floor);
                    assert!((back - depth).abs() <= 4.0 * f64::EPSILON * depth, "{walls:?}");
                    let step = 1e-4 * depth.max(1e-9);
                    let want = (walls.floor(depth + step) - walls.floor((depth - step).max(0.0)))
                        / { step + step.min(depth) };
                    assert!((walls.slope(depth) / want - 1.0).abs() < 1e-5, "{walls:?} {depth}");
                }
            }
        }
        for edge_per_m in [0.0, 1000.0] {
            let walls = Walls { edge_per_m, etch_factor: 1.0 };
            assert_eq!(walls.charge_depth(f64::INFINITY), f64::INFINITY);
        }
        // Without edges to the last digit, with next to none next to that.
        let walls = |edge_per_m| Walls { edge_per_m, etch_factor: 1.0 };
        assert_eq!(walls(0.0).floor(5e-4), 5e-4);
        let (d, q) = (5e-4, PI * 1e-9);
        assert!((walls(1e-9).floor(d) / (d - 0.25 * q * d * d) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn area_of_an_isotropic_groove() {
        // A line w wide, d deep with a quarter circle under each edge: w d + 2 pi d^2/4 of metal,
        // over its width the depth that the charge is worth.
        let (w, d) = (1e-3, 4e-4);
        let walls = Walls { edge_per_m: 2.0 / w, etch_factor: 1.0 };
        let metal = w * d + 2.0 * PI * d * d / 4.0;
        assert!((walls.charge_depth(d) / (metal / w) - 1.0).abs() < 1e-14);
        // Lines of 1 mm in a pitch of 4 mm are a quarter bare.
        assert!((edge_of_lines(4e-3, 0.25) - 2.0 / w).abs() < 1e-9);
        assert_eq!(edge_of_lines(4e-3, 1.0), 0.0);
    }
}
