//! Periodic duty: bodies whose cooling is linear, on and off in turn, against the closed
//! form (duty type S3 of IEC 60034-1).

use super::check::{Basis, Check, Known, Tolerance, assert_all};
use super::setups::demo;
use restbite::advice::cycle::{Cycle, session_peak};
use restbite::laws::cathode::Hydrogen;
use restbite::laws::constants::STEFAN_BOLTZMANN;
use restbite::laws::curve::Curve;
use restbite::run::{Bench, Precision, Setup, Source};
use std::sync::LazyLock;

pub static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| {
    let mut checks = bath();
    checks.extend(cells());
    checks
});

const CLOSED: Basis = Basis {
    subject: "Periodic duty",
    source: "first-order body: peak = q R (1 - exp(-on/tau))/(1 - exp(-(on + off)/tau))",
    known: Known::Exact,
    unit: "K",
    tolerance: Tolerance::Relative(1e-3),
    why: "the electrodes' heat beside the bath's own is under a thousandth here",
};

/// One term of a body's periodic peak for a unit of steady rise.
fn term(cycle: Cycle, tau: f64) -> f64 {
    let all = cycle.on_s + cycle.off_s;
    (1.0 - (-cycle.on_s / tau).exp()) / (1.0 - (-all / tau).exp())
}

/// A bath of 1000 ohm with an ampere held through it, 100 K over the air in the long run.
fn resistor(tau: f64) -> Setup {
    let sets = ["source.voltage=24 V", "source.current_limit=1 A"];
    let mut setup = demo("moon-dial", &sets).setup;
    setup.piece.depth = f64::INFINITY;
    setup.piece.floor = None;
    let Source::Supply { set_v, .. } = &mut setup.source else { panic!("a supply") };
    *set_v = 1e6;
    let b = &mut setup.bath;
    b.kappa_beta = 0.0;
    b.shape_factor = 1000.0 * b.kappa25;
    b.heat_loss = 1000.0 / 100.0;
    b.heat_capacity = tau * b.heat_loss;
    b.temperature_k = setup.ambient_k;
    // A pan that makes gas with no overpotential to speak of adds no heat of its own.
    b.hydrogen = Hydrogen { i0: 1e3, alpha: 0.5 };
    setup
}

fn bath() -> Vec<Check> {
    let cases = [(600.0, 0.15), (600.0, 0.25), (600.0, 0.40), (600.0, 0.60), (1800.0, 0.25)];
    cases
        .into_iter()
        .map(|(tau, factor)| {
            let cycle = Cycle { on_s: 600.0 * factor, off_s: 600.0 * (1.0 - factor) };
            let setup = resistor(tau);
            let mut bench = Bench::new(&setup, Precision::default());
            let rounds = (12.0 * tau / 600.0) as usize;
            for _ in 0..rounds {
                assert_eq!(bench.on(cycle.on_s).unwrap(), None);
                bench.off(cycle.off_s).unwrap();
            }
            bench.on(cycle.on_s).unwrap();
            let peak = bench.bath_k() - setup.ambient_k;
            let what = format!("bath, tau {tau} s, cycle 600 s, duration factor {factor}");
            CLOSED.value(what, 100.0 * term(cycle, tau), peak)
        })
        .collect()
}

/// A cell whose heat is steady (an ampere from 100 kV behind 100 kohm) and which loses it by radiation
/// over a rise so small that the fourth power is a line.
fn cell(rise: f64) -> Setup {
    let mut setup = demo("fern-pin", &["source.series=1"]).setup;
    setup.leads.resistance = 1e5;
    setup.piece.depth = f64::INFINITY;
    setup.piece.floor = None;
    let ambient = setup.ambient_k;
    let Source::Pack(pack) = &mut setup.source else { panic!("a pack") };
    (pack.convection_factor, pack.exposed_share, pack.contact_ohm) = (0.0, 1.0, 0.0);
    let c = &mut pack.cell;
    c.ocv = Curve::new(vec![[0.0, 1e5]]).unwrap();
    c.r0_curve = Curve::new(vec![[0.0, 1.0]]).unwrap();
    (c.r0_temp_k, c.r1_ohm, c.c1_f, c.entropy) = (0.0, 1e-9, 1e9, 0.0);
    c.wells.capacity = 1e9;
    c.emissivity = 1.0;
    // As much heat as holds the surface `rise` over the air.
    let loss = 4.0 * STEFAN_BOLTZMANN * ambient.powi(3) * c.surface_m2;
    c.r0_ohm = loss * rise;
    setup
}

/// Modes of core and surface: (time constant, share of the core's, of the surface's steady
/// rise), from the characteristic equation of the two linear equations.
fn modes(setup: &Setup) -> [(f64, f64, f64); 2] {
    let c = &setup.source.pack().unwrap().cell;
    let loss = 4.0 * STEFAN_BOLTZMANN * setup.ambient_k.powi(3) * c.surface_m2;
    let (a, b) = (1.0 / (c.core_to_surface * c.core_j_per_k), loss / c.surface_j_per_k);
    let d = 1.0 / (c.core_to_surface * c.surface_j_per_k);
    // core' = q/C - a (core - skin); skin' = d (core - skin) - b skin.
    let (sum, product) = (a + d + b, a * b);
    let root = (sum * sum / 4.0 - product).sqrt();
    let (slow, fast) = (sum / 2.0 - root, sum / 2.0 + root);
    // Step response of the skin 1 - A exp(-slow t) - B exp(-fast t), at rest at first and
    // with no slope; the core's follows from skin' .
    let (at_slow, at_fast) = (fast / (fast - slow), -slow / (fast - slow));
    let core = |rate: f64, share: f64| share * (1.0 + (b - rate) / d);
    [(1.0 / slow, core(slow, at_slow), at_slow), (1.0 / fast, core(fast, at_fast), at_fast)]
}

/// Peak of the hot spot where the cycle has come to its end, K.
fn linear_peak(setup: &Setup, rise: f64, cycle: Cycle) -> f64 {
    let modes = modes(setup);
    let core: f64 = modes.iter().map(|(tau, core, _)| core * term(cycle, *tau)).sum();
    let skin: f64 = modes.iter().map(|(tau, _, skin)| skin * term(cycle, *tau)).sum();
    rise * (2.0 * core - skin)
}

fn cells() -> Vec<Check> {
    let basis = Basis {
        source: "two linear bodies (core and surface): the same form for each of their two \
                 time constants",
        why: "the fourth power over 0.02 K bends by 0.01 %",
        ..CLOSED
    };
    let search = Basis {
        tolerance: Tolerance::Relative(1e-2),
        why: "the fourth power over 1 K bends by 0.5 %, and the search settles to 0.001 K",
        ..basis
    };
    let mut checks = Vec::new();
    for (on, off) in [(300.0, 900.0), (600.0, 600.0), (1800.0, 600.0)] {
        let cycle = Cycle { on_s: on, off_s: off };
        let said = format!("{} min on, {} min off", on / 60.0, off / 60.0);
        let setup = cell(0.02);
        let mut bench = Bench::new(&setup, Precision::default());
        for _ in 0..60 {
            bench.off(off).unwrap();
            bench.on(on).unwrap();
        }
        let peak = bench.hot_spot_k().unwrap() - setup.ambient_k;
        let want = linear_peak(&setup, 0.02, cycle);
        checks.push(basis.value(format!("hot spot of a cell, {said}, 60 times"), want, peak));
        let setup = cell(1.0);
        let (peak, _) = session_peak(&setup, cycle).unwrap();
        let what = format!("the same as the advice on rests finds it, {said}");
        checks.push(search.value(what, linear_peak(&setup, 1.0, cycle), peak - setup.ambient_k));
    }
    checks
}

#[test]
fn periodic_duty() {
    assert_all(&CHECKS);
}
