//! How sure: the draws against plain ones, and what they say against the nominal run.

mod common;

use nalgebra::DVector;
use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use restbite::advice::cycle::{Warmth, within_a_piece};
use restbite::advice::pieces::{Pieces, Session, pieces};
use restbite::advice::spread::Sampling;
use restbite::advice::spread::bands::Band;
use restbite::advice::spread::charge::{Timetable, piece_spread};
use restbite::advice::spread::quantile::Quantiles;
use restbite::advice::spread::sample::Inputs;
use restbite::advice::{self, Case};
use restbite::job::resolve::resolve;
use restbite::job::{self, Checked, Job, Needs, Written};
use restbite::run::{Bench, Precision, Setup, Stop, depth_of, run, run_onward};
use restbite::sheet;
use restbite::stock::Stock;
use serde_json::Value;

const SUNDIAL: &str = "data-demo/sundial.toml";
const FERN: &str = "data-demo/fern-pin.toml";

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("{key} in {value}"))
}

/// A job with settings over it.
fn set(path: &str, stock: &Stock, sets: &[&str]) -> Job {
    let root = common::root();
    let text = std::fs::read_to_string(root.join(path)).unwrap();
    let sets: Vec<String> = sets.iter().map(ToString::to_string).collect();
    let written = Written { text: &text, name: path, sets: &sets, ..Written::default() };
    match job::read(&written, stock, Needs::Source) {
        Ok(Checked::Job(job)) => *job,
        other => panic!("{other:?}"),
    }
}

/// Setups of plain random draws, no Latin hypercube.
fn plain(job: &Job, stock: &Stock, draws: usize, seed: u64) -> Vec<Setup> {
    let source = job.source.as_ref().unwrap();
    let inputs = Inputs::of(job, source);
    let mut random = rand_pcg::Pcg64::seed_from_u64(seed);
    let one = |_| {
        let point: Vec<f64> = inputs.list.iter().map(|_| random.random_range(1e-9..1.0)).collect();
        resolve(job, source, stock, &inputs.factors(&inputs.logarithms(&point))).unwrap()
    };
    (0..draws).map(one).collect()
}

fn case<'a>(job: &'a Job, stock: &'a Stock) -> Case<'a> {
    Case::of(job, job.source.as_ref().unwrap(), stock).unwrap()
}

fn limits(job: &Job, stock: &Stock) -> Warmth {
    case(job, stock).warmth()
}

/// A session, with a cycle in the piece where heat asks for one.
fn session_of(setup: &Setup, limits: &Warmth, session: &Session) -> Pieces {
    let alone = run(setup, COARSE).unwrap();
    let cycle = within_a_piece(setup, limits, &alone, None).unwrap();
    pieces(setup, limits, session, cycle).unwrap()
}

const COARSE: Precision = Precision { relative: 1e-6 };

#[test]
fn quantiles_agree_with_plain_draws() {
    // Ten thousand plain random draws: their P50's standard error is about 1.25 sd/100, an
    // eighth of a per cent of the time here; 1 % is asked.
    let stock = Stock::builtin().unwrap();
    let job = set(SUNDIAL, &stock, &[]);
    let setups = plain(&job, &stock, 10_000, 99);
    let times = setups.iter().map(|setup| {
        let run = run(setup, COARSE).unwrap();
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
        "face_transfer",
        "pan_transfer",
        "loose_load",
        "edge_length",
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
    let set = "limits.time=21 min";
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
    let shares: Vec<f64> = drivers.iter().map(|d| number(d, "share")).collect();
    assert!(shares.windows(2).all(|w| w[0] >= w[1]), "the largest first: {shares:?}");
    // A straight line explains nearly all of it, so that the shares may be believed.
    assert!(number(&plan["spread"], "line_r2") > 0.95, "{}", plan["spread"]["line_r2"]);
}

/// Piece after piece with ten minutes between, until one fails.
fn plain_session(setup: &Setup) -> usize {
    let mut bench = Bench::new(setup, COARSE);
    for done in 0.. {
        if bench.on(setup.time_limit_s).unwrap() != Some(Stop::Depth) {
            return done;
        }
        bench.next_piece(false);
        bench.off(600.0).unwrap();
    }
    0
}

#[test]
fn pieces_agree_with_plain_draws() {
    // A pack that is low gives a few pieces. Of ten thousand plain sessions the share that
    // gives fewer than the quantile, and the share that gives no more, must enclose its
    // level. Some 300 drawn sessions have a standard error of 2.9 % at the median and 1.7 %
    // at the ends, were they plain; two of those are allowed.
    let (charge, stock) = ("source.charge_left=40 %", Stock::builtin().unwrap());
    let job = set(FERN, &stock, &[charge]);
    let setups = plain(&job, &stock, 10_000, 42);
    let counted = |part: &[Setup]| part.iter().map(plain_session).collect::<Vec<usize>>();
    let counts: Vec<usize> = std::thread::scope(|scope| {
        let parts = setups.chunks(1_000).map(|part| scope.spawn(move || counted(part)));
        let parts: Vec<_> = parts.collect();
        parts.into_iter().flat_map(|part| part.join().unwrap()).collect()
    });
    let share = |test: &dyn Fn(u64) -> bool| {
        counts.iter().filter(|c| test(**c as u64)).count() as f64 / counts.len() as f64
    };
    let drawn =
        &common::json(&["charge", FERN, "--json", "--draws", "1000", "--set", charge], 0)["charge"];
    assert!(number(&drawn["spread"], "draws") >= 250.0, "{drawn}");
    for (key, level, slack) in [("p10", 0.1, 0.035), ("p50", 0.5, 0.06), ("p90", 0.9, 0.035)] {
        let n = drawn[key].as_u64().unwrap();
        let (fewer, no_more) = (share(&|c| c < n), share(&|c| c <= n));
        assert!(fewer <= level + slack && no_more >= level - slack, "{key} {n}: {fewer} {no_more}");
    }
}

#[test]
fn a_drawn_session_keeps_the_planned_one() {
    // Without a factor moved, the timetable gives the very number of the session that it was
    // taken from: with nothing but bench time between pieces, and with cycles and rests.
    let stock = Stock::builtin().unwrap();
    let hot = [
        "source.cell=HR6",
        "source.holder=closed box",
        "limits.cell_temperature=33 degC",
        "piece.depth=0.25 mm",
    ];
    for sets in [&["source.charge_left=50 %"][..], &hot] {
        let job = set(FERN, &stock, sets);
        let source = job.source.as_ref().unwrap();
        let setup = resolve(&job, source, &stock, &Default::default()).unwrap();
        let session = Session::of(&job);
        let nominal = session_of(&setup, &limits(&job, &stock), &session);
        assert!(nominal.count() > 1 && nominal.ended(), "{sets:?} {}", nominal.count());
        let counted = Timetable::of(&nominal, &session).count(&setup).unwrap();
        assert_eq!(counted, Some(nominal.count()), "{sets:?}");
        let short = Session { most: nominal.count() - 1, ..session };
        assert_eq!(Timetable::of(&nominal, &short).count(&setup).unwrap(), None);
    }
}

#[test]
fn what_was_not_followed_to_its_end_is_said() {
    let stock = Stock::builtin().unwrap();
    let job = set(FERN, &stock, &[]);
    let source = job.source.as_ref().unwrap();
    let setup = resolve(&job, source, &stock, &Default::default()).unwrap();
    let session = Session { most: 6, ..Session::of(&job) };
    let nominal = session_of(&setup, &limits(&job, &stock), &session);
    let timetable = Timetable::of(&nominal, &session);
    let sampling = Sampling { draws: 300, seed: 1 };
    let spread = piece_spread(&case(&job, &stock), &timetable, sampling).unwrap();
    assert!(spread.pieces.p10.is_some_and(|n| n <= 6));
    assert_eq!((spread.pieces.p50, spread.pieces.p90), (None, None));
    let said = sheet::json::pieces(&spread);
    assert_eq!((&said["p90"], &said["more_than"]), (&Value::Null, &Value::from(6)));
    let words = sheet::words::spread::pieces_in_words(&spread);
    assert!(words.ends_with("one in ten gives more than 6"), "{words}");
}

#[test]
fn charges_that_give_nothing_and_supplies_that_have_none() {
    let args = ["charge", FERN, "--json", "--set", "limits.time=18 min"];
    let charge = &common::json(&args, 1)["charge"];
    assert_eq!(charge["p10"], 0);
    assert!((0.3..0.99).contains(&number(&charge["spread"], "chance_of_none")), "{charge}");
    let text = common::answer(&["charge", FERN, "--set", "limits.time=18 min"], 1);
    assert!(text.replace('\n', " ").contains("of the charges give none"), "{text}");
    for demo in ["data-demo/moon-dial.toml", SUNDIAL] {
        assert_eq!(common::json(&["charge", demo, "--json"], 0)["charge"], Value::Null);
        let plan = common::json(&["plan", demo, "--json", "--draws", "20"], 0);
        assert_eq!(plan["charge"], Value::Null);
        assert_eq!(plan["spread"]["hot_spot_k"], Value::Null);
    }
}

#[test]
fn a_seed_gives_one_number_of_pieces_in_charge_and_plan() {
    let ask = |verb: &str, seed: &str| {
        common::json(&[verb, FERN, "--json", "--draws", "300", "--seed", seed], 0)["charge"].clone()
    };
    let charge = ask("charge", "3");
    assert_eq!(charge, ask("charge", "3"));
    assert_eq!(charge, ask("plan", "3"));
    let quantiles = ["p10", "p50", "p90"].map(|key| number(&charge, key));
    assert!(quantiles.is_sorted() && quantiles[0] > 0.0, "{quantiles:?}");
    assert!(quantiles.contains(&quantiles[1].round()));
}

#[test]
fn the_fast_case_is_what_one_plain_draw_in_ten_passes() {
    // Four thousand plain draws, each run straight to the time asked, whatever its depth. A
    // P90's standard error is there about 1.7 sd/sqrt(n), 0.4 % of the depth here; 1.2 % for
    // three of them.
    let stock = Stock::builtin().unwrap();
    let job = set(SUNDIAL, &stock, &[]);
    let plan = advice::plan(&job, &stock, 101, Sampling::default()).unwrap();
    let bands = plan.spread.as_ref().unwrap().bands.as_ref().unwrap();
    let setups = plain(&job, &stock, 4_000, 7);
    for n in [40, 120, 200] {
        let (at, fast) = (bands.t_s[n], bands.fast().depth_m[n]);
        let depths = setups.iter().map(|setup| {
            let mut setup = setup.clone();
            (setup.piece.depth, setup.piece.floor) = (f64::INFINITY, None);
            setup.time_limit_s = at;
            run(&setup, COARSE).unwrap().depth_m
        });
        let plain = Quantiles::of(depths).p90.unwrap();
        assert!((fast / plain - 1.0).abs() < 0.012, "{at} s: {fast} {plain}");
    }
}

#[test]
fn bands_hold_the_nominal_run_and_looks_hold_the_tolerance() {
    let stock = Stock::builtin().unwrap();
    for demo in [FERN, "data-demo/moon-dial.toml", SUNDIAL] {
        let job = set(demo, &stock, &[]);
        let plan = advice::plan(&job, &stock, 201, Sampling { draws: 500, seed: 2 }).unwrap();
        let spread = plan.spread.as_ref().unwrap();
        let bands = spread.bands.as_ref().unwrap();
        let within = |band: &Band, nominal: &[f64]| {
            for ((low, high), x) in band.low.iter().zip(&band.high).zip(nominal) {
                // Values are kept to seven digits.
                let slack = 1e-6 * x.abs();
                assert!(*low <= x + slack && *x <= high + slack, "{demo}: {low} {x} {high}");
            }
        };
        assert_eq!(bands.t_s.len(), plan.trace.t_s.len());
        within(&bands.depth_m, &plan.trace.depth_m);
        if demo != "data-demo/moon-dial.toml" {
            within(&bands.current_a, &plan.trace.current_a); // a supply's limit may hold it
        }
        assert_eq!(bands.hot_spot_k.is_some(), plan.trace.hot_spot_k.is_some());
        if let (Some(band), Some(nominal)) = (&bands.hot_spot_k, &plan.trace.hot_spot_k) {
            within(band, nominal);
        }
        // The fast case is at the target when one piece in ten is.
        let (p10, fast) = (spread.outcomes.time_s.p10.unwrap(), plan.looks.fast_s.unwrap());
        assert!((fast / p10 - 1.0).abs() < 0.01, "{demo}: {fast} {p10}");
        let (target, tolerance) = (plan.case().setup.piece.depth, plan.looks.tolerance_m);
        let fast = bands.fast();
        let depth = |t: f64| {
            let k = fast.t_s.partition_point(|x| *x < t).clamp(1, fast.t_s.len() - 1);
            let share = (t - fast.t_s[k - 1]) / (fast.t_s[k] - fast.t_s[k - 1]);
            fast.depth_m[k - 1] + share * (fast.depth_m[k] - fast.depth_m[k - 1])
        };
        let times: Vec<f64> = plan.looks.checks.iter().map(|c| c.at_s).collect();
        for (from, to) in [0.0].iter().chain(&times).zip(&times) {
            let gained = depth(*to) - depth(*from).max(target - tolerance);
            assert!(
                gained <= 1.05 * tolerance && to - from <= 900.0,
                "{demo} {from} {to} {gained}"
            );
        }
    }
}

#[test]
fn a_run_goes_on_past_its_depth_as_a_deeper_one_would() {
    let stock = Stock::builtin().unwrap();
    for demo in [FERN, SUNDIAL] {
        let job = set(demo, &stock, &[]);
        let source = job.source.as_ref().unwrap();
        let setup = resolve(&job, source, &stock, &Default::default()).unwrap();
        let own = run(&setup, Precision::default()).unwrap();
        let (until, mut end) = (1.4 * own.time_s, (0.0, 0.0));
        let whole = run_onward(&setup, Precision::default(), until, |step, _| {
            end = (step.t + step.h, depth_of(&setup, &step.to));
        });
        assert_eq!(whole.unwrap(), own, "the outcome is its own");
        let mut deeper = setup.clone();
        (deeper.piece.depth, deeper.piece.floor) = (f64::INFINITY, None);
        deeper.time_limit_s = until;
        let deeper = run(&deeper, Precision::default()).unwrap();
        assert!((end.0 / until - 1.0).abs() < 1e-9, "{end:?}");
        assert!((end.1 / deeper.depth_m - 1.0).abs() < 1e-6, "{end:?} {}", deeper.depth_m);
    }
}

#[test]
fn the_chance_of_heat_is_that_of_passing_the_limit() {
    // With the limit at the P90 of the hot spot, one draw in ten must pass it.
    let ask =
        |set: &str| common::json(&["plan", FERN, "--json", "--set", set], 0)["spread"].clone();
    let free = ask("limits.cell_temperature=54 degC");
    assert_eq!(number(&free["chance"], "hot"), 0.0);
    let p90 = number(&free["hot_spot_k"], "p90");
    let held = ask(&format!("limits.cell_temperature={:.4} degC", p90 - 273.15));
    assert!((number(&held["chance"], "hot") - 0.1).abs() < 0.005, "{held}");
    // Those do not come to depth either, but for the one draw whose peak the limit was set to.
    let of_all = 1.0 / number(&held, "draws");
    let (unfinished, hot) = (&held["chance"]["unfinished"], &held["chance"]["hot"]);
    assert!(unfinished.as_f64() >= hot.as_f64().map(|x| x - 1.5 * of_all), "{unfinished} {hot}");
}

#[test]
fn the_best_options_of_size_are_drawn() {
    let set = "limits.pieces_per_charge=2";
    let args = ["size", FERN, "--json", "--draws", "400", "--set", set];
    let sizing = common::json(&args, 0);
    assert_eq!(sizing, common::json(&args, 0), "a seed gives one answer");
    let options = sizing["options"].as_array().unwrap();
    let drawn: Vec<&Value> = options.iter().filter(|o| o["spread"].is_object()).collect();
    assert!((5..=8).contains(&drawn.len()), "the best five, and the picks");
    assert_eq!(drawn[0]["rank"], 1);
    for option in &drawn {
        let (spread, time) = (&option["spread"], number(&option["run"], "time_s"));
        assert_eq!(spread["draws"], 100);
        // Where one in ten does not finish there is no tenth from the top.
        let q = |key: &str, or: f64| spread["time_s"][key].as_f64().unwrap_or(or);
        let q = [q("p10", 0.0), q("p50", time), q("p90", f64::INFINITY)];
        assert!(q.is_sorted() && q[0] < time && time < q[2], "{q:?} {time}");
        for chance in ["through", "unfinished", "hot"] {
            assert!((0.0..=1.0).contains(&number(&spread["chance"], chance)));
        }
        let pieces = &spread["pieces"];
        assert!(pieces["p10"].is_u64() || pieces["more_than"] == 4, "{pieces}");
    }
    assert!(options.iter().all(|o| o["spread"].is_object() || o["spread"].is_null()));
    // The same source in a plan of its own: the same inputs, drawn otherwise.
    let source = &drawn[0]["source"];
    let sets = [
        format!("source.cell={}", source["cell"].as_str().unwrap()),
        format!("source.series={}", source["series"]),
        format!("source.holder={}", source["holder"].as_str().unwrap()),
    ];
    let sets = sets.iter().flat_map(|s| ["--set", s]);
    let args: Vec<&str> = ["plan", FERN, "--json"].into_iter().chain(sets).collect();
    let own = &common::json(&args, 0)["spread"]["time_s"];
    for key in ["p10", "p50", "p90"] {
        let (a, b) = (number(own, key), number(&drawn[0]["spread"]["time_s"], key));
        assert!((a / b - 1.0).abs() < 0.04, "{key}: {a} {b}");
    }
}

/// How good the sampling is: 100,000 plain draws of the fern pin's time against the 512 that
/// `plan` takes, at five seeds. By hand:
/// `cargo test --release --test spread -- --ignored --nocapture hundred_thousand`
///
/// ```text
///                       P10 s    P50 s    P90 s
/// 100,000 plain         740.4    847.5    971.5
/// 2000 drawn, seed 1    742.0    847.3    970.7
/// 2000 drawn, seed 2    735.9    849.8    973.2
/// 2000 drawn, seed 3    739.0    846.3    978.7
/// 2000 drawn, seed 4    740.9    842.7    974.4
/// 2000 drawn, seed 5    741.0    850.6    974.2
/// ```
#[test]
#[ignore = "takes some minutes; its table stands above"]
fn against_a_hundred_thousand_plain_draws() {
    let stock = Stock::builtin().unwrap();
    let job = set(FERN, &stock, &[]);
    let time = |setup: &Setup| {
        let run = run(setup, COARSE).unwrap();
        if run.stop == Stop::Depth { run.time_s } else { f64::INFINITY }
    };
    let all = plain(&job, &stock, 100_000, 2024);
    let plain = Quantiles::of(all.iter().map(time));
    println!("                      P10 s    P50 s    P90 s");
    let row = |name: &str, q: &Quantiles| {
        let list = [q.p10, q.p50, q.p90].map(Option::unwrap);
        println!("{name:<18} {:8.1} {:8.1} {:8.1}", list[0], list[1], list[2]);
        list
    };
    let want = row("100,000 plain", &plain);
    for seed in 1..=5 {
        let plan =
            advice::plan(&job, &stock, 101, Sampling { seed, ..Sampling::default() }).unwrap();
        let got = row(&format!("drawn, seed {seed}"), &plan.spread.unwrap().outcomes.time_s);
        for (got, want) in got.iter().zip(want) {
            assert!((got / want - 1.0).abs() < 0.01, "{got} {want}");
        }
    }
}

/// A Latin hypercube (McKay, Beckman and Conover, Technometrics 1979, 21, 239).
fn latin_hypercube(n: usize, dimensions: usize, seed: u64) -> Vec<Vec<f64>> {
    let mut random = rand_pcg::Pcg64::seed_from_u64(seed);
    let mut points = vec![vec![0.0; dimensions]; n];
    let mut strata: Vec<usize> = (0..n).collect();
    for d in 0..dimensions {
        strata.shuffle(&mut random);
        for (point, stratum) in points.iter_mut().zip(&strata) {
            point[d] = (*stratum as f64 + random.random_range(1e-9..1.0)) / n as f64;
        }
    }
    points
}

/// Time to depth of each draw of a sample.
fn times(job: &Job, stock: &Stock, inputs: &Inputs, sample: &[DVector<f64>]) -> Vec<f64> {
    let source = job.source.as_ref().unwrap();
    let time = |x: &DVector<f64>| {
        let run = run(&resolve(job, source, stock, &inputs.factors(x)).unwrap(), COARSE).unwrap();
        if run.stop == Stop::Depth { run.time_s } else { f64::INFINITY }
    };
    sample.iter().map(time).collect()
}

/// Standard deviation of P10, P50 and P90 over seeds, as shares.
fn scatter(seeds: u64, of: impl Fn(u64) -> Quantiles) -> [f64; 3] {
    let all: Vec<[f64; 3]> =
        (0..seeds).map(of).map(|q| [q.p10, q.p50, q.p90].map(|q| q.unwrap().ln())).collect();
    std::array::from_fn(|k| {
        let mean = all.iter().map(|q| q[k]).sum::<f64>() / all.len() as f64;
        let square = all.iter().map(|q| (q[k] - mean).powi(2)).sum::<f64>();
        (square / (all.len() - 1) as f64).sqrt()
    })
}

/// Whether the 512 draws of `plan` do as well as 2000 of a Latin hypercube: scatter of the time's
/// quantiles over 50 seeds, per cent of the time. By hand:
/// `cargo test --release --test spread -- --ignored --nocapture as_sure`
///
/// ```text
///                              512, steadied         2000, Latin hypercube
///                              P10    P50    P90     P10    P50    P90
/// data-demo/fern-pin.toml      0.08   0.05   0.08    0.35   0.20   0.49
/// data-demo/moon-dial.toml     0.04   0.02   0.03    0.10   0.07   0.13
/// data-demo/sundial.toml       0.04   0.03   0.03    0.34   0.21   0.35
/// ```
#[test]
#[ignore = "takes half a minute; its table stands above"]
fn as_sure_as_four_times_as_many_latin_draws() {
    let stock = Stock::builtin().unwrap();
    for demo in [FERN, "data-demo/moon-dial.toml", SUNDIAL] {
        let job = set(demo, &stock, &["limits.time=10 h"]);
        let inputs = Inputs::of(&job, job.source.as_ref().unwrap());
        let drawn = scatter(50, |seed| {
            let sample = inputs.sample(Sampling::default().draws, seed);
            inputs.quantiles(&sample, times(&job, &stock, &inputs, &sample).into_iter())
        });
        let latin = scatter(50, |seed| {
            let cube = latin_hypercube(2000, inputs.list.len(), seed);
            let sample: Vec<_> = cube.iter().map(|p| inputs.logarithms(p)).collect();
            Quantiles::of(times(&job, &stock, &inputs, &sample).into_iter())
        });
        let percent = |x: [f64; 3]| x.map(|x| format!("{:.2}", 100.0 * x)).join("   ");
        println!("{demo:<28} {}    {}", percent(drawn), percent(latin));
        let square = |x: [f64; 3]| x.iter().map(|x| x * x).sum::<f64>();
        assert!(square(drawn) < square(latin), "{demo}");
    }
}
