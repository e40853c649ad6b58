//! Rests and charges against the bench they are read off.

mod common;

use common::json;
use restbite::advice::cycle::{Cycle, session_peak, this_run};
use restbite::run::{Bench, Precision, Setup, Stop};
use serde_json::Value;

const FERN: &str = "data-demo/fern-pin.toml";
/// Four C cells on a deep etch: warm enough to want rests.
const WARM: [&str; 4] =
    ["source.cell=LR14", "source.series=4", "piece.depth=0.7 mm", "limits.time=3 h"];

fn ask(verb: &str, sets: &[&str], code: i32) -> Value {
    let sets: Vec<&str> = sets.iter().flat_map(|s| ["--set", s]).collect();
    json(&[&[verb, FERN, "--json"][..], &sets].concat(), code)
}

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"))
}

fn setup(answer: &Value) -> Setup {
    common::setup(answer["resolved"].as_object().unwrap())
}

const TOUCH_K: f64 = 273.15 + 48.0;

#[test]
fn the_advised_cycle_stays_under_the_limits_and_one_minute_more_does_not() {
    for sets in [&WARM[..], &[&WARM[..], &["limits.cell_temperature=36 degC"]].concat()] {
        let answer = ask("rest", sets, 0);
        let setup = setup(&answer);
        let limit = number(&answer["resolved"], "limits.cell_temperature_k");
        let rest = &answer["rest"];
        let cycle = Cycle { on_s: number(rest, "on_s"), off_s: number(rest, "off_s") };
        let cool = |cycle: Cycle| {
            let (hot, surface) = session_peak(&setup, cycle).unwrap();
            let run = this_run(&setup, cycle).unwrap();
            hot <= limit && surface <= TOUCH_K && run.peak.0 <= limit && run.stop != Stop::Hot
        };
        assert!(cool(cycle), "{rest}");
        let more = Cycle { on_s: cycle.on_s + 60.0, ..cycle };
        let less = Cycle { off_s: cycle.off_s - 60.0, ..cycle };
        assert!(!cool(less), "a minute less of rest would do as well: {rest}");
        // More on at once is too hot, or the piece is done before it would matter.
        assert!(!cool(more) || number(rest, "elapsed_s") <= cycle.on_s, "{rest}");
        assert_eq!(cycle.on_s % 60.0, 0.0);
        assert_eq!(cycle.off_s % 60.0, 0.0);
        let factor = cycle.on_s / (cycle.on_s + cycle.off_s);
        assert!((number(rest, "cyclic_duration_factor") - factor).abs() < 1e-12);
    }
}

#[test]
fn no_cycle_of_the_table_is_sooner_within_the_limits() {
    let answer = ask("rest", &WARM, 0);
    let best = number(&answer["rest"], "elapsed_s");
    let table = answer["table"].as_array().unwrap();
    assert!(
        table.iter().any(|r| r["within"] == false) && table.iter().any(|r| r["within"] == true)
    );
    for row in table.iter().filter(|r| r["within"] == true) {
        assert!(number(row, "elapsed_s") >= best - 0.5, "{row}");
        assert!(number(row, "session_peak_surface_k") <= TOUCH_K);
    }
}

#[test]
fn the_shortened_way_leads_to_the_same_periodic_state() {
    // Against plain repetition, 400 cycles long (a hundredth of a kelvin).
    let setup = setup(&ask("rest", &WARM, 0));
    let cycle = Cycle { on_s: 300.0, off_s: 600.0 };
    let mut endless = setup.clone();
    endless.piece.depth = f64::INFINITY;
    endless.piece.floor = None;
    let mut bench = Bench::new(&endless, Precision { relative: 1e-6 });
    let mut peak = (0.0, 0.0);
    for _ in 0..400 {
        bench.refill();
        bench.take_peaks();
        bench.on(cycle.on_s).unwrap();
        bench.off(cycle.off_s).unwrap();
        peak = bench.take_peaks();
    }
    let got = session_peak(&setup, cycle).unwrap();
    assert!((got.0 - peak.0).abs() < 0.01 && (got.1 - peak.1).abs() < 0.01, "{got:?} {peak:?}");
}

#[test]
fn rests_that_are_not_needed_and_rests_that_do_not_help() {
    let answer = ask("rest", &[], 0);
    assert_eq!(number(&answer["rest"], "off_s"), 0.0);
    let answer = ask("rest", &["limits.cell_temperature=20.5 degC"], 1);
    assert_eq!(answer["rest"], Value::Null);
    let supply = json(&["rest", "data-demo/moon-dial.toml", "--json"], 0);
    assert_eq!(supply["rest"], Value::Null);
    assert_eq!(supply["cool_down_s"], Value::Null);
}

#[test]
fn a_charge_piece_by_piece() {
    for cell in ["LR20", "HR6"] {
        let answer = ask("charge", &[&format!("source.cell={cell}")], 0);
        let charge = &answer["charge"];
        let each = charge["each"].as_array().unwrap();
        assert_eq!(number(charge, "pieces") as usize, each.len());
        assert!(number(charge, "last_depth_m") < 0.35e-3);
        for pair in each.windows(2) {
            // The default bench time of ten minutes lies between two pieces at the least.
            let end = number(&pair[0], "start_s") + number(&pair[0], "time_s");
            assert!(number(&pair[1], "start_s") >= end + 600.0 - 1e-6);
            assert!(number(&pair[1], "total") < number(&pair[0], "total"));
        }
        // The first piece is the plain run.
        let run = &answer["run"];
        assert!((number(&each[0], "time_s") - number(run, "time_s")).abs() < 0.01);
        // Charge is kept: what the wells lost is what the pieces took (Faraday).
        let capacity = number(&answer["resolved"], "source.cell.capacity_c");
        let one = number(run, "charge_c");
        let lost = capacity * (1.0 - number(&each[each.len() - 1], "total"));
        assert!((lost / (one * each.len() as f64) - 1.0).abs() < 1e-3, "{cell}: {lost}");
    }
}

#[test]
fn the_weakest_cell_is_the_honest_end() {
    let answer = ask("charge", &[], 0);
    let charge = &answer["charge"];
    let before = number(charge, "pieces_before_reversal");
    assert!(before < number(charge, "pieces") && before > 0.0);
    let single = ask("charge", &["source.series=1", "source.cell=IFR18650"], 0);
    assert_eq!(single["charge"]["pieces_before_reversal"], Value::Null);
}

#[test]
fn silver_is_kept_account_of() {
    let answer = ask("charge", &["bath.volume=400 mL", "bath.gap=20 mm"], 0);
    let bath = &answer["bath"];
    let pieces = number(bath, "pieces");
    let silver = ["sludge_silver_kg", "pan_silver_kg", "solution_silver_kg"];
    let sum: f64 = silver.iter().map(|k| number(bath, k)).sum();
    let removed = number(&answer["run"]["removed_kg"], "Ag") * pieces;
    assert!((sum / removed - 1.0).abs() < 1e-3, "{sum} {removed}");
}

#[test]
fn two_deep_etches_and_then_a_rest() {
    // Common practice, no published source: a small holder of C cells gives about two deep
    // etches before it wants a rest. One after the other without a pause, the third or
    // fourth is too hot to hold or to go on with.
    let answer = ask("rest", &WARM, 0);
    let setup = setup(&answer);
    let mut bench = Bench::new(&setup, Precision { relative: 1e-6 });
    let mut etched = 0;
    while etched < 10 {
        bench.take_peaks();
        let stop = bench.on(7200.0).unwrap();
        if stop != Some(Stop::Depth) || bench.take_peaks().1 > TOUCH_K {
            break;
        }
        etched += 1;
        bench.next_piece(false);
    }
    assert!((1..=3).contains(&etched), "{etched}");
}
