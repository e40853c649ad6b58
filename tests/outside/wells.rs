//! The two wells at constant current: the published closed form, written anew, against the
//! law and against a run.

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use super::setups::demo;
use restbite::laws::curve::Curve;
use restbite::laws::wells::Wells;
use restbite::run::{Precision, Setup, Source, run};
use std::sync::LazyLock;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let mut checks = law();
    checks.extend(whole_run());
    checks
});

const PAPER: Basis = Basis {
    subject: "Two wells of charge",
    source: "Manwell and McGowan, Solar Energy 1993, 50, 399: closed form at constant current",
    known: Known::Exact,
    unit: "C",
    tolerance: Tolerance::Relative(1e-9),
    why: "the same mathematics twice",
};

/// The paper's q1 and q2 after `t`, from q1 and q2 at the start.
fn closed(w: &Wells, (q10, q20): (f64, f64), i: f64, t: f64) -> (f64, f64) {
    let (k, c) = (w.rate, w.available_share);
    let (q0, decay) = (q10 + q20, (-k * t).exp());
    let q1 = q10 * decay + (q0 * k * c - i) * (1.0 - decay) / k - i * c * (k * t - 1.0 + decay) / k;
    let q2 =
        q20 * decay + q0 * (1.0 - c) * (1.0 - decay) - i * (1.0 - c) * (k * t - 1.0 + decay) / k;
    (q1, q2)
}

/// The paper's capacity at a current that empties the available well in `t`.
fn capacity(w: &Wells, t: f64) -> f64 {
    let (k, c) = (w.rate, w.available_share);
    let e = (-k * t).exp();
    w.capacity * k * c * t / (1.0 - e + c * (k * t - 1.0 + e))
}

fn law() -> Vec<Check> {
    let w = Wells { capacity: 9000.0, available_share: 0.3, rate: 3e-4 };
    let start = w.level(0.8);
    let mut checks = Vec::new();
    for t in [60.0, 1500.0, 6000.0] {
        let (near, bound) = closed(&w, start, 0.5, t);
        let got = w.after(start.0, start.1, 0.5, t);
        checks.push(PAPER.value(format!("available charge after {t} s at 0.5 A"), near, got.0));
        checks.push(PAPER.value(format!("bound charge after {t} s at 0.5 A"), bound, got.1));
    }
    for t in [600.0, 3600.0, 36_000.0] {
        // The current that empties full wells in this time, by halving.
        let (mut low, mut high) = (0.0, 100.0);
        let full = w.level(1.0);
        for _ in 0..80 {
            let i = 0.5 * (low + high);
            if w.after(full.0, full.1, i, t).0 > 0.0 { low = i } else { high = i }
        }
        let what = format!("capacity when emptied in {} min", t / 60.0);
        checks.push(PAPER.value(what, capacity(&w, t), low * t));
    }
    checks
}

/// Cells of 1000 V behind 1000 ohm: a steady ampere whatever the bath does.
fn steady() -> Setup {
    let mut setup = demo("fern-pin", &["source.series=1"]).setup;
    setup.leads.resistance = 1000.0;
    setup.piece.depth = f64::INFINITY;
    setup.piece.floor = None;
    setup.time_limit_s = 3000.0;
    let Source::Pack(pack) = &mut setup.source else { panic!("a pack") };
    pack.temperature_limit_k = f64::INFINITY;
    pack.cell.ocv = Curve::new(vec![[0.0, 1000.0]]).unwrap();
    pack.cell.wells = Wells { capacity: 9000.0, available_share: 0.5, rate: 3e-4 };
    setup
}

fn whole_run() -> Vec<Check> {
    let basis = Basis {
        unit: "",
        tolerance: Tolerance::Relative(2e-4),
        why: "the current is steady to a thousandth while the bath's voltage drifts",
        ..PAPER
    };
    let setup = steady();
    let run = run(&setup, Precision::default()).unwrap();
    let wells = setup.source.pack().unwrap().cell.wells;
    let i = run.charge_c / run.time_s;
    let (near, bound) = closed(&wells, wells.level(1.0), i, run.time_s);
    let end = run.wells_end.unwrap();
    let available = near / (wells.available_share * wells.capacity);
    let total = (near + bound) / wells.capacity;
    vec![
        basis.value("available share after a run of 50 min at a steady ampere", available, {
            end.available
        }),
        basis.value("total share after it", total, end.total),
    ]
}

#[test]
fn two_wells() {
    assert_all(&CHECKS);
}
