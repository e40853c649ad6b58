//! Speed of the demo's parts: `cargo bench`.

use restbite::advice;
use restbite::advice::spread::{Sampling, time_to_depth};
use restbite::job::resolve::{Factors, resolve};
use restbite::job::{self, Checked, Job, Needs, Written};
use restbite::run::{Precision, Setup, run};
use restbite::stock::Stock;
use std::path::Path;

#[path = "../src/cores.rs"]
mod cores;

fn main() {
    advice::share_among(cores::run);
    divan::main();
}

const DEMOS: [&str; 3] = ["fern-pin", "moon-dial", "sundial"];

fn demo(name: &str, stock: &Stock) -> Job {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("data-demo");
    let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).expect("the demo");
    let written = Written { text: &text, name, ..Written::default() };
    match job::read(&written, stock, Needs::Source) {
        Ok(Checked::Job(job)) => *job,
        other => panic!("{other:?}"),
    }
}

fn setup(name: &str, stock: &Stock) -> Setup {
    let job = demo(name, stock);
    let source = job.source.as_ref().expect("a source");
    resolve(&job, source, stock, &Factors::default()).expect("resolved")
}

/// One run at the precision of the answers.
#[divan::bench(args = DEMOS)]
fn one_run(bencher: divan::Bencher, name: &str) {
    let setup = setup(name, &Stock::builtin().expect("stock"));
    bencher.bench(|| run(&setup, Precision::default()));
}

/// One run at the coarsest precision that is allowed, as for comparing many.
#[divan::bench(args = DEMOS)]
fn one_coarse_run(bencher: divan::Bencher, name: &str) {
    let setup = setup(name, &Stock::builtin().expect("stock"));
    bencher.bench(|| run(&setup, Precision { relative: 1e-6 }));
}

/// Ten thousand draws of the time to depth, on all cores.
#[divan::bench(args = DEMOS, sample_count = 10)]
fn ten_thousand_draws(bencher: divan::Bencher, name: &str) {
    let stock = Stock::builtin().expect("stock");
    let job = demo(name, &stock);
    let source = job.source.as_ref().expect("a source");
    let sampling = Sampling { draws: 10_000, seed: 1 };
    bencher.bench(|| time_to_depth(&job, source, &stock, sampling));
}

/// Reading and checking a job.
#[divan::bench]
fn read_a_job(bencher: divan::Bencher) {
    let stock = Stock::builtin().expect("stock");
    bencher.bench(|| demo("fern-pin", &stock));
}

/// Reading the stock.
#[divan::bench]
fn read_the_stock() -> Stock {
    Stock::builtin().expect("stock")
}

/// A whole plan, draws and all.
#[divan::bench(args = DEMOS)]
fn plan(bencher: divan::Bencher, name: &str) {
    let stock = Stock::builtin().expect("stock");
    let job = demo(name, &stock);
    bencher.bench(|| advice::plan(&job, &stock, 201, Sampling::default()));
}
