//! Stock cells against published charge and drain (`data/capacity.toml`): the two wells,
//! the resistance and the rest voltage together must give what was published within 15 %.
//!
//! `cargo test --test cells -- --nocapture` prints the table.

use restbite::job::resolve::{Factors, cell};
use restbite::laws::cell::resistance_factor;
use restbite::run::Cell;
use restbite::stock::{Stock, find};
use restbite::units::{Charge, Current, Quantity, Resistance, Temperature, Time, Voltage, parse};
use serde::Deserialize;

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

#[test]
fn published_charge_against_drain() {
    let stock = Stock::builtin().unwrap();
    let text = std::fs::read_to_string("tests/data/capacity.toml").unwrap();
    let rows: Rows = toml::from_str(&text).unwrap();
    let mut faults = Vec::new();
    println!(
        "{:<12} {:>9} {:>7} {:>10} {:>9} {:>7}  use",
        "cell", "load", "end", "published", "model", "off"
    );
    for row in &rows.row {
        assert!(!row.source.is_empty(), "{}: no source", row.cell);
        assert!(["read", "computed", "memory"].contains(&row.certainty.as_str()));
        let c = cell(find(&stock.cells, &row.cell).unwrap(), &Factors::default()).unwrap();
        let load = match row.load.ends_with("ohm") {
            true => Load::Resistor(si::<Resistance>(&row.load)),
            false => Load::Steady(si::<Current>(&row.load)),
        };
        let t_k = si::<Temperature>(&row.temperature);
        let (charge, time) = discharge(&c, &load, si::<Voltage>(&row.end), t_k);
        let (off, model) = match row.published.ends_with("min") {
            true => (time / si::<Time>(&row.published) - 1.0, format!("{:.0} min", time / 60.0)),
            false => {
                (charge / si::<Charge>(&row.published) - 1.0, format!("{:.3} Ah", charge / 3600.0))
            }
        };
        println!(
            "{:<12} {:>9} {:>7} {:>10} {:>9} {:>6.1} %  {}",
            row.cell,
            row.load,
            row.end,
            row.published,
            model,
            100.0 * off,
            row.r#use
        );
        let fits = match row.r#use.as_str() {
            "match" => off.abs() <= 0.15 + 5e-4, // the last half unit of a rounded figure
            "floor" => off >= -0.15,
            "conflict" => true,
            other => panic!("{other}"),
        };
        if !fits {
            faults.push(format!("{} at {}: off by {:.1} %", row.cell, row.load, 100.0 * off));
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
    for c in &stock.cells {
        assert!(
            rows.row.iter().any(|r| r.cell == c.name && r.r#use == "match"),
            "{} is checked against nothing",
            c.name
        );
    }
}

#[test]
fn nickel_metal_hydride_at_half_charge() {
    // An encyclopedia extract: HR6 half way 1.20 V at 1 A, 1.15 V at 2 A (2 %).
    let stock = Stock::builtin().unwrap();
    let c = cell(find(&stock.cells, "HR6").unwrap(), &Factors::default()).unwrap();
    let factor = resistance_factor(c.r0_temp_k, 293.15);
    for (i, volts) in [(1.0, 1.20), (2.0, 1.15)] {
        let got = c.ocv.at(0.5) - i * (c.r1_ohm + c.r0_ohm * c.r0_curve.at(0.5) * factor);
        assert!((got / volts - 1.0).abs() < 0.02, "{i} A: {got}");
    }
}
