//! Two runs against a general-purpose circuit simulator's stored results
//! (`../data/circuit/`, with the netlists and the command).

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use super::common;
use restbite::run::{Precision, Setup, Trace, run, trace};
use serde_json::{Map, Value};
use std::sync::LazyLock;

const RUNS: [(&str, &str); 2] = [
    ("fern-pin", "sterling, pack of primary cells"),
    ("moon-dial", "copper, supply in a warm bath"),
];

fn read(name: &str) -> String {
    let path = common::root().join("tests/data/circuit").join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn numbers(name: &str) -> Map<String, Value> {
    serde_json::from_str(&read(&format!("{name}.json"))).unwrap()
}

/// What the simulator printed: names of the columns, rows, time to depth.
struct Printed {
    names: Vec<String>,
    rows: Vec<Vec<f64>>,
    time_to_depth: f64,
}

fn printed(name: &str) -> Printed {
    let text = read(&format!("{name}.txt"));
    let mut lines = text.lines();
    let names = lines.next().unwrap().split_whitespace().map(str::to_string).collect();
    let (mut rows, mut time_to_depth) = (Vec::new(), f64::NAN);
    for line in lines {
        match line.strip_prefix("* time_to_depth ") {
            Some(time) => time_to_depth = time.trim().parse().unwrap(),
            None => rows.push(line.split_whitespace().map(|x| x.parse().unwrap()).collect()),
        }
    }
    Printed { names, rows, time_to_depth }
}

const BASIS: Basis = Basis {
    subject: "The whole run, as a circuit",
    source: "ngspice 39, stored",
    known: Known::Read,
    unit: "",
    tolerance: Tolerance::Relative(1e-5),
    why: "the simulator's own relative tolerance is 1e-6, held at every step",
};

pub static CHECKS: LazyLock<Vec<Check>> =
    LazyLock::new(|| RUNS.iter().flat_map(|(name, said)| one(name, said)).collect());

fn one(name: &str, said: &str) -> Vec<Check> {
    let setup = common::setup(&numbers(name));
    let printed = printed(name);
    let whole = run(&setup, Precision::default()).unwrap();
    let time = Basis { unit: "s", ..BASIS };
    let what = format!("{said}: time to depth");
    let mut checks = vec![time.value(what, printed.time_to_depth, whole.time_s)];
    let ours = sampled(&setup, &printed);
    for (k, column) in printed.names.iter().enumerate() {
        if let Some((what, got, basis)) = column_of(column, &ours, &setup) {
            let want: Vec<f64> = printed.rows.iter().map(|row| row[k]).collect();
            let all = want.iter().zip(&got).map(|(w, g)| basis.value(what, *w, *g));
            assert_all(&all.collect::<Vec<_>>());
            let last = want.len() - 1;
            for (n, when) in [(last / 2, "half way"), (last, "at the end")] {
                checks.push(basis.value(format!("{said}: {what} {when}"), want[n], got[n]));
            }
        }
    }
    checks
}

/// The tool's run at the simulator's times.
fn sampled(setup: &Setup, printed: &Printed) -> Trace {
    let mut endless = setup.clone();
    endless.piece.depth = f64::INFINITY;
    endless.piece.floor = None;
    endless.time_limit_s = printed.rows.last().unwrap()[0];
    let (_, trace) = trace(&endless, Precision::default(), printed.rows.len()).unwrap();
    for (row, t) in printed.rows.iter().zip(&trace.t_s) {
        assert!((row[0] - t).abs() < 1e-6, "{} {t}", row[0]);
    }
    trace
}

/// What a column of the simulator's is among ours.
fn column_of(column: &str, ours: &Trace, setup: &Setup) -> Option<(&'static str, Vec<f64>, Basis)> {
    let over_room = |list: &[f64]| list.iter().map(|t| t - setup.ambient_k).collect::<Vec<_>>();
    let kelvin = Basis {
        unit: "K",
        tolerance: Tolerance::Absolute(1e-4),
        why: "ten times what the simulator changes by when its steps are halved",
        ..BASIS
    };
    Some(match column {
        "i(vamp)" => ("current", ours.current_a.clone(), Basis { unit: "A", ..BASIS }),
        "v(plus)" => ("terminal voltage", ours.source_v.clone(), Basis { unit: "V", ..BASIS }),
        "v(charge)" => {
            let kilo = ours.charge_c.iter().map(|c| 1e-3 * c).collect();
            let tolerance = Tolerance::Absolute(2e-5);
            let why = "under a hundred-thousandth of the charge at the end";
            ("charge", kilo, Basis { unit: "kC", tolerance, why, ..BASIS })
        }
        "v(bath)" => ("bath over room", over_room(&ours.bath_k), kelvin),
        "v(near)" => ("available share", ours.available.clone()?, BASIS),
        "v(skin)" => ("cell's surface over room", over_room(ours.surface_k.as_ref()?), kelvin),
        _ => return None,
    })
}

#[test]
fn runs_agree_with_the_circuit() {
    assert_all(&CHECKS);
}

#[test]
fn the_netlists_hold_the_numbers_of_the_runs() {
    for (name, _) in RUNS {
        let map = numbers(name);
        let mut seen = 0;
        for line in read(&format!("{name}.cir")).lines() {
            let Some(param) = line.strip_prefix(".param ") else { continue };
            let (key, value) = param.split_once(" = ").unwrap();
            let Some((_, number)) = map.iter().find(|(k, _)| k.replace('.', "_") == key) else {
                continue; // a constant, or worked out from others
            };
            let (a, b) = (value.parse::<f64>().unwrap(), f(number));
            assert!((a - b).abs() <= 1e-14 * b.abs(), "{name}: {key}: {a} {b}");
            seen += 1;
        }
        assert!(seen > 30, "{name}: {seen}");
        // Each curve stands in the netlist as it stands in the map.
        for key in ["source.cell.ocv_curve", "source.cell.r0_curve"] {
            if let Some(Value::Array(points)) = map.get(key) {
                let pairs = points.iter().map(|p| format!("{:?}, {:?}", f(&p[0]), f(&p[1])));
                let text = pairs.collect::<Vec<_>>().join(", ");
                assert!(read(&format!("{name}.cir")).contains(&text), "{name}: {key}");
            }
        }
    }
}

fn f(value: &Value) -> f64 {
    value.as_f64().unwrap()
}
