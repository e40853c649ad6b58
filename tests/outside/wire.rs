//! Wire and sheet gauges, resistance of the leads.

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use restbite::laws::wire::leads;
use restbite::stock::Stock;
use restbite::units::{Quantity, Wire, gauge_m, parse_sheet, parse_wire};
use std::f64::consts::PI;
use std::sync::LazyLock;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let mut checks = gauges();
    checks.extend(resistances());
    checks.extend(warm());
    checks
});

const GAUGE: Basis = Basis {
    subject: "Wire and sheet gauges",
    source: "ASTM B258, as in a published wire table",
    known: Known::Read,
    unit: "mm",
    tolerance: Tolerance::Relative(5e-3),
    why: "three digits are printed",
};

fn gauges() -> Vec<Check> {
    let wire = [(10, 2.59), (14, 1.63), (18, 1.02), (20, 0.812), (24, 0.511), (30, 0.255)];
    let mut checks: Vec<Check> = wire
        .into_iter()
        .map(|(n, d)| GAUGE.value(format!("diameter of AWG {n}"), d, 1e3 * gauge_m(n)))
        .collect();
    let exact = Basis {
        source: "ASTM B258: the gauge's two fixed points, 0.005 in and 92 times less than 0.46 in",
        known: Known::Exact,
        tolerance: Tolerance::Relative(1e-12),
        why: "a definition",
        ..GAUGE
    };
    checks.push(exact.value("diameter of AWG 36", 0.127, 1e3 * gauge_m(36)));
    let sheet = Basis {
        source: "Brown & Sharpe sheet gauges, as in a published bench table",
        tolerance: Tolerance::Absolute(6e-4),
        why: "printed to 0.001 mm",
        ..GAUGE
    };
    for (n, t) in [(10, 2.588), (14, 1.628), (16, 1.291), (18, 1.024), (20, 0.812), (24, 0.511)] {
        let got = parse_sheet(&format!("{n} ga")).unwrap().0.si();
        checks.push(sheet.value(format!("thickness of {n} ga sheet"), t, 1e3 * got));
    }
    checks
}

fn resistances() -> Vec<Check> {
    let stock = Stock::builtin().unwrap().leads;
    let per_km = |wire: Wire| 1e3 * stock.per_metre(wire).unwrap();
    let table = Basis { unit: "ohm/km", ..GAUGE };
    let mut checks: Vec<Check> =
        [(10, 3.28), (14, 8.29), (18, 20.9), (20, 33.3), (24, 84.2), (30, 339.0)]
            .into_iter()
            .map(|(n, r)| {
                table.value(format!("resistance of AWG {n} at 20 degC"), r, per_km(Wire::Awg(n)))
            })
            .collect();
    let handbook = Basis {
        source: "NBS Handbook 100, copper wire tables",
        known: Known::Memory,
        unit: "ohm/1000 ft",
        tolerance: Tolerance::Relative(5e-4),
        why: "four digits are printed",
        ..GAUGE
    };
    for (n, r) in [(10, 0.9988), (18, 6.385), (22, 16.14), (30, 103.2)] {
        let got = 0.3048 * per_km(Wire::Awg(n));
        checks.push(handbook.value(format!("resistance of AWG {n} at 20 degC"), r, got));
    }
    let class5 = Basis {
        source: "IEC 60228 class 5, plain copper, maximum at 20 degC, as in published tables",
        tolerance: Tolerance::Relative(1e-9),
        why: "the standard's own figure",
        ..table
    };
    for (area, r) in [
        ("0.5", 39.0),
        ("0.75", 26.0),
        ("1", 19.5),
        ("1.5", 13.3),
        ("2.5", 7.98),
        ("4", 4.95),
        ("6", 3.30),
        ("10", 1.91),
    ] {
        let wire = parse_wire(&format!("{area} mm2")).unwrap();
        checks.push(class5.value(format!("resistance of {area} mm2"), r, per_km(wire)));
    }
    let iacs = Basis {
        source: "IACS, IEC 60028: 58 MS/m at 20 degC",
        known: Known::Memory,
        unit: "MS/m",
        tolerance: Tolerance::Relative(1e-4),
        why: "1.7241e-8 ohm m is rounded",
        ..GAUGE
    };
    let area = PI * gauge_m(20).powi(2) / 4.0;
    let conductivity = 1e-6 / (stock.per_metre(Wire::Awg(20)).unwrap() * area);
    checks.push(iacs.value("conductivity of the leads' copper", 58.0, conductivity));
    checks
}

fn warm() -> Vec<Check> {
    let basis = Basis {
        source: "IEC 60228 temperature correction, as in a published table",
        unit: "",
        tolerance: Tolerance::Relative(2.5e-3),
        why: "the standard rounds 0.00393 to 0.004 a kelvin and prints three digits",
        ..GAUGE
    };
    [(10.0, 1.042), (30.0, 0.962), (40.0, 0.926), (50.0, 0.893)]
        .into_iter()
        .map(|(t, k)| {
            let got = leads(1.0, 0.5, 273.15 + t, 0.0, 0.0);
            basis.value(format!("resistance at {t} degC over that at 20 degC"), 1.0 / k, got)
        })
        .collect()
}

#[test]
fn wire_and_gauges() {
    assert_all(&CHECKS);
}
