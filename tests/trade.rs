//! Facts of the trade: common practice, no published source.

use restbite::job::resolve::{Factors, resolve};
use restbite::job::{Checked, Job, Needs, Written, read};
use restbite::run::{Precision, Run, Stop, Trace, trace};
use restbite::stock::Stock;
use std::path::Path;

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

fn checked(sets: &[&str]) -> Job {
    let sets: Vec<String> = sets.iter().map(|s| (*s).to_string()).collect();
    let written = Written { text: JOB, name: "trade", folder: Path::new(""), sets: &sets };
    match read(&written, &Stock::builtin().unwrap(), Needs::Source) {
        Ok(Checked::Job(job)) => *job,
        other => panic!("{other:?}"),
    }
}

fn etch(sets: &[&str]) -> (Run, Trace) {
    let job = checked(sets);
    let stock = Stock::builtin().unwrap();
    let setup = resolve(&job, job.source.as_ref().unwrap(), &stock, &Factors::default()).unwrap();
    trace(&setup, Precision::default(), 200).unwrap()
}

#[test]
fn four_large_alkaline_cells_take_half_a_millimetre_in_ten_to_twenty_minutes() {
    for cell in ["LR20", "LR14"] {
        let (run, _) = etch(&[&format!("source.cell={cell}")]);
        assert_eq!(run.stop, Stop::Depth);
        assert!((600.0..1200.0).contains(&run.time_s), "{cell}: {} min", run.time_s / 60.0);
    }
}

#[test]
fn thin_sheet_is_nearly_through_a_little_later() {
    // Half a millimetre in, 0.8 mm sheet is within a tenth of its thickness of a hole in
    // less than half as long again and a bit.
    let (half, _) = etch(&[]);
    let (through, _) = etch(&["piece.thickness=0.8 mm", "piece.depth=0.72 mm"]);
    assert!(through.time_s < 1.6 * half.time_s, "{} {}", half.time_s, through.time_s);
}

#[test]
fn a_weak_adapter_is_not_there_after_two_hours() {
    // "Half a millimetre", held at 0.25 A: 4 cm2 of sterling.
    let sets = [
        "source={ kind = \"adapter\", open_voltage = \"3 V\", series_resistance = \"9.5 ohm\" }",
        "limits.time=2 h",
    ];
    let (run, _) = etch(&sets);
    assert!(run.start_current_a < 0.3, "{} A", run.start_current_a);
    assert_eq!(run.stop, Stop::Time);
}

#[test]
fn after_an_hour_the_cells_are_warm_to_uncomfortable() {
    // 40 to 50 degC at the surface of D cells that run for an hour.
    let sets = ["piece.thickness=5 mm", "piece.depth=4 mm", "limits.time=60 min"];
    let (run, _) = etch(&sets);
    let surface = run.peak_surface_k.unwrap() - 273.15;
    assert_eq!(run.stop, Stop::Time);
    assert!((40.0..50.0).contains(&surface), "{surface} degC");
}

#[test]
fn the_current_sags() {
    let (run, trace) = etch(&[]);
    assert!(run.end_current_a < 0.97 * run.start_current_a);
    assert!(trace.current_a.windows(2).filter(|w| w[1] > w[0] + 1e-3).count() < 20);
}
