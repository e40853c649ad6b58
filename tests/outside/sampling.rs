//! Variance shares: the Ishigami function.

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use restbite::advice::spread::sample::latin_hypercube;
use restbite::advice::spread::sobol::{design, shares};
use std::f64::consts::PI;
use std::sync::LazyLock;

const POINTS: usize = 16_384;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let basis = Basis {
        subject: "Which input matters",
        source: "Ishigami and Homma 1990; closed form of its indices with a = 7, b = 0.1",
        known: Known::Exact,
        unit: "",
        tolerance: Tolerance::Absolute(0.02),
        why: "scatter of 16384 points",
    };
    let (a, b) = (latin_hypercube(POINTS, 3, 1), latin_hypercube(POINTS, 3, 2));
    let f = |p: &Vec<f64>| {
        let x: Vec<f64> = p.iter().map(|u| PI * (2.0 * u - 1.0)).collect();
        x[0].sin() + 7.0 * x[1].sin().powi(2) + 0.1 * x[2].powi(4) * x[0].sin()
    };
    let values: Vec<f64> = design(&a, &b).iter().map(f).collect();
    let got = shares(&values, POINTS, 3);
    let mut checks = Vec::new();
    for (n, (got, (first, total))) in got.iter().zip(closed_form()).enumerate() {
        let n = n + 1;
        checks.push(basis.value(format!("share of input {n} alone"), first, got.first));
        checks.push(basis.value(
            format!("share of input {n} with its interplay"),
            total,
            got.total,
        ));
    }
    checks
});

/// First and total index of each input.
fn closed_form() -> [(f64, f64); 3] {
    let (a, b) = (7.0_f64, 0.1_f64);
    let alone_1 = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2);
    let alone_2 = a * a / 8.0;
    let both = b * b * PI.powi(8) * 8.0 / 225.0;
    let all = alone_1 + alone_2 + both;
    [(alone_1 / all, (alone_1 + both) / all), (alone_2 / all, alone_2 / all), (0.0, both / all)]
}

#[test]
fn ishigami_function() {
    assert_all(&CHECKS);
}
