//! What `learn` makes of measured runs.

mod common;
#[path = "learn/workshops.rs"]
mod workshops;

use serde_json::Value;
use std::fs;

fn learned(log: &str) -> Value {
    common::json(&["learn", log, "--json"], 0)
}

fn factors(answer: &Value) -> &Vec<Value> {
    answer["factors"].as_array().unwrap()
}

fn factor<'a>(answer: &'a Value, name: &str) -> &'a Value {
    factors(answer).iter().find(|f| f["name"] == name).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

#[test]
fn factors_of_benches_made_by_another_implementation() {
    // Logs of three runs each, made by an independent implementation of the model (SciPy's
    // DOP853) on benches whose factors were drawn from the usual spreads, with noise of the
    // accuracies stated. Each factor must lie within three of its own standard deviations (one
    // in 370 honest ones does not), the bath's resistance within 2 %, and what volts and amps
    // speak of must have narrowed to 40 % of its prior.
    let truth = fs::read_to_string(common::root().join("tests/data/learn/truth.toml")).unwrap();
    let truth: toml::Table = truth.parse().unwrap();
    assert!(truth.len() >= 3);
    for (name, bench) in &truth {
        let answer = learned(&format!("tests/data/learn/{name}.toml"));
        assert!(answer["outliers"].as_array().unwrap().is_empty(), "{name}: {answer}");
        for (key, true_value) in bench.as_table().unwrap() {
            let f = factor(&answer, key);
            let true_value = true_value.as_float().unwrap();
            let off = (number(&f["value"]) / true_value).ln() / number(&f["ln_sd"]);
            assert!(off.abs() < 3.0, "{name}: {key} is {true_value}, {off} sd off: {f}");
        }
        let bath = factor(&answer, "bath_resistance");
        let true_value = bench["bath_resistance"].as_float().unwrap();
        assert!((number(&bath["value"]) / true_value - 1.0).abs() < 0.02, "{name}: {bath}");
        for key in ["bath_resistance", "cell_resistance", "contact_resistance", "efficiency"] {
            let f = factor(&answer, key);
            assert!(number(&f["ln_sd"]) < number(&f["prior_sd"]) / 2.5, "{name}: {f}");
        }
    }
}

#[test]
fn spans_hold_their_median_and_the_posterior_agrees() {
    let answer = learned("data-demo/log.toml");
    for f in factors(&answer) {
        let (low, value, high) = (number(&f["low80"]), number(&f["value"]), number(&f["high80"]));
        assert!(low < value && value < high, "{f}");
        // The 10 % quantile of a normal lies 1.2816 standard deviations off (NIST handbook,
        // 1.3.6.7.1).
        assert!(((high / low).ln() / 2.0 / 1.2816 / number(&f["ln_sd"]) - 1.0).abs() < 1e-4);
    }
    let check = &answer["check"];
    assert!(number(&check["effective"]) > 100.0, "{check}");
    assert!(number(&check["largest_shift"]) < 0.5, "{check}");
    assert!(number(&check["largest_width_error"]) < 0.3, "{check}");
}

#[test]
fn a_misread_depth_is_named_and_left_out() {
    let answer = learned("data-demo/log.toml");
    let outliers = answer["outliers"].as_array().unwrap();
    assert_eq!(outliers.len(), 1, "{outliers:?}");
    let o = &outliers[0];
    assert_eq!((&o["run"], &o["reading"]), (&"third pin".into(), &"depth".into()));
    assert!(number(&o["deviations"]) > 8.0 && o["questioned"] == false);
    assert!((number(&o["expected"]) - 0.20e-3).abs() < 0.02e-3, "{o}");
    // Without that line the same is learned.
    let text = fs::read_to_string(common::root().join("data-demo/log.toml")).unwrap();
    let without: String = text
        .lines()
        .filter(|l| !l.contains("misread: "))
        .fold(String::new(), |text, line| text + line + "\n");
    let (folder, log) = beside_the_demo(&without, "log.toml");
    let clean = learned(&log);
    drop(folder);
    for (a, b) in factors(&answer).iter().zip(factors(&clean)) {
        let off = (number(&a["value"]) / number(&b["value"])).ln() / number(&b["ln_sd"]);
        assert!(off.abs() < 0.05, "{a} {b}");
    }
}

/// A log in a folder of its own with the demo's jobs beside it.
fn beside_the_demo(log: &str, name: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    for file in ["fern-pin.toml", "moon-dial.toml"] {
        let from = common::root().join("data-demo").join(file);
        fs::copy(from, folder.path().join(file)).unwrap();
    }
    let path = folder.path().join(name);
    fs::write(&path, log).unwrap();
    let path = path.to_str().unwrap().to_string();
    (folder, path)
}

const TWO_AMPS: &str = "[[run]]\njob = \"fern-pin.toml\"\nname = \"a\"\n\
    [[run.reading]]\nat = \"1 min\"\namps = \"1.8 A\"\n\
    [[run.reading]]\nat = \"16 min\"\namps = \"1.8 A\"\n";

#[test]
fn more_metal_than_faraday_allows_is_questioned() {
    // Sterling as by ASTM G102: 91.44 g a mole of electrons; 1.8 A for 960 s is 1728 C, so
    // 1.638 g at most. 1.9 g is 116 % of that, 1.7 g (104 %) still passes.
    let most = 91.443e-3 * 1.8 * 960.0 / 96485.33212;
    for (grams, questioned) in [(1.9, true), (1.7, false)] {
        let text = format!("{TWO_AMPS}weight_loss = \"{grams} g\"\n");
        let (_folder, log) = beside_the_demo(&text, "log.toml");
        let answer = learned(&log);
        let outliers = answer["outliers"].as_array().unwrap();
        let found = outliers.iter().find(|o| o["questioned"] == true);
        assert_eq!(found.is_some(), questioned, "{outliers:?}");
        if let Some(o) = found {
            let times = grams * 1e-3 / most;
            let text = o["text"].as_str().unwrap();
            assert!(text.contains(&format!("{times:.2} times")), "{text}, {times}");
        }
    }
}

#[test]
fn what_cannot_be_is_questioned() {
    let text = format!("{TWO_AMPS}depth = \"2 mm\"\ncell_temperature = \"5 degC\"\n");
    let (_folder, log) = beside_the_demo(&text, "log.toml");
    let answer = learned(&log);
    let outliers = answer["outliers"].as_array().unwrap();
    assert_eq!(outliers.len(), 2, "{outliers:?}");
    assert!(outliers.iter().all(|o| o["questioned"] == true));
}

#[test]
fn readings_that_scatter_more_than_the_meters_widen_the_spans() {
    let text = fs::read_to_string(common::root().join("tests/data/learn/fern-1.toml")).unwrap();
    let text = text.replace("../../../data-demo/", "");
    let better = text
        .replace("volts = \"0.5 % + 5 mV\"", "volts = \"0.15 % + 1.5 mV\"")
        .replace("amps = \"1 % + 5 mA\"", "amps = \"0.3 % + 1.5 mA\"");
    assert_ne!(better, text);
    let (_folder, log) = beside_the_demo(&better, "log.toml");
    let (claimed, honest) = (learned(&log), learned("tests/data/learn/fern-1.toml"));
    let scatter = number(&claimed["scatter"]);
    assert!((2.0..4.0).contains(&scatter), "{scatter}");
    assert_eq!(honest["scatter"], 1.0);
    let sd = |answer: &Value| number(&factor(answer, "bath_resistance")["ln_sd"]);
    assert!((sd(&claimed) / sd(&honest) - 1.0).abs() < 0.3, "{} {}", sd(&claimed), sd(&honest));
}

#[test]
fn small_tests_of_cell_and_bath() {
    // IEC 61960-3: (1.52 - 1.37) V / (1.5 - 0.3) A = 125 mohm. Two plates: 20 mm / 20 cm2 of
    // (0.6 - 0.2) A / (1.12 - 0.45) V = 5.970 S/m at 21 degC, by 2 % a kelvin 6.489 at 25.
    let answer = learned("data-demo/log.toml");
    assert!((number(&answer["cell_tests"][0]["resistance_ohm"]) - 0.125).abs() < 1e-9);
    let kappa = number(&answer["bath_tests"][0]["kappa25_s_per_m"]);
    assert!((kappa - 5.9701 / 0.92).abs() < 1e-3, "{kappa}");
    // Alone, they speak of their factor only.
    let text = "[[cell_test]]\ncell = \"HR6\"\nfirst = { amps = \"0.4 A\", volts = \"1.3 V\" }\n\
        second = { amps = \"2 A\", volts = \"1.22 V\" }\n";
    let (_folder, log) = beside_the_demo(text, "log.toml");
    let answer = learned(&log);
    assert_eq!(factors(&answer).len(), 1);
    let f = factor(&answer, "cell_resistance");
    let stock = number(&answer["cell_tests"][0]["stock_ohm"]);
    let measured = 0.08 / 1.6 / stock;
    let value = number(&f["value"]);
    assert!((value.ln() / measured.ln() - 1.0).abs() < 0.2, "{value} {measured}");
}

#[test]
fn csv_is_read_as_toml() {
    let toml = "[[run]]\njob = \"moon-dial.toml\"\nname = \"a\"\ndate = 2026-11-01\n\
        set = [\"bath.gap = \\\"20 mm\\\"\"]\n\
        [[run.reading]]\nat = \"5 min\"\nsource_volts = \"2 V\"\namps = \"1.5 A\"\n\
        [[run.reading]]\nat = \"20 min\"\ndepth = \"0.2 mm\"\n";
    let csv = "# a log\nrun,job,date,set,at (min),source_volts (V),amps,depth\n\
        a,moon-dial.toml,2026-11-01,\"bath.gap = \"\"20 mm\"\"\",5,2,1.5 A,\n,,,,20,,,0.2 mm\n";
    let (_one, a) = beside_the_demo(toml, "log.toml");
    let (_two, b) = beside_the_demo(csv, "log.csv");
    assert_eq!(learned(&a)["factors"], learned(&b)["factors"]);
}

#[test]
fn a_job_uses_what_was_learned() {
    let text = fs::read_to_string(common::root().join("data-demo/log.toml")).unwrap();
    let (folder, log) = beside_the_demo(&text, "log.toml");
    let at = folder.path().to_str().unwrap();
    let learned = common::json(&["learn", &log, "--json", "--out", at], 0);
    assert_eq!(fs::read_to_string(&log).unwrap(), text, "the log is never touched");
    let again = common::restbite(&["learn", &log, "--out", at]);
    assert_eq!(again.status.code(), Some(2), "nothing is overwritten unasked");
    common::answer(&["learn", &log, "--out", at, "--force"], 0);

    let job = folder.path().join("fern-pin.toml");
    let job = job.to_str().unwrap();
    let profile = "profile=workshop.toml";
    let before = common::json(&["plan", job, "--json"], 0);
    let after = common::json(&["plan", job, "--json", "--set", profile], 0);
    let bath = number(&factor(&learned, "bath_resistance")["value"]);
    let ratio = number(&after["run"]["bath_resistance_ohm"])
        / number(&before["run"]["bath_resistance_ohm"]);
    assert!((ratio / bath - 1.0).abs() < 0.005, "{ratio} {bath}");
    let r0 = number(&factor(&learned, "cell_resistance")["value"]);
    let ratio = number(&after["resolved"]["source.cell.r0_ohm"])
        / number(&before["resolved"]["source.cell.r0_ohm"]);
    assert!((ratio / r0 - 1.0).abs() < 1e-5, "{ratio} {r0}");
    let width = |plan: &Value| {
        number(&plan["spread"]["time_s"]["p90"]) - number(&plan["spread"]["time_s"]["p10"])
    };
    assert!(width(&after) < 0.5 * width(&before), "{} {}", width(&after), width(&before));
    let shares: f64 =
        after["spread"]["drivers"].as_array().unwrap().iter().map(|d| number(&d["share"])).sum();
    assert!(shares > 0.3 && number(&after["spread"]["line_r2"]) > 0.9, "{}", after["spread"]);
    let findings = after["findings"].as_array().unwrap();
    assert!(findings.iter().any(|f| f["code"] == "learned"));

    // A spread of the job's own outweighs what was learned of that input.
    let sets = ["--set", profile, "--set", "spread.cell_resistance=10 %"];
    let own = common::json(&[&["plan", job, "--json"][..], &sets].concat(), 0);
    assert_eq!(own["resolved"]["source.cell.r0_ohm"], before["resolved"]["source.cell.r0_ohm"]);
    // Another cell, another bath: nothing of theirs was learned.
    let other = ["--set", profile, "--set", "source.cell=LR14"];
    let other = common::json(&[&["trace", job, "--json"][..], &other].concat(), 0);
    let plain = common::json(&["trace", job, "--json", "--set", "source.cell=LR14"], 0);
    for key in ["source.cell.r0_ohm", "source.cell.capacity_c"] {
        assert_eq!(other["resolved"][key], plain["resolved"][key]);
    }
}

#[test]
fn wrong_logs_are_refused_with_their_message() {
    common::refuses_each("bad_logs", 30, |path| {
        let name = path.file_name().and_then(|n| n.to_str()).unwrap();
        let profile = name.starts_with("workshop");
        let job = "../../data-demo/fern-pin.toml";
        let set = format!("profile={}", path.display());
        let args: Vec<&str> =
            if profile { vec!["plan", job, "--set", &set] } else { vec!["learn", name] };
        common::restbite_in(path.parent().unwrap(), &args, "")
    });
}
