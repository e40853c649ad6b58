//! `new` as a user meets it: by answers through a pipe, with defaults, and as a log.

mod common;

use std::fs;
use std::path::Path;
use std::process::Output;

fn new(folder: &Path, args: &[&str], input: &str) -> Output {
    common::restbite_in(folder, &[&["new"], args].concat(), input)
}

fn words(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<_> =
        entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn defaults_make_a_job_that_plan_does() {
    let dir = tempfile::tempdir().unwrap();
    let out = new(dir.path(), &["--yes"], "");
    assert_eq!(out.status.code(), Some(0), "{}", words(&out.stderr));
    assert!(out.stdout.is_empty());
    assert!(words(&out.stderr).contains("restbite plan job.toml"));
    let plan = common::restbite_in(dir.path(), &["plan", "job.toml", "--draws", "20"], "");
    assert_eq!(plan.status.code(), Some(0), "{}", words(&plan.stderr));
    assert!(words(&plan.stdout).contains("Fern cloak pin"));
}

#[test]
fn answers_come_through_a_pipe() {
    let dir = tempfile::tempdir().unwrap();
    let given = "Sun \"plate\" # 1\nbrass\n2 in x 2 in\n20 %\n\n1/16 in\n10 thou\n\n0.25 mol/L\n\
                 8 in x 6 in\n48 fl oz\n1 in\nsupply\n3 V\n2 A\nAWG 18\n24 in\n";
    let out = new(dir.path(), &["sun.toml"], given);
    assert_eq!(out.status.code(), Some(0), "{}", words(&out.stderr));
    assert_eq!(words(&out.stderr).lines().count(), 1, "no questions in a pipe");
    let args = ["trace", "sun.toml", "--json", "--points", "2"];
    let trace = common::restbite_in(dir.path(), &args, "");
    let json: serde_json::Value = serde_json::from_slice(&trace.stdout).unwrap();
    let resolved = &json["resolved"];
    assert_eq!(resolved["source.kind"], "supply");
    let close = |key: &str, want: f64| {
        let got = resolved[key].as_f64().unwrap();
        assert!((got / want - 1.0).abs() < 1e-9, "{key}: {got}");
    };
    close("piece.depth_m", 10.0 * 25.4e-6); // NIST SP 811
    close("bath.volume_m3", 48.0 / 128.0 * 231.0 * 0.0254f64.powi(3)); // a US gallon is 231 in3
    assert!(fs::read_to_string(dir.path().join("sun.toml")).unwrap().contains("Sun \"plate\" # 1"));
}

#[test]
fn a_picture_is_taken_from_beside_the_file() {
    let dir = tempfile::tempdir().unwrap();
    let file = fs::File::create(dir.path().join("fern.png")).unwrap();
    let mut encoder = png::Encoder::new(file, 2, 2);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.write_header().unwrap().write_image_data(&[0, 255, 255, 255]).unwrap();
    let path = dir.path().join("pin.toml");
    let given = format!("\n\n20 mm x 20 mm\nfern.png\n20 mm\n{}", "\n".repeat(14));
    let out = new(&common::root(), &[path.to_str().unwrap()], &given);
    assert_eq!(out.status.code(), Some(0), "{}", words(&out.stderr));
    let json = common::json(&["trace", path.to_str().unwrap(), "--json", "--points", "2"], 0);
    // One dark pixel of four, on a picture of 4 cm2.
    let area = json["resolved"]["piece.exposed_area_m2"].as_f64().unwrap();
    assert!((area - 1e-4).abs() < 1e-9, "{area}");
}

#[test]
fn a_wrong_or_missing_answer_writes_nothing_and_names_the_question() {
    let dir = tempfile::tempdir().unwrap();
    for (given, word) in [
        ("\nsterlin\n", "piece.metal (Which metal is the sheet?): \"sterlin\" is not in stock"),
        ("\n\n\n\n\n1.2\n", "piece.thickness"),
        ("", "ended before title"),
        ("Fern\nsterling", "ended before piece.outline"),
        ("\n\n\n\n\n\n\n\n\n20 mm round\n", "bath.pan"),
    ] {
        let out = new(dir.path(), &[], given);
        assert_eq!(out.status.code(), Some(2), "{given}");
        let message = words(&out.stderr);
        assert!(message.contains(word) && message.contains("nothing is written"), "{message}");
        assert!(out.stdout.is_empty());
    }
    let mut child = common::restbite_in(dir.path(), &["new", "-"], "\u{1}\n");
    assert!(child.stdout.is_empty() && child.status.code() == Some(2));
    child = common::restbite_in(dir.path(), &["new", "--yes", "--log"], "");
    assert_eq!(child.status.code(), Some(2));
    assert!(names(dir.path()).is_empty(), "{:?}", names(dir.path()));
}

#[test]
fn nothing_is_overwritten_unasked() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("job.toml");
    fs::write(&path, "mine").unwrap();
    for args in [&["--yes"][..], &[], &["--log", "job.toml"], &["--yes", "."], &["--yes", "no/x"]] {
        let out = new(dir.path(), args, "");
        assert_eq!(out.status.code(), Some(2), "{args:?}: {}", words(&out.stderr));
        assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    }
    assert_eq!(new(dir.path(), &["--yes", "--force"], "").status.code(), Some(0));
    assert!(fs::read_to_string(&path).unwrap().contains("Fern cloak pin"));
    assert_eq!(names(dir.path()), ["job.toml"]);
}

#[test]
fn standard_output_takes_the_file_and_nothing_else() {
    let dir = tempfile::tempdir().unwrap();
    let out = new(dir.path(), &["--yes", "-"], "");
    assert_eq!(out.status.code(), Some(0));
    assert!(out.stderr.is_empty());
    let plan = common::restbite_in(dir.path(), &["trace", "-"], &words(&out.stdout));
    assert_eq!(plan.status.code(), Some(0), "{}", words(&plan.stderr));
    assert!(names(dir.path()).is_empty());
}

#[test]
fn logs_to_fill_in() {
    let dir = tempfile::tempdir().unwrap();
    assert_eq!(new(dir.path(), &["--log"], "").status.code(), Some(0));
    let csv = new(dir.path(), &["--log", "runs.csv"], "");
    assert!(words(&csv.stderr).contains("restbite learn runs.csv"));
    let toml = fs::read_to_string(dir.path().join("log.toml")).unwrap();
    assert!(toml.contains("# [[run.reading]]"));
    let csv = fs::read_to_string(dir.path().join("runs.csv")).unwrap();
    assert!(csv.lines().last().unwrap().starts_with("run,job,date,at,"));
}
