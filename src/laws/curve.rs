//! Curves given as points, linear between them and flat outside.
//!
//! A curve has corners; the stepper follows one straight segment at a time, so a segment can
//! be asked for and followed past its ends.

/// A piecewise linear curve with ascending x.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    points: Vec<[f64; 2]>,
}

impl Curve {
    /// From points; at least one, x strictly ascending, all finite.
    ///
    /// # Errors
    /// Says which of these does not hold.
    pub fn new(points: Vec<[f64; 2]>) -> Result<Self, &'static str> {
        if points.is_empty() {
            return Err("a curve without a point");
        }
        if points.iter().flatten().any(|v| !v.is_finite()) {
            return Err("a curve with a number that is not finite");
        }
        if points.windows(2).any(|w| w[1][0] <= w[0][0]) {
            return Err("a curve whose first numbers do not rise from point to point");
        }
        Ok(Self { points })
    }

    /// The points.
    pub fn points(&self) -> &[[f64; 2]] {
        &self.points
    }

    /// The segment in which x lies: 0 before the first point, n after the last.
    pub fn segment(&self, x: f64) -> usize {
        self.points.partition_point(|p| p[0] <= x)
    }

    /// The ends of a segment along x (infinite outside the points).
    pub fn ends(&self, segment: usize) -> (f64, f64) {
        let low = segment.checked_sub(1).map_or(f64::NEG_INFINITY, |i| self.points[i][0]);
        let high = self.points.get(segment).map_or(f64::INFINITY, |p| p[0]);
        (low, high)
    }

    /// Value at x on this segment, followed past its ends if x lies outside.
    pub fn on(&self, segment: usize, x: f64) -> f64 {
        match (segment.checked_sub(1), self.points.get(segment)) {
            (None, Some(first)) => first[1],
            (Some(i), None) => self.points[i][1],
            (Some(i), Some(b)) => {
                let a = self.points[i];
                a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
            }
            (None, None) => f64::NAN, // no curve has no point
        }
    }

    /// Value at x.
    pub fn at(&self, x: f64) -> f64 {
        self.on(self.segment(x), x)
    }

    /// Integral from `from` to `to`, exact.
    pub fn integral(&self, from: f64, to: f64) -> f64 {
        if from > to {
            return -self.integral(to, from);
        }
        let corners = self.points.iter().map(|p| p[0]).filter(|x| (from..to).contains(x));
        let (mut sum, mut x) = (0.0, from);
        for next in corners.chain([to]) {
            sum += 0.5 * (self.at(x) + self.at(next)) * (next - x);
            x = next;
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_outside_and_under() {
        let c = Curve::new(vec![[0.0, 1.0], [0.5, 1.2], [1.0, 1.6]]).unwrap();
        for (x, y) in [(-1.0, 1.0), (0.0, 1.0), (0.25, 1.1), (0.5, 1.2), (0.75, 1.4), (2.0, 1.6)] {
            assert!((c.at(x) - y).abs() < 1e-12, "{x}");
        }
        assert!((c.integral(0.0, 1.0) - (0.55 + 0.7)).abs() < 1e-12);
        assert!((c.integral(0.9, -0.5) + (0.5 + 0.55 + 0.4 * (1.2 + 1.52) / 2.0)).abs() < 1e-12);
        assert_eq!(c.ends(1), (0.0, 0.5));
        assert!((c.on(1, 0.75) - 1.3).abs() < 1e-12);
    }

    #[test]
    fn no_curve_from_nonsense() {
        for bad in [vec![], vec![[0.0, f64::NAN]], vec![[0.0, 1.0], [0.0, 2.0]]] {
            assert!(Curve::new(bad).is_err());
        }
    }
}
