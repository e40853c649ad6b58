//! Natural convection, radiation, a cell's inside, and how warm is too warm to hold.

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use restbite::laws::cell::{core_to_surface, surface_area};
use restbite::laws::constants::STEFAN_BOLTZMANN;
use restbite::laws::convection::{coefficient, flux, nusselt};
use restbite::stock::Stock;
use restbite::units::Quantity;
use std::f64::consts::PI;
use std::sync::LazyLock;

pub static CONVECTION: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let mut checks = cylinders();
    checks.extend(free_cells());
    checks.extend(inside());
    checks
});

pub static TOUCH: LazyLock<Vec<Check>> = LazyLock::new(touch);

const NUSSELT: Basis = Basis {
    subject: "Heat",
    source: "documentation of a general-purpose heat-transfer library (Churchill and Chu 1975)",
    known: Known::Read,
    unit: "",
    tolerance: Tolerance::Relative(1e-7),
    why: "the same equation",
};

fn cylinders() -> Vec<Check> {
    let book = Basis {
        source: "Incropera et al., Fundamentals of Heat and Mass Transfer, example 9.4 (pipe \
                 0.1 m, 165 degC in 23 degC)",
        known: Known::Memory,
        tolerance: Tolerance::Relative(0.015),
        why: "the book rounds on its way",
        ..NUSSELT
    };
    let air = Basis {
        unit: "W/(m2 K)",
        tolerance: Tolerance::Relative(0.025),
        why: "the book's rounding and our power laws for the air 70 K above their middle",
        ..book
    };
    vec![
        NUSSELT.value(
            "Nusselt number, Pr 0.69, Gr 2.63e9",
            139.134_94,
            nusselt(2.63e9 * 0.69, 0.69),
        ),
        book.value("Nusselt number, Ra 5.073e6, Pr 0.697", 23.3, nusselt(5.073e6, 0.697)),
        air.value("heat transfer coefficient", 7.29, coefficient(438.15, 296.15, 0.1)),
    ]
}

fn free_cells() -> Vec<Check> {
    let basis = Basis {
        source: "Churchill and Chu 1975 with tabled air (Incropera et al., table A.4, from \
                 memory), radiation added",
        known: Known::Computed,
        unit: "W/K",
        tolerance: Tolerance::Relative(0.02),
        why: "air by straight lines there, by power laws here",
        ..NUSSELT
    };
    // Lone cell in still air of 25 degC, emissivity 0.9: watts a kelvin at 10 and 20 K.
    let cells = [
        ("LR6", 0.0145, 0.0505, 0.0305, 0.0338),
        ("18650", 0.0184, 0.0652, 0.0480, 0.0532),
        ("LR14", 0.0262, 0.0500, 0.0551, 0.0612),
        ("LR20", 0.0342, 0.0615, 0.0869, 0.0965),
    ];
    let mut checks = Vec::new();
    for (name, d, l, at_10, at_20) in cells {
        for (rise, want) in [(10.0, at_10), (20.0, at_20)] {
            let watts = flux(298.15 + rise, 298.15, d, 1.0, 0.9) * surface_area(d, l);
            let what = format!("heat given off by a lone {name} cell, {rise} K over the air");
            checks.push(basis.value(what, want, watts / rise));
        }
    }
    let exact = Basis {
        source: "Stefan and Boltzmann: eps sigma (T + t)(T2 + t2)",
        known: Known::Exact,
        unit: "W/(m2 K)",
        tolerance: Tolerance::Relative(1e-9),
        why: "the same mathematics twice",
        ..NUSSELT
    };
    let (warm, cool) = (313.15_f64, 293.15_f64);
    let want = 0.9 * STEFAN_BOLTZMANN * (warm + cool) * (warm * warm + cool * cool);
    let got = flux(warm, cool, 0.03, 0.0, 0.9) / 20.0;
    checks.push(exact.value("radiation alone, 40 degC in 20 degC, emissivity 0.9", want, got));
    checks
}

fn inside() -> Vec<Check> {
    let basis = Basis {
        source: "cylinder with uniform heat: axis q/(4 pi k l) over the surface (Incropera et \
                 al., 3.5)",
        known: Known::Exact,
        unit: "K/W",
        tolerance: Tolerance::Relative(1e-9),
        why: "the same mathematics twice",
        ..NUSSELT
    };
    let want = 1.0 / (4.0 * PI * 0.3 * 0.065);
    vec![basis.value(
        "axis over surface, 18650 at 0.3 W/(m K)",
        want,
        2.0 * core_to_surface(0.3, 0.065),
    )]
}

fn touch() -> Vec<Check> {
    let stock = Stock::builtin().unwrap().touch;
    let basis = Basis {
        subject: "Touch",
        source: "ISO 13732-1, burn threshold, any material",
        known: Known::Memory,
        unit: "degC",
        tolerance: Tolerance::Absolute(1e-9),
        why: "the standard's own figure",
    };
    [(60.0, "1 min", 51.0), (600.0, "10 min", 48.0), (28_800.0, "8 h", 43.0)]
        .into_iter()
        .map(|(seconds, said, want)| {
            let row = stock.iter().find(|t| (t.contact.is.si() - seconds).abs() < 1e-6).unwrap();
            let known = if seconds == 600.0 { Known::Read } else { Known::Memory };
            let source = match known {
                Known::Read => "ISO 13732-1 as quoted in published code",
                _ => basis.source,
            };
            let got = row.temperature.is.si() - 273.15;
            Basis { source, known, ..basis }.value(format!("held for {said}"), want, got)
        })
        .collect()
}

#[test]
fn convection_and_radiation() {
    assert_all(&CONVECTION);
}

#[test]
fn touch_thresholds() {
    assert_all(&TOUCH);
}
