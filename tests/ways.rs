//! More ways a piece is etched: a resistor in the lead, a supply that pulses, one source after the
//! other, several in one bath, a sheet hung upright. (Stages against the second implementation: `outside/whole_run.rs`.)

mod common;

use serde_json::Value;

const DIAL: &str = "data-demo/moon-dial.toml";

fn run(job: &str, sets: &[&str]) -> Value {
    let sets: Vec<&str> = sets.iter().flat_map(|s| ["--set", s]).collect();
    let out = common::restbite(&[&["trace", job, "--json"][..], &sets].concat());
    assert!(out.status.code() != Some(2), "{}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
}

fn n(value: &Value, key: &str) -> f64 {
    value["run"][key].as_f64().unwrap_or_else(|| panic!("{key} in {}", value["run"]))
}

#[test]
fn a_resistor_in_the_lead_is_one_in_the_source() {
    // The supply has 0.02 ohm of its own. Kirchhoff: where in the ring it stands is no matter to the current, only to the terminals.
    let free = "source.current_limit=10 A";
    let lead = run(DIAL, &[free, "source.resistor=0.4 ohm"]);
    let inside = run(DIAL, &[free, "source.output_resistance=0.42 ohm"]);
    for key in ["time_s", "start_current_a", "start_bath_v", "charge_c"] {
        assert!((n(&lead, key) / n(&inside, key) - 1.0).abs() < 1e-6, "{key}");
    }
    let drop = n(&lead, "start_source_v") - n(&inside, "start_source_v");
    assert!((drop - 0.4 * n(&lead, "start_current_a")).abs() < 1e-9);
    assert_eq!(lead["resolved"]["source.resistor_ohm"], 0.4);
    let plain = run(DIAL, &[]);
    assert!(plain["resolved"].get("source.resistor_ohm").is_none());
}

#[test]
fn a_pulse_etches_by_its_mean_and_warms_by_its_square() {
    // A supply at its limit of 1 A, on for 40 % of the time: the charge and all that goes by it
    // as 0.4 A without a break, the ohmic heat as sqrt(0.4) A (mean of a square wave and of its
    // square, any text on circuits).
    let plenty = "source.voltage=6 V";
    let pulse = "source.pulse={ duty = \"40 %\", period = \"10 ms\" }";
    let pulsed = run(DIAL, &[plenty, "source.current_limit=1 A", pulse]);
    let mean = run(DIAL, &[plenty, "source.current_limit=0.4 A"]);
    for key in ["time_s", "charge_c", "depth_m", "mean_current_a", "metal_removed_kg"] {
        assert!((n(&pulsed, key) / n(&mean, key) - 1.0).abs() < 1e-6, "{key}");
    }
    assert!((n(&pulsed, "start_current_a") - 1.0).abs() < 1e-9);
    // The films see the mean: what the bath takes more is ohmic and activation alone, so that at
    // least 0.6 A through its resistance and at most a tenth of a volt beyond.
    let more = n(&pulsed, "start_bath_v") - n(&mean, "start_bath_v");
    let ohmic = 0.6 * n(&mean, "bath_resistance_ohm");
    assert!(more > ohmic && more < ohmic + 0.1, "{more} {ohmic}");
    // Followed in time, on and off by turns of a thousandth of the run, against a bath that
    // loses nothing: the same heat to a per cent.
    let warmth = |value: &Value| {
        n(value, "end_bath_k") - value["resolved"]["bath.temperature_k"].as_f64().unwrap()
    };
    assert!(warmth(&pulsed) > warmth(&mean));
    let energy = n(&pulsed, "energy_j");
    let by_hand = 0.4 * n(&pulsed, "time_s") * n(&pulsed, "start_source_v");
    assert!((energy / by_hand - 1.0).abs() < 0.05, "{energy} {by_hand}");
}

#[test]
fn an_ammeter_shows_the_mean_of_a_pulse() {
    let pulse = "source.pulse={ duty = \"40 %\", period = \"10 ms\" }";
    let sets = [
        "--set",
        "source.voltage=6 V",
        "--set",
        "source.current_limit=1 A",
        "--set",
        pulse,
        "--set",
        "limits.time=10 h",
    ];
    let plan = common::json(&[&["plan", DIAL, "--json"][..], &sets].concat(), 0);
    let amps = plan["meter"]["current_a"]["p50"].as_f64().unwrap();
    assert!((amps / 0.4 - 1.0).abs() < 1e-6, "{amps}");
    let look = ["look", DIAL, "--json", "--at", "10 min", "--amps", "0.4 A"];
    let look = common::json(&[&look[..], &sets].concat(), 0);
    assert!(look["fault"].is_null(), "{}", look["fault"]);
}

#[test]
fn a_pulse_followed_in_time_has_the_same_heat_and_charge() {
    // The same setup switched on and off by turns far shorter than the bath's own warming: what
    // is left is that without a film to speak of (far under its limit) both agree.
    use restbite::job::resolve::{Factors, resolve};
    use restbite::job::{self, Checked, Needs, Written};
    use restbite::run::{Bench, Precision, run};
    use restbite::stock::Stock;
    let stock = Stock::builtin().unwrap();
    let text = std::fs::read_to_string(common::root().join(DIAL)).unwrap();
    let setup = |sets: &[&str]| {
        let sets: Vec<String> = sets.iter().map(ToString::to_string).collect();
        let written = Written { text: &text, name: "dial", sets: &sets, ..Written::default() };
        match job::read(&written, &stock, Needs::Source) {
            Ok(Checked::Job(job)) => {
                resolve(&job, job.source.as_ref().unwrap(), &stock, &Factors::default()).unwrap()
            }
            other => panic!("{other:?}"),
        }
    };
    let sets = ["source.voltage=6 V", "source.current_limit=0.2 A", "limits.time=100 h"];
    let pulse = "source.pulse={ duty = \"50 %\", period = \"20 ms\" }";
    let pulsed = run(&setup(&[&sets[..], &[pulse]].concat()), Precision::default()).unwrap();
    let in_time = setup(&sets);
    let mut bench = Bench::new(&in_time, Precision::default());
    let (turns, half) = (400, 0.5 * pulsed.time_s / 400.0);
    for _ in 0..turns {
        bench.on(half).unwrap();
        bench.off(half).unwrap();
    }
    assert!(
        (bench.depth_m() / pulsed.depth_m - 1.0).abs() < 2e-3,
        "{} {}",
        bench.depth_m(),
        pulsed.depth_m
    );
    let rise = |k: f64| k - in_time.bath.temperature_k;
    assert!(
        (rise(bench.bath_k()) / rise(pulsed.end_bath_k) - 1.0).abs() < 0.03,
        "{} {}",
        bench.bath_k(),
        pulsed.end_bath_k
    );
}

#[test]
fn a_pulse_is_checked() {
    for (set, word) in [
        ("source.pulse={ duty = \"40 %\" }", "period"),
        ("source.pulse={ duty = \"0 %\", period = \"1 ms\" }", "1 % to 100 %"),
        ("source.pulse={ duty = \"40 %\", period = \"3 s\" }", "200 ms"),
    ] {
        let out = common::restbite(&["plan", DIAL, "--set", set]);
        assert_eq!(out.status.code(), Some(2), "{set}");
        assert!(String::from_utf8_lossy(&out.stderr).contains(word), "{set}");
    }
    let fern = "data-demo/fern-pin.toml";
    let set = "source.pulse={ duty = \"40 %\", period = \"1 ms\" }";
    let out = common::restbite(&["plan", fern, "--set", set]);
    assert!(String::from_utf8_lossy(&out.stderr).contains("belongs to kind = \"supply\""));
}

/// The fern pin without its source, with these tables instead.
fn fern_with(tables: &str) -> String {
    let text = std::fs::read_to_string(common::root().join("data-demo/fern-pin.toml")).unwrap();
    let (before, rest) = text.split_once("[source]").unwrap();
    let (_, after) = rest.split_once("\n[").unwrap();
    format!("{before}{tables}\n[{after}")
}

const ADAPTER: &str =
    "[[stage]]\nkind = \"adapter\"\nopen_voltage = \"6 V\"\nseries_resistance = \"3 ohm\"\n";
const PACK: &str = "[[stage]]\nkind = \"pack\"\ncell = \"LR14\"\nseries = 3\n";

fn ask(job: &str, args: &[&str], code: i32) -> (String, String) {
    let out = common::restbite_in(&common::root(), args, job);
    let err = String::from_utf8(out.stderr).unwrap();
    assert_eq!(out.status.code(), Some(code), "{args:?}: {err}");
    (String::from_utf8(out.stdout).unwrap(), err)
}

#[test]
fn every_verb_follows_the_stages() {
    let job = fern_with(&[ADAPTER, "until = \"15 min\"\n", PACK].concat());
    for verb in ["plan", "trace", "rest", "charge", "size"] {
        ask(&job, &[verb, "-"], 0);
        let json = ask(&job, &[verb, "-", "--json"], 0).0;
        let value: Value = serde_json::from_str(&json).unwrap();
        if verb != "size" {
            assert_eq!(value["stages"][1]["begins_s"], 900.0, "{verb}");
            assert_eq!(value["stages"][0]["source"]["kind"], "adapter", "{verb}");
        }
    }
    let page = ask(&job, &["plan", "-"], 0).0;
    assert!(page.contains("One source after the other: 1. Plug-in adapter"), "{page}");
    assert!(
        page.contains("from\n          15 min on") || page.contains("from 15 min on"),
        "{page}"
    );
    // Current and terminals jump where it changes; depth and silver do not.
    let value: Value =
        serde_json::from_str(&ask(&job, &["trace", "-", "--json", "--points", "2001"], 0).0)
            .unwrap();
    let list = |key: &str| -> Vec<f64> {
        value[key].as_array().unwrap().iter().map(|x| x.as_f64().unwrap()).collect()
    };
    let (t, amps, depth) = (list("t_s"), list("current_a"), list("depth_m"));
    let after = t.iter().position(|t| *t > 900.0).unwrap();
    assert!(amps[after + 1] > 1.2 * amps[after - 1]);
    assert!(depth[after + 1] - depth[after - 1] < 2e-6);
    assert!(value["available"][0].is_null() && value["available"][after + 1].is_number());
}

#[test]
fn one_stage_after_the_other_is_one_source_where_they_are_alike() {
    // A supply that gives way to itself, by time and by depth, is the same run.
    let supply = "[[stage]]\nkind = \"supply\"\nvoltage = \"3 V\"\ncurrent_limit = \"1.5 A\"\n";
    let alone = fern_with(&supply.replace("[[stage]]", "[source]"));
    let staged = fern_with(
        &[supply, "until = \"5 min\"\n", supply, "until = \"0.2 mm\"\n", supply].concat(),
    );
    let run = |job: &str| -> Value {
        serde_json::from_str(&ask(job, &["trace", "-", "--json"], 0).0).unwrap()
    };
    let (alone, staged) = (run(&alone), run(&staged));
    for key in ["time_s", "charge_c", "energy_j", "end_bath_k", "depth_m"] {
        assert!((n(&staged, key) / n(&alone, key) - 1.0).abs() < 1e-7, "{key}");
    }
    assert_eq!(staged["stages"].as_array().unwrap().len(), 3);
}

#[test]
fn a_stage_that_gives_out_ends_the_run_in_every_verb() {
    let weak = "[[stage]]\nkind = \"pack\"\ncell = \"LR6\"\nseries = 2\ncharge_left = \"10 %\"\n\
                until = \"0.2 mm\"\n";
    let job = fern_with(&[weak, PACK].concat());
    for verb in ["plan", "trace", "rest", "charge"] {
        ask(&job, &[verb, "-"], 1);
    }
    let value: Value = serde_json::from_str(&ask(&job, &["plan", "-", "--json"], 1).0).unwrap();
    assert_eq!(value["verdict"]["grade"], "does_not");
    assert_eq!(value["verdict"]["decides"], "empty");
    let page = ask(&job, &["plan", "-"], 1).0;
    let words: Vec<&str> = page.split_whitespace().collect();
    assert!(words.join(" ").contains("open tray, not reached"), "{page}");
}

#[test]
fn stages_are_checked() {
    let until = "until = \"15 min\"\n";
    for (tables, word) in [
        (ADAPTER.to_string(), "only one"),
        ([ADAPTER, PACK].concat(), "until"),
        ([ADAPTER, until, PACK, until].concat(), "leave it out"),
        ([ADAPTER, "until = \"half\"\n", PACK].concat(), "a time such as"),
        ([ADAPTER, "until = \"0.4 mm\"\n", PACK].concat(), "is not between"),
        (
            [ADAPTER, until, PACK, "[source]\nkind = \"supply\"\nvoltage = \"3 V\"\n"].concat(),
            "beside [[stage]]",
        ),
    ] {
        let err = ask(&fern_with(&tables), &["plan", "-"], 2).1;
        assert!(err.contains(word), "{tables}: {err}");
    }
}

#[test]
fn several_fit_the_pan_side_by_side_or_the_pan_that_would_take_them_is_said() {
    let fern = "data-demo/fern-pin.toml";
    // By hand, 42 mm by 28 mm in 150 mm by 100 mm with 25 mm between: (150 + 25)/(42 + 25) = 2
    // by (100 + 25)/(28 + 25) = 2; across (175)/(53) = 3 by 125/67 = 1. Four do.
    let page = common::answer(&["plan", fern, "--set", "piece.count=4"], 0);
    assert!(page.contains("4 pieces, each") && page.contains("a wire to each"), "{page}");
    let out = common::restbite(&["plan", fern, "--set", "piece.count=5"]);
    let err = String::from_utf8_lossy(&out.stderr);
    assert_eq!(out.status.code(), Some(2));
    assert!(err.contains("4 do, 2 by 2; allowed: fewer, or a pan such as"), "{err}");
    // And that pan takes them.
    let pan = err.trim().rsplit("such as ").next().unwrap();
    let (a, b) = pan.split_once(" by ").unwrap();
    let pan = format!("bath.pan={a} x {b}");
    let args = ["trace", fern, "--set", "piece.count=5", "--set", &pan, "--set", "bath.volume=2 L"];
    // It takes longer than the job allows, which is another matter.
    assert_ne!(common::restbite(&args).status.code(), Some(2), "{pan}");
    let page = common::answer(&["charge", fern, "--set", "piece.count=4"], 0);
    assert!(page.contains("batch of 4") || page.contains("batches of 4"), "{page}");
}

const UPRIGHT: [&str; 4] =
    ["bath.hung=upright", "bath.plate=80 mm x 40 mm", "bath.gap=20 mm", "bath.volume=700 mL"];

#[test]
fn upright_before_one_plate_is_face_down_on_its_side() {
    // The same distance and the same film: the bath's resistance is that of a sheet over a pan
    // (a plate wider than the sheet by the gap and more), the pan's area the plate's.
    let fern = "data-demo/fern-pin.toml";
    let upright = run(fern, &UPRIGHT);
    let down = run(fern, &["bath.gap=20 mm"]);
    assert!(
        (n(&upright, "bath_resistance_ohm") / n(&down, "bath_resistance_ohm") - 1.0).abs() < 1e-9
    );
    assert_eq!(upright["resolved"]["bath.cathode_area_m2"], 0.0032);
    // Between two plates, both faces bare: half the resistance, twice the area.
    let both = run(fern, &[&UPRIGHT[..], &["bath.plates=2"]].concat());
    let half = n(&both, "bath_resistance_ohm") / n(&upright, "bath_resistance_ohm");
    assert!((half - 0.5).abs() < 1e-9, "{half}");
    let area = |value: &Value| value["resolved"]["piece.exposed_area_m2"].as_f64().unwrap();
    assert!((area(&both) / area(&upright) - 2.0).abs() < 1e-9);
    // Metal is left for both: the floor of a face is half of what may go.
    let floor = both["resolved"]["piece.floor_m"].as_f64().unwrap();
    let own = down["resolved"]["piece.floor_m"].as_f64().unwrap();
    assert!((floor - 0.5 * (1.2e-3 + own)).abs() < 1e-12);
    let sets: Vec<&str> =
        UPRIGHT.iter().chain(&["bath.plates=2"]).flat_map(|s| ["--set", s]).collect();
    let page = common::answer(&[&["plan", fern][..], &sets].concat(), 0);
    assert!(page.contains("hangs upright, both faces bare"), "{page}");
    for verb in ["rest", "charge", "size"] {
        common::answer(&[&[verb, fern][..], &sets].concat(), 0);
    }
}

#[test]
fn an_upright_sheet_is_checked() {
    let fern = "data-demo/fern-pin.toml";
    for (set, word) in [
        ("bath.hung=sideways", "face down"),
        ("bath.volume=100 mL", "is not covered upright"),
        ("bath.gap=200 mm", "allowed: a gap at which they fit"),
        ("bath.plate=80", "a bare number"),
        ("piece.depth=0.7 mm", "from either side"),
        ("bath.plates=3", "1 to 2"),
    ] {
        let sets = UPRIGHT.iter().copied().chain(["bath.plates=2", set]);
        let sets: Vec<&str> = sets.flat_map(|s| ["--set", s]).collect();
        let out = common::restbite(&[&["plan", fern][..], &sets].concat());
        let err = String::from_utf8_lossy(&out.stderr);
        assert!(out.status.code() == Some(2) && err.contains(word), "{set}: {err}");
    }
    let out = common::restbite(&["plan", fern, "--set", "bath.plates=2"]);
    assert!(String::from_utf8_lossy(&out.stderr).contains("belongs to hung"));
}
