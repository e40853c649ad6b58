//! Facts of the trade: common practice, no published source.

use super::check::{Basis, Check, Expected, Known, Tolerance, assert_all};
use super::setups::{checked, resolved};
use restbite::run::{Precision, Run, Stop, Trace, trace};
use std::sync::LazyLock;

/// Sterling with about 4 cm2 bare, in half-molar copper nitrate, at a finger's width.
const JOB: &str = r#"
[piece]
metal = "sterling"
outline = "40 mm x 30 mm"
exposed_area = "4 cm2"
thickness = "1.2 mm"
depth = "0.5 mm"
[bath]
electrolyte = "copper nitrate"
concentration = "0.5 mol/L"
volume = "500 mL"
pan = "150 mm x 110 mm"
gap = "16 mm"
[source]
kind = "pack"
cell = "LR20"
series = 4
[leads]
wire = "AWG 20"
length = "40 cm"
"#;

fn etch(sets: &[&str]) -> (Run, Trace) {
    let setup = resolved(&checked(JOB, sets)).setup;
    trace(&setup, Precision::default(), 200).unwrap()
}

const TRADE: Basis = Basis {
    subject: "Facts of the trade",
    source: "",
    known: Known::Practice,
    unit: "min",
    tolerance: Tolerance::Within,
    why: "what benches report",
};

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let mut checks = Vec::new();
    for cell in ["LR20", "LR14"] {
        let (run, _) = etch(&[&format!("source.cell={cell}")]);
        assert_eq!(run.stop, Stop::Depth);
        let what = format!("four {cell} cells, 4 cm2 of sterling, half a millimetre deep");
        checks.push(TRADE.check(what, Expected::Between(10.0, 20.0), run.time_s / 60.0));
    }
    let share = Basis { unit: "", ..TRADE };
    checks.push(share.check(
        "thin sheet is nearly through a little later: time to 0.72 mm over time to 0.5 mm",
        Expected::Between(1.0, 1.6),
        through(),
    ));
    checks.extend(weak_adapter());
    checks.push(Basis { unit: "degC", ..TRADE }.check(
        "D cells after an hour are warm to uncomfortable: surface",
        Expected::Between(40.0, 50.0),
        after_an_hour(),
    ));
    let (run, _) = etch(&[]);
    checks.push(share.check(
        "the current sags: at the end over at the start",
        Expected::Between(0.5, 0.97),
        run.end_current_a / run.start_current_a,
    ));
    checks
});

fn through() -> f64 {
    let (half, _) = etch(&[]);
    let (through, _) = etch(&["piece.thickness=0.8 mm", "piece.depth=0.72 mm"]);
    through.time_s / half.time_s
}

/// 4 cm2 of sterling held at 0.25 A for two hours.
fn weak_adapter() -> [Check; 2] {
    let sets = [
        "source={ kind = \"adapter\", open_voltage = \"3 V\", series_resistance = \"9.5 ohm\" }",
        "limits.time=2 h",
    ];
    let (run, _) = etch(&sets);
    assert_eq!(run.stop, Stop::Time);
    [
        Basis { unit: "A", ..TRADE }.check(
            "a weak adapter's current",
            Expected::Between(0.2, 0.3),
            run.start_current_a,
        ),
        Basis { unit: "mm", ..TRADE }.check(
            "and it is not at half a millimetre after two hours: depth",
            Expected::Between(0.0, 0.5),
            1e3 * run.depth_m,
        ),
    ]
}

fn after_an_hour() -> f64 {
    let sets = ["piece.thickness=5 mm", "piece.depth=4 mm", "limits.time=60 min"];
    let (run, _) = etch(&sets);
    assert_eq!(run.stop, Stop::Time);
    run.peak_surface_k.unwrap() - 273.15
}

#[test]
fn facts_of_the_trade() {
    assert_all(&CHECKS);
}

#[test]
fn the_current_sags_nearly_all_the_way() {
    let (_, trace) = etch(&[]);
    assert!(trace.current_a.windows(2).filter(|w| w[1] > w[0] + 1e-3).count() < 20);
}
