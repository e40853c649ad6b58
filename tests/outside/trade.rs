//! Facts of the trade: common practice, no published source.

use super::check::{Basis, Check, Expected, Known, Tolerance, assert_all};
use super::setups::{checked, resolved};
use restbite::run::{Precision, Run, Setup, Stop, Trace, trace};
use std::sync::LazyLock;

/// Sterling with about 4 cm2 bare, in half-molar copper nitrate, at a finger's width.
const JOB: &str = r#"
[piece]
metal = "sterling"
outline = "40 mm x 40 mm"
exposed_area = "4 cm2"
detail = "bold"
thickness = "1.2 mm"
depth = "0.5 mm"
[bath]
electrolyte = "copper nitrate"
concentration = "0.5 mol/L"
volume = "400 mL"
pan = "150 mm x 100 mm"
gap = "15 mm"
[source]
kind = "pack"
cell = "LR20"
series = 4
[leads]
wire = "AWG 20"
length = "40 cm"
"#;

fn etch(sets: &[&str]) -> (Setup, Run, Trace) {
    let setup = resolved(&checked(JOB, sets)).setup;
    let (run, trace) = trace(&setup, Precision::default(), 200).unwrap();
    (setup, run, trace)
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
    let share = Basis { unit: "", ..TRADE };
    for cell in ["LR20", "LR14"] {
        let sets = [&format!("source.cell={cell}")[..]];
        let (setup, run, _) = etch(&sets);
        assert_eq!(run.stop, Stop::Depth);
        let what =
            format!("four {cell} cells, 4 cm2 of sterling, a bold drawing half a millimetre deep");
        checks.push(TRADE.check(what, Expected::Between(10.0, 20.0), run.time_s / 60.0));
        let what = format!("four {cell} cells: a black bloom within two to three minutes");
        let bloom = run.extremes.bloom_s.unwrap_or(f64::INFINITY) / 60.0;
        checks.push(TRADE.check(what, Expected::Between(0.0, 3.0), bloom));
        let what = format!("four {cell} cells: loose sludge on the pan, of the silver there");
        let loose = run.end_silver.loose / run.end_silver.down();
        checks.push(share.check(what, Expected::Between(0.1, 1.0), loose));
        let what = format!("four {cell} cells: no salt film, at the face over what dissolves");
        let face = run.extremes.surface_mol_per_m3 / setup.bath.solubility.unwrap();
        checks.push(share.check(what, Expected::Between(0.0, 0.5), face));
    }
    checks.push(share.check(
        "thin sheet is nearly through a little later: time to 0.72 mm over time to 0.5 mm",
        Expected::Between(1.0, 1.7),
        through(),
    ));
    checks.extend(weak_adapter());
    checks.push(Basis { unit: "degC", ..TRADE }.check(
        "D cells in a closed box after an hour are warm to uncomfortable: inside",
        Expected::Between(40.0, 54.2),
        after_an_hour(),
    ));
    let (_, run, _) = etch(&[]);
    checks.push(share.check(
        "the current sags: at the end over at the start",
        Expected::Between(0.5, 0.97),
        run.end_current_a / run.start_current_a,
    ));
    checks
});

fn through() -> f64 {
    let (_, half, _) = etch(&[]);
    let (_, through, _) = etch(&["piece.thickness=0.8 mm", "piece.depth=0.72 mm"]);
    through.time_s / half.time_s
}

/// 4 cm2 of sterling held at 0.3 A for two hours.
fn weak_adapter() -> [Check; 5] {
    let sets = [
        "source={ kind = \"adapter\", open_voltage = \"3 V\", series_resistance = \"7 ohm\" }",
        "limits.time=2 h",
        "piece.depth=0.7 mm",
    ];
    let (setup, run, _) = etch(&sets);
    assert_eq!(run.stop, Stop::Time);
    let share = Basis { unit: "", ..TRADE };
    let bloom = run.extremes.bloom_s.unwrap_or(f64::INFINITY) / 60.0;
    let face = run.extremes.surface_mol_per_m3 / setup.bath.solubility.unwrap();
    [
        Basis { unit: "A", ..TRADE }.check(
            "a weak adapter's current",
            Expected::Between(0.25, 0.35),
            run.start_current_a,
        ),
        Basis { unit: "mm", ..TRADE }.check(
            "and it is not at half a millimetre after two hours: depth",
            Expected::Between(0.0, 0.5),
            1e3 * run.depth_m,
        ),
        TRADE.check(
            "a weak adapter: a black bloom within two to three minutes",
            Expected::Between(0.0, 3.0),
            bloom,
        ),
        share.check(
            "a weak adapter: none of it loose (practice and model disagree on how much silver is \
             down: weigh it)",
            Expected::Between(0.0, 0.02),
            run.end_silver.loose / run.end_silver.down(),
        ),
        share.check(
            "a weak adapter: no salt film, at the face over what dissolves",
            Expected::Between(0.0, 0.5),
            face,
        ),
    ]
}

fn after_an_hour() -> f64 {
    let sets = [
        "piece.thickness=5 mm",
        "piece.depth=4 mm",
        "limits.time=60 min",
        "limits.cell_temperature=90 degC",
        "source.holder=closed box",
    ];
    let (_, run, _) = etch(&sets);
    assert_eq!(run.stop, Stop::Time);
    run.peak_hot_spot_k.unwrap() - 273.15
}

#[test]
fn facts_of_the_trade() {
    assert_all(&CHECKS);
}

#[test]
fn the_current_sags_nearly_all_the_way() {
    let (_, _, trace) = etch(&[]);
    assert!(trace.current_a.windows(2).filter(|w| w[1] > w[0] + 1e-3).count() < 20);
}
