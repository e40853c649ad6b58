//! The command as a user meets it: answers, exit codes, files, pipes.

mod common;

use serde_json::Value;
use std::fs;
use std::process::{Command, Stdio};

const FERN: &str = "data-demo/fern-pin.toml";
const DEMOS: [&str; 3] = [FERN, "data-demo/moon-dial.toml", "data-demo/sundial.toml"];

#[test]
fn demo_plans_are_as_stored() {
    let asked = DEMOS.iter().flat_map(|demo| [(demo, "metric"), (demo, "imperial")]);
    common::each(asked, |(demo, units)| {
        let stem = demo.trim_start_matches("data-demo/").trim_end_matches(".toml");
        let got = common::answer(&["plan", demo, "--units", units], 0);
        common::snapshot("data", &format!("plan-{stem}-{units}"), &got);
        let text = fs::read_to_string(common::root().join(demo)).unwrap();
        assert!(text.contains("invented"), "{demo} does not say that its numbers are invented");
    });
}

#[test]
fn a_plan_is_one_page_without_colour_in_a_pipe() {
    for demo in DEMOS {
        let page = common::answer(&["plan", demo], 0);
        assert!(page.lines().count() <= 60, "{demo}");
        assert!(page.lines().all(|l| l.chars().count() <= 80), "{demo}");
        assert!(!page.contains('\u{1b}'), "{demo}");
    }
}

#[test]
fn json_holds_what_the_contract_fixes() {
    for demo in DEMOS {
        let plan = common::json(&["plan", demo, "--json"], 0);
        assert_eq!(plan["schema"], "restbite.plan/1");
        let looks = plan["checks"].as_array().unwrap();
        let times: Vec<f64> = looks.iter().map(|c| c["at_s"].as_f64().unwrap()).collect();
        assert!(times.windows(2).all(|w| w[1] > w[0] && w[1] - w[0] <= 900.0), "{times:?}");
        assert_eq!(times.last(), plan["run"]["time_s"].as_f64().as_ref());
        let trace = common::json(&["trace", demo, "--json", "--points", "50"], 0);
        assert_eq!(trace["schema"], "restbite.trace/1");
        assert_eq!(trace["run"], plan["run"]);
        assert_eq!(trace["resolved"], plan["resolved"]);
        for key in ["t_s", "current_a", "source_v", "depth_m", "bath_k"] {
            assert_eq!(trace[key].as_array().map(Vec::len), Some(50), "{key}");
        }
        let pack = plan["resolved"]["source.kind"] == "pack";
        for key in ["hot_spot_k", "surface_k", "available", "total"] {
            assert_eq!(trace[key].is_array(), pack, "{demo} {key}");
        }
        assert_eq!(plan["run"]["wells_end"]["total"].is_number(), pack);
        assert_eq!(plan["run"]["peak_hot_spot_k"].is_number(), pack);
    }
}

#[test]
fn what_cannot_be_done_is_answered_with_exit_code_1() {
    for (set, stop, code) in [
        ("limits.time=2 min", "time", "time"),
        ("source.charge_left=1 %", "empty", "empty"),
        ("limits.cell_temperature=22 degC", "hot", "hot"),
        ("source.charge_left=0 %", "empty", "empty"),
    ] {
        let plan = common::json(&["plan", FERN, "--json", "--set", set], 1);
        assert_eq!(plan["run"]["stop"], stop, "{set}");
        assert_eq!(plan["findings"][0]["code"], code, "{set}");
        assert_eq!(plan["findings"][0]["level"], "stop", "{set}");
    }
    let weak = ["bath.electrolyte=sodium nitrate", "source.charge_left=0.001 %", "bath.ph=9"];
    let sets: Vec<&str> = weak.iter().flat_map(|s| ["--set", s]).collect();
    let args = [&["plan", FERN, "--json", "--set", "source.cell=HR6"][..], &sets].concat();
    assert!(common::json(&args, 1)["run"]["stop"].is_string());
}

#[test]
fn metals_and_baths_that_do_not_go_together_are_refused_with_the_reason() {
    for (sets, code, word) in [
        (&["bath.electrolyte=brine"][..], "metal and bath", "silver chloride"),
        (&["bath.electrolyte=copper sulfate"], "metal and bath", "silver sulphate"),
        (&["bath.electrolyte=acid copper sulphate"], "metal and bath", "silver sulphate"),
        (&["piece.metal=stainless steel"], "chromium", "chromium(VI)"),
        (&["piece.metal=\"304\"", "bath.electrolyte=brine"], "chromium", "chromium(VI)"),
        (
            &["piece.metal={ name = \"x\", density = \"7.9 g/cm3\", parts = [{ element = \"Fe\", \
               share = \"82 %\" }, { element = \"Cr\", share = \"18 %\" }] }"],
            "chromium",
            "chromium(VI)",
        ),
    ] {
        let sets: Vec<&str> = sets.iter().flat_map(|s| ["--set", s]).collect();
        for verb in ["plan", "trace"] {
            let args = [&[verb, FERN, "--json"][..], &sets].concat();
            let answer = common::json(&args, 1);
            assert_eq!(answer["run"], Value::Null);
            assert_eq!(answer["findings"][0]["code"], code);
            assert!(answer["findings"][0]["text"].as_str().unwrap().contains(word), "{answer}");
            let text = common::answer(&[&[verb, FERN][..], &sets].concat(), 1);
            assert!(text.contains("STOP"), "{text}");
        }
    }
}

#[test]
fn a_job_from_standard_input_and_settings_over_it() {
    let text = fs::read_to_string(common::root().join(FERN)).unwrap();
    let out = common::restbite_in(&common::root(), &["trace", "-", "--json"], &text);
    assert_eq!(out.status.code(), Some(0));
    let piped: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(piped["run"], common::json(&["trace", FERN, "--json"], 0)["run"]);
    let deeper = common::json(&["trace", FERN, "--json", "--set", "piece.depth=\"0.4 mm\""], 0);
    let eaten = common::json(&["trace", FERN, "--json", "--set", "piece.depth=0.4 mm"], 0);
    assert_eq!(deeper["run"], eaten["run"]);
    assert!(deeper["run"]["time_s"].as_f64() > piped["run"]["time_s"].as_f64());
}

#[test]
fn a_wrong_line_is_exit_code_2_and_says_nothing_on_standard_output() {
    for args in [
        &["plan"][..],
        &["plan", "nowhere.toml"],
        &["plan", "data-demo"],
        &["etch", FERN],
        &["plan", FERN, "--set", "piece.depth"],
        &["plan", FERN, "--set", "piece.depht=0.4 mm"],
        &["plan", FERN, "--set", "piece.depth=0.4"],
        &["plan", FERN, "--set", "bath.gap.x=1"],
        &["plan", FERN, "--units", "cubits"],
        &["trace", FERN, "--points", "1"],
        &["plan", FERN, "--out", "data-demo/fern-pin.toml"],
        &["charge", FERN, "--out", "nowhere"],
        &["size", FERN, "--out", "nowhere"],
    ] {
        let out = common::restbite(args);
        assert_eq!(out.status.code(), Some(2), "{args:?}");
        assert!(out.stdout.is_empty() && !out.stderr.is_empty(), "{args:?}");
        assert!(!String::from_utf8_lossy(&out.stderr).contains("panicked"), "{args:?}");
    }
}

#[test]
fn files_that_are_no_job() {
    let dir = tempfile::tempdir().unwrap();
    for (name, bytes, word) in [
        ("latin.toml", b"title = \"gr\xfcn\"\n".to_vec(), "UTF-8"),
        ("long.toml", vec![b' '; (1 << 20) + 1], "too long"),
        ("deep.toml", format!("a = {}1{}", "[".repeat(5000), "]".repeat(5000)).into(), "not TOML"),
        ("empty.toml", Vec::new(), "missing"),
    ] {
        let path = dir.path().join(name);
        fs::write(&path, bytes).unwrap();
        let out = common::restbite(&["plan", path.to_str().unwrap()]);
        let message = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{name}: {message}");
        assert!(message.contains(word), "{name}: {message}");
    }
}

#[test]
fn plots_are_written_whole_and_overwrite_nothing_unasked() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("new");
    let out = out.to_str().unwrap();
    common::answer(&["trace", FERN, "--out", out], 0);
    assert_eq!(files(out), ["charge.svg", "depth.svg", "heat.svg", "sag.svg"]);
    let path = format!("{out}/sag.svg");
    fs::write(&path, "mine").unwrap();
    let again = common::restbite(&["trace", FERN, "--out", out]);
    assert_eq!(again.status.code(), Some(2));
    assert!(again.stdout.is_empty());
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    common::answer(&["plan", FERN, "--out", out, "--force"], 0);
    assert!(fs::read_to_string(&path).unwrap().contains("<svg"));
    let all = ["charge.svg", "depth.svg", "heat.svg", "rest.svg", "sag.svg", "sheet.html"];
    assert_eq!(files(out), all);
    for verb in ["rest", "plan"] {
        let path = format!("{out}-{verb}/rest.svg");
        common::answer(&[verb, FERN, "--out", &format!("{out}-{verb}")], 0);
        assert!(fs::read_to_string(&path).unwrap().contains("<svg"), "{path}");
    }
    assert_eq!(files(&format!("{out}-rest")), ["rest.svg"]);
    let again = common::restbite(&["rest", FERN, "--out", &format!("{out}-rest")]);
    assert_eq!(again.status.code(), Some(2));
    assert!(again.stdout.is_empty());
}

#[test]
fn without_cells_or_a_cycle_there_is_no_plot_of_rests() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("supply");
    let out = out.to_str().unwrap();
    common::answer(&["plan", DEMOS[1], "--out", out], 0);
    assert_eq!(files(out), ["depth.svg", "heat.svg", "sag.svg", "sheet.html"]);
    common::answer(&["rest", DEMOS[1], "--out", out], 0);
    let set = "limits.time=2 min";
    common::answer(&["rest", FERN, "--out", out, "--set", set], 1);
    assert_eq!(files(out), ["depth.svg", "heat.svg", "sag.svg", "sheet.html"]);
}

/// Names of the files in a folder, in order.
fn files(folder: &str) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> =
        entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn the_gallery_is_current() {
    let dir = tempfile::tempdir().unwrap();
    common::answer(&["plan", FERN, "--out", dir.path().to_str().unwrap()], 0);
    for name in ["sag.svg", "depth.svg", "heat.svg", "charge.svg", "rest.svg", "sheet.html"] {
        let made = fs::read_to_string(dir.path().join(name)).unwrap();
        common::current(&format!("plots/{name}"), &made);
    }
}

#[test]
fn a_closed_pipe_is_no_error() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_restbite"))
        .args(["trace", FERN, "--points", "100000"])
        .current_dir(common::root())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let out = child.wait_with_output().unwrap();
    assert_eq!(out.status.code(), Some(0));
    assert!(out.stderr.is_empty(), "{}", String::from_utf8_lossy(&out.stderr));
}

#[test]
fn every_key_that_the_demo_only_mentions_is_a_key() {
    let text = fs::read_to_string(common::root().join(FERN)).unwrap();
    let mut checked = 0;
    let mut table = String::new();
    for line in text.lines() {
        let bare = line.strip_prefix("# ").unwrap_or(line);
        if let Some(name) = bare.strip_prefix('[').and_then(|l| l.split(']').next()) {
            table = name.to_string();
        }
        let Some((key, value)) = line.strip_prefix("# ").and_then(|l| l.split_once(" = ")) else {
            continue;
        };
        if !key.chars().all(|c| c.is_ascii_lowercase() || c == '_') || table.is_empty() {
            continue;
        }
        let value = value.split("  #").next().unwrap().trim();
        let mut args = vec!["trace".to_string(), FERN.into(), "--points".into(), "2".into()];
        args.extend(["--set".into(), format!("{table}.{key}={value}")]);
        if key == "conductivity_at" {
            args.extend(["--set".into(), "bath.conductivity=66 mS/cm".into()]);
        }
        let out = common::restbite(&args.iter().map(String::as_str).collect::<Vec<_>>());
        let message = String::from_utf8_lossy(&out.stderr);
        // A limit may be passed; the key is read.
        assert_ne!(out.status.code(), Some(2), "{table}.{key}={value}: {message}");
        checked += 1;
    }
    assert!(checked >= 20, "{checked}");
}
