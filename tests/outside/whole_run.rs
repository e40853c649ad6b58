//! Whole runs against a second implementation of the same equations (`second/`), integrated
//! live by a general-purpose library.

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use super::second::{Ended, Model, Until, cell_v, follow, onto, rest};
use super::setups::{demo, without_source};
use restbite::job::resolve::{Resolved, Rows};
use restbite::run::{Bench, Precision, Run, Setup, Stop, run};
use std::sync::LazyLock;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let mut checks = Vec::new();
    for (name, job, sets) in TO_DEPTH {
        to_depth(&mut checks, name, &demo(job, sets));
    }
    limited(&mut checks);
    empty(&mut checks);
    hot(&mut checks);
    rested(&mut checks);
    staged(&mut checks);
    checks
});

/// What is etched to its depth: name, demo job, keys set anew.
const TO_DEPTH: [(&str, &str, &[&str]); 9] = [
    ("sterling, begun before and hung again", "fern-pin", &["piece.begun=0.12 mm"]),
    ("sterling, pack of primary cells", "fern-pin", &[]),
    (
        "fine silver, pack of rechargeable cells two by two",
        "fern-pin",
        &[
            "piece.metal=fine silver",
            "source.cell=HR6",
            "source.series=2",
            "source.parallel=2",
            "source.charge_left=80 %",
            "room.temperature=12 degC",
        ],
    ),
    (
        "copper, pack of rechargeable cells in a warm bath",
        "moon-dial",
        &[
            "source={ kind = \"pack\", cell = \"INR18650\", series = 1, holder = \"single\" }",
            "bath.temperature=40 degC",
        ],
    ),
    ("copper, supply at its voltage", "moon-dial", &["source.current_limit=3 A"]),
    ("brass, adapter", "sundial", &[]),
    (
        "sterling in sodium nitrate (hydrogen first), adapter",
        "fern-pin",
        &[
            "bath.electrolyte=sodium nitrate",
            "bath.concentration=1 mol/L",
            "source={ kind = \"adapter\", open_voltage = \"6 V\", series_resistance = \"1.8 ohm\" }",
        ],
    ),
    (
        "copper in brine (one electron), supply",
        "moon-dial",
        &[
            "bath.electrolyte=brine",
            "bath.concentration=1 mol/L",
            "source.voltage=2 V",
            "source.current_limit=3 A",
        ],
    ),
    (
        "sterling in a used bath, small strong pack",
        "fern-pin",
        &["bath.dissolved_silver=4 g/L", "source.cell=LR14", "source.series=4"],
    ),
];

fn model(rows: &Rows) -> Model {
    Model::new(&rows.map())
}

fn ours(setup: &Setup) -> Run {
    run(setup, Precision::default()).unwrap()
}

const BASIS: Basis = Basis {
    subject: "The whole run",
    source: "second implementation, integrated here",
    known: Known::Here,
    unit: "",
    tolerance: Tolerance::Relative(1e-5),
    why: "asked of two good solutions",
};

fn push(checks: &mut Vec<Check>, what: String, second: f64, got: f64, unit: &'static str) {
    checks.push(Basis { unit, ..BASIS }.value(what, second, got));
}

/// How warm, how full, and how much metal at the end.
fn at_the_end(checks: &mut Vec<Check>, name: &str, setup: &Setup, end: &Ended, run: &Run) {
    let kelvin = Basis { unit: "K", tolerance: Tolerance::Absolute(3e-5), ..BASIS };
    let (second, got) = (end.state.bath - setup.ambient_k, run.end_bath_k - setup.ambient_k);
    checks.push(kelvin.value(format!("{name}: bath over room at the end"), second, got));
    for (k, metal) in setup.bath.plating.iter().enumerate() {
        let what = format!("{name}: dissolved {} at the end", metal.symbol);
        push(checks, what, 1e-3 * end.state.c[k], 1e-3 * run.extremes.metals_end[k], "mol/L");
    }
    let part = setup.bath.index_of("Ag").map(|k| &setup.bath.plating[k]);
    if let (Some(part), true) = (part, end.state.held > 0.0) {
        let (loose, held) = (1e3 * end.state.loose, 1e3 * end.state.held);
        let mmol = |kg: f64| 1e3 * kg / part.molar_mass;
        let basis = Basis { unit: "mmol", tolerance: Tolerance::Relative(1e-4), ..BASIS };
        checks.push(basis.value(format!("{name}: silver held"), held, mmol(run.end_silver.held)));
        if loose > 0.0 {
            let got = mmol(run.end_silver.loose);
            checks.push(basis.value(format!("{name}: silver loose"), loose, got));
        }
    }
    if let Some(pack) = setup.source.pack() {
        let available = run.wells_end.unwrap().available;
        let wells = &pack.cell.wells;
        let second = end.state.q1 / (wells.available_share * wells.capacity);
        push(checks, format!("{name}: available share at the end"), second, available, "");
    }
}

fn to_depth(checks: &mut Vec<Check>, name: &str, Resolved { setup, rows }: &Resolved) {
    let run = ours(setup);
    assert_eq!(run.stop, Stop::Depth, "{name}");
    let m = model(rows);
    let end = follow(&m, None, Until::Depth(m.depth));
    push(checks, format!("{name}: time to depth"), end.time_s, run.time_s, "s");
    push(checks, format!("{name}: charge"), end.state.charge, run.charge_c, "C");
    at_the_end(checks, name, setup, &end, &run);
}

/// A supply at its current limit all the way, stopped by the time limit.
fn limited(checks: &mut Vec<Check>) {
    let sets = ["source.voltage=5 V", "source.current_limit=0.4 A", "limits.time=40 min"];
    let (name, Resolved { setup, rows }) =
        ("copper, supply at its current limit", demo("moon-dial", &sets));
    let run = ours(&setup);
    assert!(run.stop == Stop::Time && run.extremes.limited == (true, true));
    let end = follow(&model(&rows), None, Until::Time(run.time_s));
    push(checks, format!("{name}: charge in 40 min"), end.state.charge, run.charge_c, "C");
    push(
        checks,
        format!("{name}: what the charge is worth, as a depth"),
        1e6 * end.state.depth,
        1e6 * run.charge_depth_m,
        "um",
    );
    at_the_end(checks, name, &setup, &end, &run);
}

/// Empty cells: at the tool's stopping time the second implementation's cells must have
/// nothing left that is available, or stand at their cut-off.
fn empty(checks: &mut Vec<Check>) {
    let sets = ["source.charge_left=30 %", "source.cell=LR6", "limits.time=4 h"];
    let (name, Resolved { setup, rows }) =
        ("sterling, nearly empty primary cells", demo("fern-pin", &sets));
    let run = ours(&setup);
    assert_eq!(run.stop, Stop::Empty);
    let end = follow(&model(&rows), None, Until::Time(run.time_s));
    let wells = setup.source.pack().unwrap().cell.wells;
    let s = end.state.q1 / (wells.available_share * wells.capacity);
    let what = format!("{name}: available share when the tool calls them empty");
    let tolerance = Tolerance::Absolute(1e-5);
    checks.push(Basis { tolerance, ..BASIS }.value(what, s, run.wells_end.unwrap().available));
    push(checks, format!("{name}: charge"), end.state.charge, run.charge_c, "C");

    let sets = ["source.cell=IFR18650", "source.charge_left=12 %", "source.series=2"];
    let (name, Resolved { setup, rows }) =
        ("sterling, nearly empty rechargeable cells", demo("fern-pin", &sets));
    let run = ours(&setup);
    assert_eq!(run.stop, Stop::Empty);
    let model = model(&rows);
    let end = follow(&model, None, Until::Time(run.time_s));
    let what = format!("{name}: cell voltage when the tool calls them empty");
    push(checks, what, cell_v(&model, &end), setup.source.pack().unwrap().cell.cutoff_v, "V");
    push(checks, format!("{name}: charge"), end.state.charge, run.charge_c, "C");
}

/// Hot cells: the same with the hot spot.
fn hot(checks: &mut Vec<Check>) {
    let sets = [
        "source={ kind = \"pack\", cell = \"LR6\", series = 6, holder = \"closed box\" }",
        "piece.depth=0.8 mm",
        "piece.floor=0.1 mm",
        "limits.cell_temperature=32 degC",
    ];
    let (name, Resolved { setup, rows }) =
        ("sterling, small cells in a closed box", demo("fern-pin", &sets));
    let run = ours(&setup);
    assert_eq!(run.stop, Stop::Hot);
    let end = follow(&model(&rows), None, Until::Time(run.time_s));
    let spot = end.state.skin + 2.0 * (end.state.core - end.state.skin);
    let limit = setup.source.pack().unwrap().temperature_limit_k;
    push(checks, format!("{name}: hot spot when the tool stops for it"), spot, limit, "K");
    push(checks, format!("{name}: charge"), end.state.charge, run.charge_c, "C");
}

/// On, off, and on again to depth.
fn rested(checks: &mut Vec<Check>) {
    let (name, Resolved { setup, rows }) =
        ("sterling, 5 min on, 12 min off, on again", demo("fern-pin", &[]));
    let mut bench = Bench::new(&setup, Precision::default());
    assert_eq!(bench.on(300.0).unwrap(), None);
    bench.off(720.0).unwrap();
    let m = model(&rows);
    let first = follow(&m, None, Until::Time(300.0));
    let off = rest(&m, first, 720.0);
    let wells = bench.wells().unwrap();
    let p = &setup.source.pack().unwrap().cell.wells;
    let near = off.state.q1 / (p.available_share * p.capacity);
    push(checks, format!("{name}: available share after the rest"), near, wells.available, "");
    for (k, metal) in setup.bath.plating.iter().enumerate() {
        let what = format!("{name}: dissolved {} after the rest", metal.symbol);
        push(checks, what, 1e-3 * off.state.c[k], 1e-3 * bench.metals()[k], "mol/L");
    }
    let core = bench.warmth()[0];
    let kelvin = Basis { unit: "K", tolerance: Tolerance::Absolute(3e-5), ..BASIS };
    for (part, second, got) in
        [("core", off.state.core, core), ("bath", off.state.bath, bench.bath_k())]
    {
        let over = |t: f64| t - setup.ambient_k;
        let what = format!("{name}: {part} over room after the rest");
        checks.push(kelvin.value(what, over(second), over(got)));
    }
    assert_eq!(bench.on(f64::INFINITY).unwrap(), Some(Stop::Depth));
    let end = follow(&m, Some(off), Until::Depth(m.depth));
    push(checks, format!("{name}: time to depth, rest and all"), end.time_s, bench.time_s(), "s");
}

/// Begun on an adapter and moved to a pack, by time; from one set of cells to a fresh one, by
/// depth.
fn staged(checks: &mut Vec<Check>) {
    let adapter = "{ kind = \"adapter\", open_voltage = \"6 V\", series_resistance = \"3 ohm\"";
    let pack = "{ kind = \"pack\", cell = \"LR14\", series = 3";
    let cases = [
        ("adapter for 15 min, then a pack", adapter, "15 min", pack),
        ("a pack to 0.2 mm, then a fresh one", pack, "0.2 mm", pack),
    ];
    for (name, first, until, second) in cases {
        let alone = |source: &str| demo("fern-pin", &[&format!("source={source} }}")]);
        let (a, b) = (alone(first), alone(second));
        let stages = format!("stage=[{first}, until = \"{until}\" }}, {second} }}]");
        let both = without_source("fern-pin", &[&stages]);
        let (ma, mb) = (model(&a.rows), model(&b.rows));
        let half = match until {
            "15 min" => Until::Time(900.0),
            // A floor of 0.2 mm: a quarter round under each edge takes its share.
            _ => Until::Depth(a.setup.piece.walls.charge_depth(0.2e-3)),
        };
        let changed = follow(&ma, None, half);
        let end = follow(&mb, Some(onto(&mb, changed)), Until::Depth(mb.depth));
        let run = ours(&both.setup);
        push(checks, format!("{name}: when it changes"), changed.time_s, run.changes_s[0], "s");
        push(checks, format!("{name}: time to depth"), end.time_s, run.time_s, "s");
        push(checks, format!("{name}: charge"), end.state.charge, run.charge_c, "C");
        let silver = 0.107_868 * (end.state.loose + end.state.held);
        let got = run.end_silver.loose + run.end_silver.held;
        push(checks, format!("{name}: silver on the pan"), 1e3 * silver, 1e3 * got, "g");
        assert!(run.energy_residual.unwrap() < 1e-6, "{name}: {:?}", run.energy_residual);
    }
}

#[test]
fn runs_agree_with_an_independent_integration() {
    assert_all(&CHECKS);
}
