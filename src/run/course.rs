//! Where the pan's potential is expected, from where it was: one value after another over the
//! depth, which only grows while a current flows.

/// Values that are kept.
const KEPT: usize = 3;
/// Two values count as one where they lie closer together than this share of all that are kept.
const CLOSE: f64 = 0.1;
/// How far beyond the values kept the next is expected by them, over the span of those.
const FAR: f64 = 3.0;

/// The last values, the latest first.
#[derive(Debug, Clone, Default)]
pub(super) struct Course {
    points: [(f64, f64); KEPT],
    kept: usize,
}

impl Course {
    /// What is expected at `x`; no number where nothing is known.
    pub fn at(&self, x: f64) -> f64 {
        let [(x0, y0), (x1, y1), (x2, y2)] = self.points;
        let span = (x0 - self.points[self.kept.max(1) - 1].0).abs();
        if self.kept == 0 {
            return f64::NAN;
        }
        if self.kept == 1 || (x - x0).abs() > FAR * span {
            return y0;
        }
        // Newton's divided differences.
        let first = (y1 - y0) / (x1 - x0);
        if self.kept == 2 {
            return y0 + first * (x - x0);
        }
        let second = ((y2 - y1) / (x2 - x1) - first) / (x2 - x0);
        y0 + (x - x0) * (first + second * (x - x1))
    }

    /// Takes in a value.
    pub fn note(&mut self, x: f64, y: f64) {
        let oldest = self.points[self.kept.max(1) - 1].0;
        if self.kept > 0 && (x - self.points[0].0).abs() <= CLOSE * (x - oldest).abs() {
            self.points[0] = (x, y);
            return;
        }
        self.points.rotate_right(1);
        self.points[0] = (x, y);
        self.kept = (self.kept + 1).min(KEPT);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_parabola_is_met() {
        let mut course = Course::default();
        assert!(course.at(1.0).is_nan());
        for x in [0.0, 1.0, 3.0] {
            course.note(x, 2.0 - x + 0.5 * x * x);
        }
        assert!((course.at(4.0) - 6.0).abs() < 1e-12);
        assert_eq!(course.at(100.0), 3.5, "too far: the last");
        course.note(3.1, 7.0);
        assert_eq!(course.at(3.1), 7.0, "close together they are one");
    }
}
