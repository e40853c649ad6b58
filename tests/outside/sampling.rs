//! What the spread comes from: a straight line whose shares are known.

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use nalgebra::DVector;
use restbite::advice::spread::line::Line;
use restbite::advice::spread::sample::points;
use statrs::distribution::{ContinuousCDF, Normal};
use std::sync::LazyLock;

/// As many as a plan draws.
const POINTS: usize = 512;
/// Coefficients of y = sum b x + x1 x2 / 2, each x standard normal.
const B: [f64; 4] = [0.7, 0.5, 0.4, 0.2];

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let basis = Basis {
        subject: "Which input matters",
        source: "variance of a sum of independent normals and of a product of two (any text on \
                 statistics); closed form",
        known: Known::Exact,
        unit: "",
        tolerance: Tolerance::Absolute(0.025),
        why: "scatter of 512 points; a share of a tenth is told to a fortieth",
    };
    let normal = Normal::standard();
    let inputs: Vec<DVector<f64>> = points(POINTS, B.len(), 1)
        .iter()
        .map(|p| DVector::from_iterator(B.len(), p.iter().map(|u| normal.inverse_cdf(*u))))
        .collect();
    let y = |x: &DVector<f64>| x.iter().zip(B).map(|(x, b)| b * x).sum::<f64>() + 0.5 * x[0] * x[1];
    let line = Line::through(&inputs, &inputs.iter().map(y).collect::<Vec<_>>());
    let straight: f64 = B.iter().map(|b| b * b).sum();
    let all = straight + 0.25;
    let mut checks: Vec<Check> = B
        .iter()
        .zip(&line.shares)
        .enumerate()
        .map(|(n, (b, got))| basis.value(format!("share of input {}", n + 1), b * b / all, *got))
        .collect();
    checks.push(basis.value("what a straight line explains", straight / all, line.r2));
    checks
});

#[test]
fn a_line_with_an_interplay() {
    assert_all(&CHECKS);
}
