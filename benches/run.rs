//! Speed of the demo's parts: `cargo bench`; its figures beside peers stand in `speed.md`.

use restbite::advice;
use restbite::advice::pieces::Session;
use restbite::advice::spread::{Sampling, time_to_depth};
use restbite::job::resolve::{self, Factors};
use restbite::job::{self, Checked, Job, Needs, Written};
use restbite::run::{Precision, Setup, Source, run, trace};
use restbite::stock::Stock;
use std::path::Path;

#[path = "../src/cores.rs"]
mod cores;
/// A general-purpose library on the same equations.
#[path = "peers/ode_crate.rs"]
mod peer;

fn main() {
    advice::share_among(cores::run);
    divan::main();
}

const DEMOS: [&str; 3] = ["fern-pin", "moon-dial", "sundial"];

/// Relative tolerance of the peer, that of a coarse run.
const PEER: f64 = 1e-6;

fn demo(name: &str, stock: &Stock) -> Job {
    demo_with(name, stock, &[])
}

fn demo_with(name: &str, stock: &Stock, sets: &[&str]) -> Job {
    let sets: Vec<String> = sets.iter().map(ToString::to_string).collect();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("data-demo");
    let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).expect("the demo");
    let written = Written { text: &text, name, sets: &sets, ..Written::default() };
    match job::read(&written, stock, Needs::Source) {
        Ok(Checked::Job(job)) => *job,
        other => panic!("{other:?}"),
    }
}

fn setup(name: &str, stock: &Stock) -> Setup {
    let job = demo(name, stock);
    let source = job.source.as_ref().expect("a source");
    resolve::resolve(&job, source, stock, &Factors::default()).expect("resolved")
}

/// One run at the precision of the answers.
#[divan::bench(args = DEMOS)]
fn one_run(bencher: divan::Bencher, name: &str) {
    let setup = setup(name, &Stock::builtin().expect("stock"));
    bencher.bench(|| run(&setup, Precision::default()));
}

/// One run at a relative tolerance of 1e-6.
#[divan::bench(args = DEMOS)]
fn one_coarse_run(bencher: divan::Bencher, name: &str) {
    let setup = setup(name, &Stock::builtin().expect("stock"));
    bencher.bench(|| run(&setup, Precision::COARSE));
}

/// One run as the draws take it.
#[divan::bench(args = DEMOS)]
fn one_drawn_run(bencher: divan::Bencher, name: &str) {
    let setup = setup(name, &Stock::builtin().expect("stock"));
    bencher.bench(|| run(&setup, Precision::DRAWN));
}

/// The peer in process: a general ODE crate on the very rates of a run.
#[divan::bench(args = DEMOS)]
fn one_run_by_an_ode_crate(bencher: divan::Bencher, name: &str) {
    let setup = setup(name, &Stock::builtin().expect("stock"));
    let own = run(&setup, Precision::default()).expect("a run").time_s;
    let found = peer::time_to_depth(&setup, PEER);
    assert!((found / own - 1.0).abs() < 1e-5, "the peer answers otherwise: {found} {own}");
    bencher.bench(|| peer::time_to_depth(&setup, PEER));
}

/// Draws of the time to depth, on all cores.
#[divan::bench(args = [100, 1_000, 10_000, 100_000], sample_count = 5)]
fn draws(bencher: divan::Bencher, draws: usize) {
    let stock = Stock::builtin().expect("stock");
    let job = demo("fern-pin", &stock);
    let source = job.source.as_ref().expect("a source");
    let sampling = Sampling { draws, seed: 1 };
    bencher.bench(|| time_to_depth(&job, source, &stock, sampling));
}

/// Points of a trace.
#[divan::bench(args = [100, 1_000, 10_000, 100_000])]
fn trace_points(bencher: divan::Bencher, points: usize) {
    let setup = setup("fern-pin", &Stock::builtin().expect("stock"));
    bencher.bench(|| trace(&setup, Precision::default(), points));
}

/// Pieces of a charge: a session of a pack that never ends, up to so many.
#[divan::bench(args = [1, 10, 100, 1_000])]
fn pieces(bencher: divan::Bencher, most: usize) {
    let stock = Stock::builtin().expect("stock");
    let mut setup = setup("fern-pin", &stock);
    if let Source::Pack(pack) = &mut setup.source {
        pack.cell.wells.capacity *= 1e4;
    }
    let job = demo("fern-pin", &stock);
    let session = Session { most, ..Session::of(&job) };
    let case =
        advice::Case::of(&job, job.source.as_ref().expect("a source"), &stock).expect("case");
    bencher.bench(|| advice::pieces::pieces(&setup, &case.warmth(), &session, None));
}

/// Wirings that `size` judges: one cell's, up to so many cells.
#[divan::bench(args = ["2", "8", "32"], sample_count = 5)]
fn size_up_to_cells(bencher: divan::Bencher, cells: &str) {
    let stock = Stock::builtin().expect("stock");
    let job = demo_with("fern-pin", &stock, &[&format!("limits.cells={cells}")]);
    bencher.bench(|| advice::size::size(&job, &stock));
}

/// The whole of `size`, draws and all.
#[divan::bench(sample_count = 5)]
fn size(bencher: divan::Bencher) {
    let stock = Stock::builtin().expect("stock");
    let job = demo("fern-pin", &stock);
    bencher.bench(|| advice::size::size_sampled(&job, &stock, Sampling::default()));
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
