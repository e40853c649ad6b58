//! What a bench sheet without an engine needs to correct itself by what was read: depth and current
//! over time, and how both go with the strongest unknowns.
//!
//! Logarithms of depth and current, linear in the logarithms of the inputs; of all inputs together
//! the few directions in which they move most (principal components of the slopes: Jolliffe,
//! Principal Component Analysis, 2nd ed., 1.1), each a standard normal before anything is read. What
//! the others add counts as noise. A reading is then taken in by the recursive form of least squares
//! (Kalman, J. Basic Eng. 1960, 82, 35).

use crate::advice::case::Case;
use crate::advice::error::AdviceError;
use crate::advice::spread::quantile::{Quantiles, TENTH};
use crate::advice::spread::sample::Inputs;
use crate::job::log::{Accuracies, Reading, What};
use crate::job::resolve::Factors;
use crate::run::{Precision, trace_onward};
use nalgebra::{DMatrix, DVector, Matrix3, SymmetricEigen, Vector3};

/// The strongest unknowns that are kept.
pub const UNKNOWNS: usize = 3;
/// Points in time.
const POINTS: usize = 28;
/// How far they go, over the time of the planned run.
const BEYOND: f64 = 2.2;
/// Step of the slopes, in standard deviations of an input.
const STEP: f64 = 0.5;

/// A quantity at one time: its logarithm, the slopes of that, and the variance of what they leave.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Logarithm.
    pub ln: f64,
    /// Its slope along each unknown.
    pub slopes: [f64; UNKNOWNS],
    /// Variance of the rest.
    pub rest: f64,
}

/// What the sheet carries.
#[derive(Debug, Clone, PartialEq)]
pub struct Live {
    /// Times, s.
    pub t_s: Vec<f64>,
    /// Depth, of metres.
    pub depth: Vec<Point>,
    /// Current, of amperes.
    pub current: Vec<Point>,
    /// Depth aimed at, m.
    pub target_m: f64,
}

/// Works it out; none where depth or current come to nothing on the way.
///
/// # Errors
/// When a run cannot be worked out.
pub fn live(case: &Case) -> Result<Option<Live>, AdviceError> {
    let end = BEYOND * case.run.time_s;
    // Closer together at first, where the current changes most.
    let t_s: Vec<f64> = (1..=POINTS).map(|n| end * (n as f64 / POINTS as f64).powi(2)).collect();
    let inputs = Inputs::of(case.job, &case.source);
    let logarithms = |factors: &Factors| -> Result<DVector<f64>, AdviceError> {
        let (_, trace) = trace_onward(&case.moved(factors)?, Precision::COARSE, &t_s)?;
        let all = trace.depth_m.iter().chain(&trace.current_a).map(|x| libm::log(*x));
        Ok(DVector::from_iterator(2 * POINTS, all))
    };
    let nominal = logarithms(&Factors::default())?;
    let k = inputs.list.len();
    let mut slopes = DMatrix::zeros(2 * POINTS, k.max(UNKNOWNS));
    for j in 0..k {
        let mut z = DVector::zeros(k);
        z[j] = STEP;
        let moved = logarithms(&inputs.factors(&(inputs.lower() * z)))?;
        slopes.set_column(j, &((moved - &nominal) / STEP));
    }
    if nominal.iter().chain(slopes.iter()).any(|x| !x.is_finite()) {
        return Ok(None);
    }
    let eigen = SymmetricEigen::new(slopes.tr_mul(&slopes));
    let mut order: Vec<usize> = (0..eigen.eigenvalues.len()).collect();
    order.sort_by(|a, b| eigen.eigenvalues[*b].total_cmp(&eigen.eigenvalues[*a]));
    let kept: Vec<DVector<f64>> =
        order.iter().take(UNKNOWNS).map(|n| &slopes * eigen.eigenvectors.column(*n)).collect();
    let point = |row: usize| {
        let own: [f64; UNKNOWNS] = std::array::from_fn(|n| kept[n][row]);
        let all: f64 = slopes.row(row).iter().map(|x| x * x).sum();
        let rest = (all - own.iter().map(|x| x * x).sum::<f64>()).max(0.0);
        Point { ln: nominal[row], slopes: own, rest }
    };
    Ok(Some(Live {
        depth: (0..POINTS).map(point).collect(),
        current: (POINTS..2 * POINTS).map(point).collect(),
        target_m: case.setup.piece.depth,
        t_s,
    }))
}

impl Live {
    /// Time to depth by readings of current and depth, s, as the sheet's script works it out; an end
    /// that lies beyond the last time is none.
    pub fn done(&self, readings: &[Reading], accuracies: &Accuracies) -> Quantiles {
        let (mut x, mut p) = (Vector3::zeros(), Matrix3::identity());
        for reading in readings {
            let list = match reading.what {
                What::Depth => &self.depth,
                What::Amps => &self.current,
                _ => continue,
            };
            if reading.value <= 0.0 {
                continue;
            }
            let at = self.at(list, reading.at_s);
            let h = Vector3::from(at.slopes);
            let sd = accuracies.of(reading.what).sd(reading.value) / reading.value;
            let ph = p * h;
            let gain = ph / (h.dot(&ph) + sd * sd + at.rest);
            x += gain * (libm::log(reading.value) - at.ln - h.dot(&x));
            p -= gain * ph.transpose();
        }
        let reaches = |z: f64| {
            let ln = |point: &Point| {
                let h = Vector3::from(point.slopes);
                point.ln + h.dot(&x) + z * (h.dot(&(p * h)) + point.rest).max(0.0).sqrt()
            };
            let goal = libm::log(self.target_m);
            let n = self.depth.iter().position(|point| ln(point) >= goal)?;
            let Some(before) = n.checked_sub(1) else { return Some(self.t_s[0]) };
            let (low, high) = (ln(&self.depth[before]), ln(&self.depth[n]));
            let (a, b) = (libm::log(self.t_s[before]), libm::log(self.t_s[n]));
            Some(libm::exp(a + (b - a) * (goal - low) / (high - low)))
        };
        Quantiles { p10: reaches(TENTH), p50: reaches(0.0), p90: reaches(-TENTH) }
    }

    /// A quantity between the times, straight over the time's logarithm.
    fn at(&self, list: &[Point], t: f64) -> Point {
        let n = self.t_s.partition_point(|x| *x < t).clamp(1, self.t_s.len() - 1);
        let ln = |k: usize| libm::log(self.t_s[k]);
        let share = ((libm::log(t.max(1.0)) - ln(n - 1)) / (ln(n) - ln(n - 1))).clamp(-1.0, 1.0);
        let between = |a: f64, b: f64| a + share * (b - a);
        let (a, b) = (&list[n - 1], &list[n]);
        Point {
            ln: between(a.ln, b.ln),
            slopes: std::array::from_fn(|k| between(a.slopes[k], b.slopes[k])),
            rest: between(a.rest, b.rest).max(0.0),
        }
    }
}
