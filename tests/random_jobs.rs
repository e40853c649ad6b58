//! Random valid jobs over the whole range of every key, run to their stop: every number finite,
//! the energy balance closed, everything that the run used in `resolved`.
//!
//! Two thousand in `cargo test`; the long run is
//! `cargo test --release --test random_jobs hundred -- --ignored --nocapture`, last printed
//!
//! ```text
//! worst energy residual 5.9e-6 (seed 9564); most steps 198544 (seed 40128)
//! worst energy residual 9.3e-6 (seed 32139); most steps 446268 (seed 6465)
//! 100000 jobs in 40s: {"Depth": 45535, "Empty": 4586, "Hot": 4957, "NoCurrent": 6711, "Time": 38211}; 0 faults
//! ```

mod common;
mod random;

use random::{Dice, job};
use restbite::advice::{self, spread::Sampling};
use restbite::run::{Source, Stop};
use restbite::sheet;
use restbite::stock::Stock;
use restbite::units::say::System;
use serde_json::Value;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::Instant;

/// Where a plain answer has null: nothing of the kind was given, or there are no cells, or
/// nothing was drawn.
const MAY_BE_NULL: [&str; 18] = [
    "verdict/chance",
    "verdict/decides",
    "verdict/first",
    "first/after_s",
    "piece.floor_m",
    "source.limit_a",
    "source.rated_a",
    "limits.cell_temperature_k",
    "peak_hot_spot_k",
    "peak_surface_k",
    "wells_end.available",
    "wells_end.total",
    "energy_residual",
    "hot_spot_k",
    "surface_k",
    "available",
    "total",
    "title",
];
/// Of those, where a pack has a number.
const OF_A_PACK: [&str; 9] = [
    "limits.cell_temperature_k",
    "peak_hot_spot_k",
    "peak_surface_k",
    "wells_end.available",
    "wells_end.total",
    "hot_spot_k",
    "surface_k",
    "available",
    "total",
];

/// Every null (JSON has no other word for a number that is none) where there should be none.
fn nulls(value: &Value, path: &str, pack: bool, found: &mut Vec<String>) {
    match value {
        Value::Null => {
            let is = |key: &&str| path.ends_with(*key);
            let missing = pack && OF_A_PACK.iter().any(is);
            if missing || !MAY_BE_NULL.iter().any(is) {
                found.push(path.into());
            }
        }
        Value::Array(list) => list.iter().for_each(|v| nulls(v, &format!("{path}[]"), pack, found)),
        Value::Object(map) => {
            map.iter().for_each(|(k, v)| nulls(v, &format!("{path}/{k}"), pack, found));
        }
        _ => {}
    }
}

/// How a run ended, and what is wrong with it.
fn checked(seed: u64, stock: &Stock) -> Result<(Stop, f64, u64), String> {
    let draft = job(&mut Dice::seeded(seed), stock);
    let job = draft.read(stock);
    let traced = advice::traced_sampled(&job, stock, 5, Sampling { draws: 3, seed: 1 })
        .map_err(|e| format!("no run: {e}"))?;
    let (setup, run) = (&traced.case.setup, &traced.case.run);
    let pack = setup.source.pack().is_some();
    let json = sheet::json::trace(&traced, System::Metric);
    let mut found = Vec::new();
    nulls(&json, "", pack, &mut found);
    if !found.is_empty() {
        return Err(format!("null where a number belongs: {found:?}"));
    }
    let resolved = json["resolved"].as_object().ok_or("no resolved")?;
    if common::setup(resolved) != *setup {
        return Err("resolved does not give the setup back".into());
    }
    let residual = run.energy_residual.unwrap_or(0.0);
    if residual.is_nan() || residual >= 1e-4 {
        return Err(format!("energy residual {residual:e} after {} s", run.time_s));
    }
    if run.energy_residual.is_none() && run.charge_c > 0.0 {
        return Err(format!("no energy residual, {} C, {} J", run.charge_c, run.energy_j));
    }
    let open = match setup.source {
        Source::Supply { set_v, .. } => set_v,
        Source::Adapter { open_v, .. } => open_v,
        Source::Pack(_) => f64::INFINITY,
    };
    for volts in [run.start_source_v, run.end_source_v] {
        // Where nanoamperes flow, the pan's potential has no more figures than that.
        if volts > open + 1e-5 {
            return Err(format!("{volts} V at the terminals of a source of {open} V"));
        }
    }
    if run.stop == Stop::NoCurrent && open.is_finite() && run.start_back_emf_v < open {
        return Err(format!("no current from {open} V against {} V", run.start_back_emf_v));
    }
    Ok((run.stop, residual, run.work.steps + run.work.rejected))
}

/// Runs jobs from all cores and prints what came of them; seeds that fail, with why.
fn many(seeds: std::ops::Range<u64>) -> Vec<String> {
    let stock = Stock::builtin().unwrap();
    let cores = std::thread::available_parallelism().map_or(1, |n| n.get() as u64);
    let began = Instant::now();
    let part = |k: u64| {
        let (mut stops, mut faults) = (BTreeMap::new(), Vec::new());
        let (mut worst, mut steps) = ((0.0, 0), (0, 0));
        for seed in seeds.clone().filter(|s| s % cores == k) {
            let run = catch_unwind(AssertUnwindSafe(|| checked(seed, &stock)));
            match run.unwrap_or_else(|_| Err("a panic".into())) {
                Ok((stop, residual, taken)) => {
                    *stops.entry(format!("{stop:?}")).or_insert(0) += 1;
                    if residual > worst.0 {
                        worst = (residual, seed);
                    }
                    steps = steps.max((taken, seed));
                }
                Err(why) => faults.push(format!("seed {seed}: {why}")),
            }
        }
        (stops, faults, worst, steps)
    };
    let part = &part;
    let parts: Vec<_> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..cores).map(|k| scope.spawn(move || part(k))).collect();
        threads.into_iter().map(|t| t.join().unwrap()).collect()
    });
    let (mut all, mut faults) = (BTreeMap::new(), Vec::new());
    for (stops, wrong, worst, steps) in parts {
        for (stop, n) in stops {
            *all.entry(stop).or_insert(0) += n;
        }
        println!(
            "worst energy residual {:.1e} (seed {}); most steps {} (seed {})",
            worst.0, worst.1, steps.0, steps.1
        );
        faults.extend(wrong);
    }
    println!(
        "{} jobs in {:.0?}: {all:?}; {} faults",
        seeds.end - seeds.start,
        began.elapsed(),
        faults.len()
    );
    faults
}

#[test]
fn two_thousand_random_jobs_run_to_an_honest_stop() {
    let faults = many(0..2_000);
    assert!(faults.is_empty(), "{}: {:#?}", faults.len(), &faults[..faults.len().min(400)]);
}

#[test]
#[ignore = "minutes; the command stands at the head of this file"]
fn a_hundred_thousand_random_jobs_run_to_an_honest_stop() {
    let faults = many(0..100_000);
    assert!(faults.is_empty(), "{}: {:#?}", faults.len(), &faults[..faults.len().min(200)]);
}

/// The whole plan with its rests, pieces, spread and looks; a page must not speak of NaN.
fn plans(seeds: std::ops::Range<u64>) -> Vec<String> {
    let stock = Stock::builtin().unwrap();
    let mut faults = Vec::new();
    for seed in seeds {
        let text = job(&mut Dice::seeded(seed), &stock);
        let began = Instant::now();
        let made = catch_unwind(AssertUnwindSafe(|| {
            let job = text.read(&stock);
            let sampling = Sampling { draws: 20, seed: 1 };
            let plan = advice::plan(&job, &stock, 21, sampling).map_err(|e| e.to_string())?;
            let page = sheet::text::plan(&plan, System::Metric, true)
                + &sheet::text::plan(&plan, System::Imperial, false);
            sheet::json::plan(&plan, System::Metric);
            match ["NaN", "inf ", "-0 "].iter().find(|word| page.contains(**word)) {
                Some(word) => Err(format!("{word} in the page: {page}")),
                None => Ok(()),
            }
        }));
        if began.elapsed().as_secs() > 20 {
            println!("seed {seed} took {:.0?}", began.elapsed());
        }
        match made {
            Ok(Ok(())) => {}
            Ok(Err(why)) => faults.push(format!("seed {seed}: {why}")),
            Err(_) => faults.push(format!("seed {seed}: a panic")),
        }
    }
    faults
}

#[test]
#[ignore = "minutes; the command stands at the head of this file"]
fn whole_plans_of_random_jobs() {
    let faults = plans(0..300);
    assert!(faults.is_empty(), "{}: {:#?}", faults.len(), &faults[..faults.len().min(20)]);
}
