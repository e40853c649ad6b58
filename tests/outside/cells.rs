//! Stock cells against published charge and drain (`../data/capacity.toml`): the two wells,
//! the resistance and the rest voltage together must give what was published within 15 %.

use super::check::{Basis, Check, Expected, Known, Tolerance, assert_all};
use restbite::job::resolve::{Factors, Recorder, cell};
use restbite::laws::cell::resistance_factor;
use restbite::run::Cell;
use restbite::stock::{Stock, find};
use restbite::units::{Charge, Current, Quantity, Resistance, Temperature, Time, Voltage, parse};
use serde::Deserialize;
use std::sync::LazyLock;

#[derive(Deserialize)]
struct Rows {
    row: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    cell: String,
    load: String,
    end: String,
    temperature: String,
    published: String,
    r#use: String,
    source: String,
    certainty: String,
}

/// What draws on the cell.
enum Load {
    Steady(f64),
    Resistor(f64),
}

/// A full cell emptied at a steady temperature down to `end_v`: charge in C, time in s.
/// Midpoint rule in steps of a few thousandths of the discharge.
fn discharge(c: &Cell, load: &Load, end_v: f64, t_k: f64) -> (f64, f64) {
    let factor = resistance_factor(c.r0_temp_k, t_k);
    let current = |q1: f64, u: f64| {
        let s = c.wells.available(q1);
        let (rest, r0) = (c.ocv.at(s) - u, c.r0_ohm * c.r0_curve.at(s) * factor);
        match load {
            Load::Steady(i) => (*i, rest - i * r0),
            Load::Resistor(r) => (rest / (r + r0), rest * r / (r + r0)),
        }
    };
    let rates = |[q1, q2, u]: [f64; 3]| {
        let (i, _) = current(q1, u);
        let (a, b) = c.wells.rates(q1, q2, i);
        [a, b, i / c.c1_f - u / (c.r1_ohm * c.c1_f)]
    };
    let (q1, q2) = c.wells.level(1.0);
    let (mut y, mut charge, mut time) = ([q1, q2, 0.0], 0.0, 0.0);
    let longest = c.wells.capacity / current(q1, 0.0).0;
    let dt = (longest / 4000.0).min(c.r1_ohm * c.c1_f / 4.0);
    loop {
        let (i, volts) = current(y[0], y[2]);
        if volts <= end_v || c.wells.available(y[0]) <= 0.0 || time > 3.0 * longest {
            return (charge, time);
        }
        let d = rates(y);
        let d = rates([0, 1, 2].map(|k| y[k] + 0.5 * dt * d[k]));
        y = [0, 1, 2].map(|k| y[k] + dt * d[k]);
        charge += i * dt;
        time += dt;
    }
}

fn si<Q: Quantity>(text: &str) -> f64 {
    parse::<Q>(text).unwrap_or_else(|e| panic!("{text}: {e:?}")).si()
}

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let stock = Stock::builtin().unwrap();
    let mut checks: Vec<Check> = rows().iter().map(|row| check(&stock, row)).collect();
    checks.extend(half_charge(&stock));
    checks
});

const CELLS: Basis = Basis {
    subject: "Cells: charge against drain",
    source: "",
    known: Known::Read,
    unit: "Ah",
    // The last half unit of a rounded figure beside the 15 %.
    tolerance: Tolerance::Relative(0.15 + 5e-4),
    why: "cells of one kind differ by as much",
};

fn rows() -> Vec<Row> {
    let path = super::common::root().join("tests/data/capacity.toml");
    let text = std::fs::read_to_string(path).unwrap();
    toml::from_str::<Rows>(&text).unwrap().row
}

fn check(stock: &Stock, row: &Row) -> Check {
    assert!(!row.source.is_empty(), "{}: no source", row.cell);
    let c =
        cell(find(&stock.cells, &row.cell).unwrap(), &Factors::default(), &mut Recorder::default())
            .unwrap();
    let load = match row.load.ends_with("ohm") {
        true => Load::Resistor(si::<Resistance>(&row.load)),
        false => Load::Steady(si::<Current>(&row.load)),
    };
    let t_k = si::<Temperature>(&row.temperature);
    let (charge, time) = discharge(&c, &load, si::<Voltage>(&row.end), t_k);
    let (published, got, unit) = match row.published.ends_with("min") {
        true => (si::<Time>(&row.published) / 60.0, time / 60.0, "min"),
        false => (si::<Charge>(&row.published) / 3600.0, charge / 3600.0, "Ah"),
    };
    let what = format!("{}, {} to {}, {}", row.cell, row.load, row.end, row.temperature);
    let basis = Basis { unit, ..CELLS };
    let mut check = match row.r#use.as_str() {
        "match" => basis.value(what, published, got),
        "floor" => Basis { why: "a minimum average duration, on and off; ours runs on", ..basis }
            .check(what, Expected::AtLeast(published), got),
        "conflict" => {
            let why = "other published figures for this cell disagree with it";
            Basis { tolerance: Tolerance::Shown, why, ..basis }.value(what, published, got)
        }
        other => panic!("{other}"),
    };
    check.source = row.source.clone();
    check.known = match row.certainty.as_str() {
        "read" => Known::Read,
        "computed" => Known::Computed,
        "memory" => Known::Memory,
        other => panic!("{other}"),
    };
    check
}

fn half_charge(stock: &Stock) -> Vec<Check> {
    let basis = Basis {
        source: "an encyclopedia extract on nickel-metal hydride cells",
        unit: "V",
        tolerance: Tolerance::Relative(0.02),
        why: "two digits after the point, cells differ",
        ..CELLS
    };
    let c = cell(find(&stock.cells, "HR6").unwrap(), &Factors::default(), &mut Recorder::default())
        .unwrap();
    let factor = resistance_factor(c.r0_temp_k, 293.15);
    [(1.0, 1.20), (2.0, 1.15)]
        .into_iter()
        .map(|(i, volts)| {
            let got = c.ocv.at(0.5) - i * (c.r1_ohm + c.r0_ohm * c.r0_curve.at(0.5) * factor);
            basis.value(format!("HR6 half way at {i} A"), volts, got)
        })
        .collect()
}

#[test]
fn published_charge_against_drain() {
    assert_all(&CHECKS);
}

#[test]
fn every_cell_is_checked_against_something() {
    let rows = rows();
    for c in &Stock::builtin().unwrap().cells {
        let checked = rows.iter().any(|r| r.cell == c.name && r.r#use == "match");
        assert!(checked, "{} is checked against nothing", c.name);
    }
}
