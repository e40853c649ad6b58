//! Internal resistance by two steps of load.

use super::check::{Basis, Check, Expected, Known, Tolerance, assert_all};
use restbite::job::resolve::{Factors, Recorder, cell};
use restbite::laws::cell::resistance_factor;
use restbite::laws::two_loads::{Load, expected, resistance};
use restbite::stock::{Stock, find};
use std::sync::LazyLock;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let definition = Basis {
        subject: "Internal resistance",
        source: "IEC 61960-3: R = (U1 - U2)/(I2 - I1), 0.2 It for 10 s, then 1.0 It for 1 s",
        known: Known::Read,
        unit: "mohm",
        tolerance: Tolerance::Relative(1e-9),
        why: "worked by hand: 0.08 V over 1.6 A",
    };
    let shown = 1e3 * resistance((0.4, 3.92), (2.0, 3.84));
    let mut checks = vec![definition.value("3.92 V at 0.4 A, then 3.84 V at 2.0 A", 50.0, shown)];
    let limit = Basis {
        source: "a resistance behind R1 and C1: R0 at once, R0 + R1 after long",
        known: Known::Exact,
        why: "limits of the exponential",
        ..definition
    };
    for (what, after, want) in [("read at once", 1e-9, 30.0), ("read after long", 1e9, 50.0)] {
        let load = |current| Load { current, after };
        let got = 1e3 * expected(0.03, 0.02, 500.0, load(0.4), load(2.0));
        checks.push(limit.value(format!("R0 30, R1 20 mohm, {what}"), want, got));
    }
    checks.extend(stock_cells(definition));
    checks
});

/// Stock cells after a pulse of 10 s from rest, half full at 25 degC.
fn stock_cells(definition: Basis) -> Vec<Check> {
    let range = Basis {
        source: "direct-current resistance, 10 s, half full, 25 degC: class value",
        known: Known::Memory,
        tolerance: Tolerance::Within,
        why: "the recalled range",
        ..definition
    };
    let below = Basis {
        tolerance: Tolerance::Shown,
        why: "not asked for: stock takes the class value of the alternating-current resistance \
              (30 to 50, 10 to 20) for R0 and lies under this one",
        ..range
    };
    let stock = Stock::builtin().unwrap();
    let pulse = |name| {
        let c =
            cell(find(&stock.cells, name).unwrap(), &Factors::default(), &mut Recorder::default())
                .unwrap();
        let (rest, on) = (Load { current: 0.0, after: 1.0 }, Load { current: 1.0, after: 10.0 });
        1e3 * expected(c.r0_ohm * c.r0_curve.at(0.5), c.r1_ohm, c.c1_f, rest, on)
    };
    let mut checks = vec![
        range.check("HR6", Expected::Between(30.0, 60.0), pulse("HR6")),
        below.check("ICR18650", Expected::Between(50.0, 80.0), pulse("ICR18650")),
        below.check("INR18650", Expected::Between(18.0, 30.0), pulse("INR18650")),
    ];
    let warmth = Basis {
        source: "an encyclopedia page on alkaline cells, one commercial kind, two-pulse method",
        known: Known::Read,
        tolerance: Tolerance::Relative(0.05),
        why: "what stock was fitted to; two digits are printed",
        ..definition
    };
    let lr6 =
        cell(find(&stock.cells, "LR6").unwrap(), &Factors::default(), &mut Recorder::default())
            .unwrap();
    for (t_c, want) in [(20.0, 150.0), (40.0, 100.0)] {
        let got = 1e3 * lr6.r0_ohm * resistance_factor(lr6.r0_temp_k, 273.15 + t_c);
        checks.push(warmth.value(format!("LR6 fresh at {t_c} degC"), want, got));
    }
    checks
}

#[test]
fn internal_resistance() {
    assert_all(&CHECKS);
}
