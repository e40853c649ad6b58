//! What must hold for every job: more cells never give less current, a wider gap is never
//! faster, charge and mass and energy close, the order of keys does not matter, and runs that
//! differ by a change of scale alone take the same time.
//!
//! Each is tried on random jobs (`random/`); one that fails is cut down to a simple one.

mod random;

use proptest::prelude::*;
use proptest::test_runner::TestCaseResult;
use random::{Dice, Draft, job};
use restbite::advice::cycle::{Cycle, session_peak};
use restbite::advice::spread::Sampling;
use restbite::job::resolve::{Factors, resolve};
use restbite::laws::constants::FARADAY;
use restbite::run::{self, Precision, Run, Setup, Stop};
use restbite::sheet;
use restbite::stock::Stock;
use restbite::units::say::System;
use restbite::units::{self, Quantity, parse};

const LENGTH: usize = 120;

/// Numbers from 0 to 1 for one job.
fn numbers() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(0.0..1.0f64, LENGTH)
}

fn draft(numbers: Vec<f64>, stock: &Stock) -> Draft {
    job(&mut Dice::of(numbers), stock)
}

fn setup(draft: &Draft, stock: &Stock) -> Setup {
    let job = draft.read(stock);
    resolve(&job, job.source.as_ref().unwrap(), stock, &Factors::default()).unwrap()
}

fn done(setup: &Setup) -> Run {
    run::run(setup, Precision::default()).unwrap()
}

/// The same with fifty times the time: for what is compared at depth.
fn patient(mut setup: Setup) -> Setup {
    setup.time_limit_s = 360_000.0;
    setup
}

fn near(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * a.abs().max(b.abs()) + f64::MIN_POSITIVE
}

/// Tries a property on so many jobs, by a seed of its own, so that a run is like the last.
fn on_jobs(cases: u32, check: impl Fn(Vec<f64>, &Stock) -> TestCaseResult) {
    use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
    let stock = Stock::builtin().unwrap();
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let mut runner = TestRunner::new_with_rng(config, rng);
    use proptest::test_runner::TestError;
    match runner.run(&numbers(), |numbers| check(numbers, &stock)) {
        Ok(()) => {}
        Err(TestError::Fail(why, numbers)) => panic!("{why}\n{}", draft(numbers, &stock).text()),
        Err(TestError::Abort(why)) => panic!("{why}"),
    }
}

#[test]
fn more_cells_never_give_less_current_at_the_start() {
    on_jobs(2_000, |numbers, stock| {
        let one = setup(&draft(numbers, stock), stock);
        let run::Source::Pack(pack) = &one.source else { return Ok(()) };
        let with = |series: f64, parallel: f64| {
            let mut more = one.clone();
            let mut pack = pack.clone();
            (pack.series, pack.parallel) = (series, parallel);
            more.source = run::Source::Pack(pack);
            more.time_limit_s = 1e-3; // the start alone
            let run = done(&more);
            (run.start_current_a, run.start_source_v)
        };
        let (n, m) = (pack.series, pack.parallel);
        let (now, volts) = with(n, m);
        // One more in series brings its voltage and its resistance. It helps as long as a cell
        // short-circuited on itself would carry more than flows now, which is so while the pack
        // has volts left at its terminals. Where it has not, the bath drives the current: a
        // metal plates that is nobler than the sheet, and every cell is only in the way.
        if volts < 0.0 {
            return Ok(());
        }
        // A current is good to 1e-6 of itself, as the model asks.
        prop_assert!(with(n + 1.0, m).0 >= now * (1.0 - 1e-6), "series {n}: {now}");
        prop_assert!(with(n, m + 1.0).0 >= now * (1.0 - 1e-6), "parallel {m}: {now}");
        Ok(())
    });
}

#[test]
fn a_wider_gap_is_never_faster() {
    on_jobs(1_000, |numbers, stock| {
        let setup = patient(setup(&draft(numbers, stock), stock));
        let mut wider = setup.clone();
        wider.bath.shape_factor *= 1.2;
        // A bath that warms conducts better, and a wider gap warms it more: with a current
        // that the source fixes, or a small bath, that may win. So the bath is held at its
        // temperature here, by a heat capacity that nothing moves.
        let mut setup = setup;
        for s in [&mut setup, &mut wider] {
            s.bath.heat_capacity = 1e12;
        }
        let (near, far) = (done(&setup), done(&wider));
        prop_assert!(far.start_current_a <= near.start_current_a * (1.0 + 1e-9));
        // Slower cells keep more of their charge, so a gap may help a piece to depth that a
        // narrow one empties them for: the times are compared where both come to depth.
        // A pack recovers in its wells while it gives less, and a hot cell has less
        // resistance: a weak current may catch up late, never by much.
        if near.stop == Stop::Depth && far.stop == Stop::Depth && setup.source.pack().is_none() {
            prop_assert!(
                far.time_s >= near.time_s * (1.0 - 1e-7) - 2e-5,
                "{} {}",
                far.time_s,
                near.time_s
            );
        }
        Ok(())
    });
}

#[test]
fn a_colder_room_never_gives_hotter_cells() {
    on_jobs(1_000, |numbers, stock| {
        let warm = setup(&draft(numbers, stock), stock);
        let run::Source::Pack(pack) = &warm.source else { return Ok(()) };
        // Monotone only while resistance does not fall with warmth (a cold cell heats more),
        // and without the entropic heat, which may cool; and at the same bath. So both are set
        // to nothing here: what is left is the balance of heat and air.
        let mut pack = pack.clone();
        pack.cell.r0_temp_k = 0.0;
        pack.cell.entropy = 0.0;
        pack.temperature_limit_k = 1e6;
        let in_room = |ambient_k: f64| {
            let mut s = warm.clone();
            s.source = run::Source::Pack(pack.clone());
            s.ambient_k = ambient_k;
            s.bath.heat_loss = 0.0;
            s.time_limit_s = s.time_limit_s.min(14_400.0);
            done(&s).peak_hot_spot_k.unwrap()
        };
        let (cold, hot) = (in_room(warm.ambient_k - 10.0), in_room(warm.ambient_k));
        prop_assert!(cold <= hot + 1e-6, "{cold} {hot}");
        Ok(())
    });
}

#[test]
fn charge_mass_and_energy_close() {
    on_jobs(2_000, |numbers, stock| {
        let setup = setup(&draft(numbers, stock), stock);
        let run = done(&setup);
        let p = &setup.piece;
        let mass = p.efficiency * run.charge_c * p.equivalent_weight / FARADAY;
        prop_assert!(near(run.metal_removed_kg, mass, 1e-9));
        let sum: f64 = run.removed_kg.iter().map(|(_, kg)| kg).sum();
        prop_assert!(near(sum, run.metal_removed_kg, 1e-9));
        // What is gone from the recess is what came off, by volume.
        prop_assert!(near(run.charge_depth_m * p.exposed_area * p.density, mass, 1e-9));
        let silver = run.removed_kg.iter().find(|(symbol, _)| symbol == "Ag").map_or(0.0, |r| r.1);
        for is in [run.end_silver, run.night_silver] {
            // Of the pan's side and the bath's, whatever was dissolved before.
            let before = setup
                .bath
                .index_of("Ag")
                .map_or(0.0, |k| setup.bath.plating[k].c0 * setup.bath.volume * 0.107_868_2);
            let sum = is.loose + is.held + is.solution;
            // What is dissolved is followed to a hundred-millionth of a mole in a cubic metre.
            let told = 1e-8 * setup.bath.volume * 0.108;
            prop_assert!((sum - silver).abs() <= 1e-9 * (silver + before) + told, "{sum} {silver}");
        }
        prop_assert!(near(run.mean_current_a * run.time_s, run.charge_c, 1e-9));
        prop_assert!(run.energy_residual.is_none_or(|r| r < 1e-4));
        Ok(())
    });
}

#[test]
fn a_longer_rest_never_gives_a_hotter_session() {
    on_jobs(60, |numbers, stock| {
        let setup = setup(&draft(numbers, stock), stock);
        if setup.source.pack().is_none() || done(&setup).stop == Stop::NoCurrent {
            return Ok(());
        }
        let peak = |off_s: f64| session_peak(&setup, Cycle { on_s: 300.0, off_s }).unwrap();
        let rests = [60.0, 300.0, 1800.0];
        for pair in rests.windows(2) {
            let (short, long) = (peak(pair[0]), peak(pair[1]));
            // A cell whose entropic heat cools it comes back to the room's warmth in a rest; above
            // that it never warms. A hundredth of a kelvin is left to what counts as settled.
            let most = short.0.max(setup.ambient_k) + 0.02;
            prop_assert!(long.0 <= most, "{pair:?}: {short:?} {long:?}");
        }
        Ok(())
    });
}

#[test]
fn the_order_of_tables_and_keys_changes_nothing() {
    on_jobs(200, |numbers, stock| {
        let turn = numbers[LENGTH - 1];
        let first = draft(numbers, stock);
        let mut second = first.clone();
        let bare = second.tables.remove(0); // keys outside tables come first in TOML
        second.tables.reverse();
        for (_, keys) in &mut second.tables {
            let by = (turn * keys.len() as f64) as usize;
            keys.rotate_left(by);
        }
        second.tables.insert(0, bare);
        prop_assert_ne!(first.text(), second.text());
        let answer = |draft: &Draft| {
            let job = draft.read(stock);
            let traced =
                restbite::advice::traced_sampled(&job, stock, 5, Sampling { draws: 3, seed: 1 })
                    .unwrap();
            sheet::json::print(&sheet::json::trace(&traced, System::Metric))
        };
        prop_assert_eq!(answer(&first), answer(&second));
        Ok(())
    });
}

/// The equations do not change when everything that current, charge, heat and metal flow
/// through is doubled side by side: cells in parallel, bare area, pan, bath, its heat capacity
/// and heat loss; and bath, leads and source are halved in resistance. Currents double, voltages,
/// times, depths and temperatures stay. A cell is as it was: it carries what it carried.
#[test]
fn twice_of_everything_takes_as_long() {
    on_jobs(1_000, |numbers, stock| {
        let one = setup(&draft(numbers, stock), stock);
        let mut two = one.clone();
        two.piece.exposed_area *= 2.0;
        two.bath.cathode_area *= 2.0;
        two.bath.core_area *= 2.0;
        two.bath.spread_area *= 2.0;
        two.bath.reach *= 2.0;
        two.bath.volume *= 2.0;
        two.bath.heat_capacity *= 2.0;
        two.bath.heat_loss *= 2.0;
        two.bath.shape_factor /= 2.0;
        two.leads.resistance /= 2.0;
        match &mut two.source {
            run::Source::Pack(p) => p.parallel *= 2.0,
            run::Source::Supply { out_ohm, limit_a, .. } => {
                *out_ohm /= 2.0;
                *limit_a = limit_a.map(|a| 2.0 * a);
            }
            run::Source::Adapter { series_ohm, .. } => *series_ohm /= 2.0,
        }
        let (a, b) = (done(&one), done(&two));
        prop_assert_eq!(a.stop, b.stop);
        prop_assert!(
            (a.time_s - b.time_s).abs() < 1e-3 + 1e-7 * a.time_s,
            "{} {}",
            a.time_s,
            b.time_s
        );
        prop_assert!(near(2.0 * a.start_current_a, b.start_current_a, 1e-6));
        prop_assert!(near(2.0 * a.metal_removed_kg, b.metal_removed_kg, 1e-5));
        prop_assert!(near(a.end_bath_k, b.end_bath_k, 1e-6));
        Ok(())
    });
}

/// Says numbers in each unit of a table and reads them again.
fn there_and_back<Q: Quantity>() {
    for unit in Q::KIND.units {
        for number in [1.0, 0.3, 12.7, 1e-3, 7.123_456_789e5] {
            let text = format!("{number} {}", unit.name);
            let si = parse::<Q>(&text).unwrap_or_else(|e| panic!("{text}: {e:?}")).si();
            let back = (si - unit.offset) / unit.factor;
            // A temperature's zero lies far away: its last digits are those of the kelvin.
            let slack = 1e-12 * number + f64::EPSILON * (unit.offset / unit.factor).abs();
            assert!((back - number).abs() <= slack, "{text}: {back}");
            let again = parse::<Q>(&format!("{back:e}  {}", unit.name)).unwrap().si();
            assert!(near(si, again, 1e-12), "{text}: {si} {again}");
        }
    }
}

#[test]
fn every_unit_reads_back_what_it_says() {
    macro_rules! all {
        ($($quantity:ident),+ $(,)?) => { $( there_and_back::<units::$quantity>(); )+ };
    }
    all!(
        Area,
        Capacitance,
        Charge,
        Conductivity,
        Current,
        CurrentDensity,
        Density,
        HeatCapacity,
        Length,
        Mass,
        MassConcentration,
        MolarConcentration,
        MolarMass,
        RateConstant,
        Resistance,
        ResistancePerLength,
        Resistivity,
        Share,
        SpecificHeatCapacity,
        Temperature,
        TemperatureCoefficient,
        TemperatureInterval,
        ThermalConductance,
        ThermalConductivity,
        Time,
        Velocity,
        Voltage,
        Volume,
        VoltsPerKelvin,
    );
}
