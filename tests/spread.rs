//! How sure: the draws against plain ones, and what they say against the nominal run.

mod common;

use rand::{RngExt, SeedableRng};
use restbite::advice::spread::quantile::Quantiles;
use restbite::advice::spread::sample::Inputs;
use restbite::job::resolve::resolve;
use restbite::job::{self, Checked, Job, Needs, Written};
use restbite::run::{Precision, Stop, run};
use restbite::stock::Stock;
use serde_json::Value;

const SUNDIAL: &str = "data-demo/sundial.toml";
const FERN: &str = "data-demo/fern-pin.toml";

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"))
}

fn read(path: &str, stock: &Stock) -> Job {
    let text = std::fs::read_to_string(common::root().join(path)).unwrap();
    let root = common::root();
    let written = Written { text: &text, name: path, folder: &root, sets: &[] };
    match job::read(&written, stock, Needs::Source) {
        Ok(Checked::Job(job)) => *job,
        other => panic!("{other:?}"),
    }
}

#[test]
fn quantiles_agree_with_plain_draws() {
    // Ten thousand plain random draws: their P50's standard error is about 1.25 sd/100, an
    // eighth of a per cent of the time here; 1 % is asked.
    let stock = Stock::builtin().unwrap();
    let job = read(SUNDIAL, &stock);
    let inputs = Inputs::of(&job, job.source.as_ref().unwrap());
    let mut random = rand_pcg::Pcg64::seed_from_u64(99);
    let times = (0..10_000).map(|_| {
        let point: Vec<f64> = inputs.list.iter().map(|_| random.random_range(1e-9..1.0)).collect();
        let source = job.source.as_ref().unwrap();
        let setup = resolve(&job, source, &stock, &inputs.factors(&point)).unwrap();
        let run = run(&setup, Precision { relative: 1e-6 }).unwrap();
        if run.stop == Stop::Depth { run.time_s } else { f64::INFINITY }
    });
    let plain = Quantiles::of(times);
    let drawn = &common::json(&["plan", SUNDIAL, "--json"], 0)["spread"]["time_s"];
    for (key, plain) in [("p10", plain.p10), ("p50", plain.p50), ("p90", plain.p90)] {
        let (plain, drawn) = (plain.unwrap(), number(drawn, key));
        assert!((drawn / plain - 1.0).abs() < 0.01, "{key}: {drawn} {plain}");
    }
}

#[test]
fn a_seed_gives_one_answer_and_another_seed_nearly_the_same() {
    let ask = |seed: &str| {
        common::json(&["plan", SUNDIAL, "--json", "--draws", "400", "--seed", seed], 0)
    };
    assert_eq!(ask("5")["spread"], ask("5")["spread"]);
    let (a, b) = (ask("5"), ask("6"));
    let p50 = |v: &Value| number(&v["spread"]["time_s"], "p50");
    assert_ne!(p50(&a), p50(&b));
    assert!((p50(&a) / p50(&b) - 1.0).abs() < 0.02);
}

#[test]
fn less_spread_is_more_sure_and_none_is_certain() {
    let width = |sets: &[&str]| {
        let sets: Vec<&str> = sets.iter().flat_map(|s| ["--set", s]).collect();
        let args = [&["plan", SUNDIAL, "--json", "--draws", "300"][..], &sets].concat();
        let t = common::json(&args, 0)["spread"]["time_s"].clone();
        number(&t, "p90") - number(&t, "p10")
    };
    let usual = width(&[]);
    assert!(width(&["spread.conductivity=2 %"]) < 0.9 * usual);
    let none: Vec<String> = [
        "bare_share",
        "gap",
        "conductivity",
        "cell_resistance",
        "capacity",
        "contact_resistance",
        "clip_resistance",
        "cooling",
        "efficiency",
    ]
    .iter()
    .map(|key| format!("spread.{key}=0 %"))
    .collect();
    let none: Vec<&str> = none.iter().map(String::as_str).collect();
    assert!(width(&none) < 1e-6);
}

#[test]
fn what_does_not_finish_is_said_and_not_dropped() {
    // Time limit at about the median: half do not finish, so there is no P90.
    let set = "limits.time=13.9 min";
    let plan = common::json(&["plan", FERN, "--json", "--draws", "400", "--set", set], 0);
    let spread = &plan["spread"];
    assert!(spread["time_s"]["p10"].is_number());
    assert_eq!(spread["time_s"]["p90"], Value::Null);
    let unfinished = number(&spread["chance"], "unfinished");
    assert!((0.2..0.8).contains(&unfinished), "{unfinished}");
    assert!(number(&spread["chance_error"], "unfinished") > 0.0);
}

#[test]
fn drivers_add_up_about() {
    let plan = common::json(&["plan", FERN, "--json"], 0);
    let drivers = plan["spread"]["drivers"].as_array().unwrap();
    let first: f64 = drivers.iter().map(|d| number(d, "share")).sum();
    assert!((0.75..1.25).contains(&first), "{first}");
    let totals: Vec<f64> = drivers.iter().map(|d| number(d, "total")).collect();
    assert!(totals.windows(2).all(|w| w[0] >= w[1]), "the largest first: {totals:?}");
}
