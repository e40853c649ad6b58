//! Shape factor, edge, constriction and elliptic integral, against our own numerical
//! solution of Laplace's equation (`laplace.rs`) and closed forms.

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use super::laplace::{Grid, about_edge, extrapolated, graded};
use restbite::laws::constriction;
use restbite::laws::elliptic::complete_k;
use restbite::laws::slab::{EDGE, Face};
use std::f64::consts::{LN_2, PI};
use std::sync::LazyLock;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let mut checks = discs();
    checks.extend(rectangles());
    checks.extend(limits());
    checks.extend(edge_and_slits());
    checks.extend(elliptic());
    checks
});

const SLAB: Basis = Basis {
    subject: "Geometry",
    source: "Laplace's equation, solved in this suite",
    known: Known::Here,
    unit: "a",
    tolerance: Tolerance::Relative(8.5e-3),
    why: "0.8 % claimed for the fit, 0.05 % for the solution",
};

/// Conductance length of a disc of radius 1 at the gap h.
fn disc(h: f64) -> f64 {
    let finest = 0.02 * h.min(1.0);
    let grid = Grid {
        x: about_edge(1.0, 6.0 * h, finest, 1.35),
        y: vec![0.0, 1.0],
        z: graded(h, finest, 1.35),
        polar: true,
    };
    extrapolated(&grid, |r, _| r < 1.0)
}

/// Conductance length of a rectangle of sides 2a and 2b at the gap h, from a quarter of it.
fn rectangle(a: f64, b: f64, h: f64) -> f64 {
    let finest = 0.1 * h.min(a);
    let along = |side: f64| about_edge(side, 5.0 * h, finest, 1.5);
    let grid = Grid { x: along(a), y: along(b), z: graded(h, finest, 1.5), polar: false };
    4.0 * extrapolated(&grid, |x, y| x < a && y < b)
}

fn discs() -> Vec<Check> {
    [0.05, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|h| {
            let got = 1.0 / Face::Disc(1.0).shape_factor(h);
            SLAB.value(format!("conductance length of a disc, radius a, gap {h} a"), disc(h), got)
        })
        .collect()
}

fn rectangles() -> Vec<Check> {
    [(1.0, 0.5), (1.0, 2.0), (2.0, 0.5), (2.0, 1.0), (2.0, 4.0), (4.0, 1.0), (4.0, 3.0)]
        .into_iter()
        .map(|(r, h)| {
            // Half sides 1 and r; the unit is half the short side.
            let got = 1.0 / Face::Rectangle(2.0, 2.0 * r).shape_factor(h);
            let what = format!("conductance length of a rectangle 2 a by {} a, gap {h} a", 2.0 * r);
            SLAB.value(what, rectangle(1.0, r, h), got)
        })
        .collect()
}

fn limits() -> Vec<Check> {
    let newman = Basis {
        source: "disc in an infinite plane: 4 a (Newman 1966)",
        known: Known::Exact,
        tolerance: Tolerance::Relative(1e-3),
        why: "at a gap of 2000 a the far limit is met to this",
        ..SLAB
    };
    let plates = Basis {
        source: "near plates with their edge: A/h + (2 ln 2/pi) P, conformal map",
        known: Known::Exact,
        tolerance: Tolerance::Relative(1e-4),
        why: "at a gap of a thousandth the next term is smaller",
        ..SLAB
    };
    let disc = Face::Disc(1.0);
    let near = PI / 1e-3 + 2.0 * LN_2 / PI * 2.0 * PI;
    vec![
        newman.value("disc far from the pan", 4.0, 1.0 / disc.shape_factor(2000.0)),
        plates.value("disc close to the pan", near, 1.0 / disc.shape_factor(1e-3)),
    ]
}

fn edge_and_slits() -> Vec<Check> {
    let edge = Basis {
        unit: "h",
        tolerance: Tolerance::Relative(1e-3),
        why: "error of the solution",
        ..SLAB
    };
    // A half plane six gaps wide; what it carries beyond six is its edge.
    let grid = Grid {
        x: about_edge(6.0, 6.0, 0.02, 1.35),
        y: vec![0.0, 1.0],
        z: graded(1.0, 0.02, 1.35),
        polar: false,
    };
    let carried = extrapolated(&grid, |x, _| x < 6.0) - 6.0;
    let mut checks = vec![edge.value("extra width of a long edge", carried, EDGE)];
    let slits = Basis {
        unit: "pitch",
        tolerance: Tolerance::Absolute(1e-4),
        why: "error of the solution; the pan is two pitches away",
        ..SLAB
    };
    for phi in [0.1, 0.25, 0.5, 0.75] {
        let what = format!("extra length of bath for lines, bare share {phi}");
        checks.push(slits.value(what, slit(phi), constriction::length(1.0, phi)));
    }
    let thin = Basis {
        source: "thin lines: (p/pi) ln(2/(pi phi))",
        known: Known::Exact,
        tolerance: Tolerance::Relative(1e-6),
        why: "the limit is met to the square of the share",
        ..slits
    };
    let far = (2.0 / (PI * 1e-4)).ln() / PI;
    checks.push(thin.value("the same, bare share 0.0001", far, constriction::length(1.0, 1e-4)));
    checks
}

/// Extra length for slits of pitch 1, from half a pitch over a pan two pitches away.
fn slit(phi: f64) -> f64 {
    let edge = 0.5 * phi;
    let finest = 0.05 * edge.min(0.5 - edge);
    let grid = Grid {
        x: about_edge(edge, 0.5 - edge, finest, 1.35),
        y: vec![0.0, 1.0],
        z: graded(2.0, finest, 1.35),
        polar: false,
    };
    0.5 / extrapolated(&grid, |x, _| x < edge) - 2.0
}

fn elliptic() -> Vec<Check> {
    let basis = Basis {
        source: "Abramowitz and Stegun, table 17.1",
        known: Known::Memory,
        unit: "",
        tolerance: Tolerance::Absolute(1e-9),
        why: "the digits recalled",
        ..SLAB
    };
    let rows = [
        (0.1, 1.612_441_348_7),
        (0.5, 1.854_074_677_3),
        (0.9, 2.578_092_113_3),
        (0.99, 3.695_637_363_0),
    ];
    let mut checks: Vec<Check> = rows
        .into_iter()
        .map(|(m, k)| basis.value(format!("K(m = {m})"), k, complete_k(m)))
        .collect();
    let page =
        Basis { source: "a published calculator's worked example", known: Known::Read, ..basis };
    checks.push(page.value("K(m = 0.25)", 1.685_750_354_8, complete_k(0.25)));
    checks
}

#[test]
fn geometry() {
    assert_all(&CHECKS);
}
