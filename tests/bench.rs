//! The bench file under a job, and the drawer that is chosen from.

mod common;

use serde_json::Value;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// A piece's job under a bench file: six lines.
const PIECE: &str = "[piece]\nmetal = \"sterling\"\noutline = \"42 mm x 28 mm\"\n\
                     exposed = \"38 %\"\nthickness = \"1.2 mm\"\ndepth = \"0.35 mm\"\n";
const BATH: &str = "[bath]\nelectrolyte = \"copper nitrate\"\nconcentration = \"0.5 mol/L\"\n\
                    volume = \"400 mL\"\npan = \"150 mm x 100 mm\"\ngap = \"12 mm\"\n";
const SOURCE: &str = "[source]\nkind = \"pack\"\ncell = \"LR20\"\nseries = 3\n";
const LEADS: &str = "[leads]\nwire = \"AWG 18\"\nlength = \"30 cm\"\n";
/// Eight AA and a supply of 3 A.
const DRAWER: &str = "[[drawer]]\ncell = \"AA\"\nhave = 8\n[[drawer]]\nname = \"grey supply\"\n\
                      voltage = \"30 V\"\ncurrent_limit = \"3 A\"\n";

fn folder(files: &[(&str, &str)]) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    folder
}

fn ask(folder: &Path, args: &[&str], code: i32) -> (String, String) {
    let out = common::restbite_with(folder, args, "", &folder.join("settings"));
    let (text, err) =
        (String::from_utf8(out.stdout).unwrap(), String::from_utf8(out.stderr).unwrap());
    assert_eq!(out.status.code(), Some(code), "{args:?}: {err}{text}");
    (text, err)
}

fn json(folder: &Path, args: &[&str], code: i32) -> Value {
    serde_json::from_str(&ask(folder, args, code).0).unwrap()
}

#[test]
fn six_lines_under_a_bench_file_are_a_whole_job() {
    let bench = [BATH, SOURCE, LEADS].concat();
    let there = folder(&[
        ("pin.toml", PIECE),
        ("bench.toml", &bench),
        ("whole/pin.toml", &[PIECE, &bench].concat()),
    ]);
    for verb in ["plan", "trace", "charge", "rest", "size"] {
        let mut under = json(there.path(), &[verb, "pin.toml", "--json"], 0);
        let whole = json(there.path(), &[verb, "whole/pin.toml", "--json"], 0);
        let told = under.as_object_mut().unwrap().remove("bench").expect("told");
        assert_eq!(told["file"], "bench.toml", "{verb}");
        let keys: Vec<&str> =
            told["keys"].as_array().unwrap().iter().map(|k| k.as_str().unwrap()).collect();
        assert_eq!(keys.len(), 10, "{keys:?}");
        assert!(keys.contains(&"bath.gap") && keys.contains(&"source.series"));
        assert_eq!(under, whole, "{verb}");
    }
    let page = ask(there.path(), &["plan", "pin.toml"], 0).0;
    assert!(page.contains("\nBench     bench.toml: bath, source, leads are from it"), "{page}");
    // And on the sheet every number says that it is.
    ask(there.path(), &["plan", "pin.toml", "--out", "sheet"], 0);
    let sheet = fs::read_to_string(there.path().join("sheet/sheet.html")).unwrap();
    assert!(sheet.contains(">bench.toml<"));
}

#[test]
fn a_jobs_own_key_and_an_override_go_before_the_bench() {
    let bench = [BATH, SOURCE, LEADS].concat();
    let job = [PIECE, "[bath]\ngap = \"9 mm\"\n"].concat();
    let there = folder(&[("pin.toml", &job), ("bench.toml", &bench)]);
    let gap = |args: &[&str]| {
        let all = [&["trace", "pin.toml", "--json"], args].concat();
        let answer = json(there.path(), &all, 0);
        let keys = answer["bench"]["keys"].to_string();
        (answer["resolved"]["bath.shape_factor_per_m"].as_f64().unwrap(), keys)
    };
    let (near, keys) = gap(&[]);
    assert!(!keys.contains("bath.gap") && keys.contains("bath.pan"));
    let (far, _) = gap(&["--set", "bath.gap=12 mm"]);
    assert!(far > near);
    // A source of the bench's may be changed by a key, one of the job's own replaces it.
    let four = json(there.path(), &["trace", "pin.toml", "--json", "--set", "source.series=4"], 0);
    assert_eq!(four["resolved"]["source.series"].as_f64(), Some(4.0));
}

#[test]
fn the_bench_of_the_settings_counts_where_none_is_beside() {
    let bench = [BATH, SOURCE, LEADS].concat();
    let there = folder(&[
        ("pin.toml", PIECE),
        ("settings/restbite/bench.toml", &bench),
        ("own/pin.toml", PIECE),
        ("own/bench.toml", &bench.replace("12 mm", "20 mm")),
    ]);
    let gap = |job: &str| {
        let answer = json(there.path(), &["trace", job, "--json"], 0);
        answer["resolved"]["bath.shape_factor_per_m"].as_f64().unwrap()
    };
    assert!(gap("own/pin.toml") > gap("pin.toml"));
    // A day and a log read their jobs as any verb does.
    fs::write(
        there.path().join("day.toml"),
        "[[piece]]\njob = \"pin.toml\"\n[[source]]\nname = \"a\"\nkind = \"pack\"\n\
         cell = \"LR20\"\nseries = 3\n",
    )
    .unwrap();
    ask(there.path(), &["day", "day.toml"], 0);
    // One on standard input has none beside it, but the settings are the user's.
    let out = common::restbite_with(
        &there.path().join("own"),
        &["trace", "-", "--json"],
        PIECE,
        &there.path().join("settings"),
    );
    let answer: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(answer["resolved"]["bath.shape_factor_per_m"].as_f64(), Some(gap("pin.toml")));
}

#[test]
fn what_is_wrong_in_a_bench_file_is_told_at_its_place() {
    for (bench, place, word) in [
        ("[piece]\ndepth = \"1 mm\"\n", "bench.toml:1:2", "belongs in a job"),
        ("[bath]\ngap = 12\n", "bench.toml:2:7", "a bare number"),
        ("[bath\n", "bench.toml:1", ""),
        ("[[drawer]]\ncell = \"AA\"\n", "bench.toml:1:1", "have"),
        ("[[drawer]]\nname = \"brick\"\n", "bench.toml:1:1", "open_voltage"),
        (
            "[[drawer]]\ncell = \"AA\"\nhave = 2\nvoltage = \"3 V\"\n",
            "bench.toml:4:1",
            "beside cell",
        ),
    ] {
        let whole = [PIECE, &BATH.replace("gap = \"12 mm\"\n", ""), SOURCE].concat();
        let there = folder(&[("pin.toml", &whole), ("bench.toml", bench)]);
        let err = ask(there.path(), &["plan", "pin.toml"], 2).1;
        assert!(err.contains(place) && err.contains(word), "{bench}: {err}");
    }
}

#[test]
fn the_drawer_is_asked_first() {
    let bench = [BATH, LEADS, DRAWER].concat();
    let there = folder(&[("pin.toml", PIECE), ("bench.toml", &bench)]);
    let answer = json(there.path(), &["size", "pin.toml", "--json"], 0);
    let options = answer["options"].as_array().unwrap();
    let owned = |n: &Value| options[n.as_u64().unwrap() as usize]["owned"].as_bool().unwrap();
    assert!(owned(&answer["chosen"]));
    for pick in ["soonest", "fewest", "gentlest"] {
        assert!(owned(&answer["picks"][pick]), "{pick}");
    }
    // Nothing that is not owned comes before something owned that does it.
    let places: Vec<bool> = options
        .iter()
        .filter(|o| o["feasible"] == true)
        .map(|o| o["owned"].as_bool().unwrap())
        .collect();
    let first_bought = places.iter().position(|owned| !owned).unwrap();
    assert!(places[first_bought..].iter().all(|owned| !owned), "{places:?}");
    // No more cells than there are, no more than the supply gives.
    for o in options.iter().filter(|o| o["owned"] == true) {
        let source = &o["source"];
        if source["kind"] == "pack" {
            assert_eq!(source["cell"], "LR6");
            let cells = source["series"].as_u64().unwrap() * source["parallel"].as_u64().unwrap();
            assert!(cells <= 8);
        } else {
            assert!(source["limit_a"].as_f64().unwrap() <= 3.0, "{source}");
        }
    }
    let page = ask(there.path(), &["size", "pin.toml"], 0).0;
    assert!(
        page.contains("(drawer: grey supply)") && page.contains("\nTo buy    not needed"),
        "{page}"
    );
    // Where nothing in it does, what to buy is told.
    let weak =
        [BATH, LEADS, "[[drawer]]\ncell = \"AA\"\nhave = 1\ncharge_left = \"1 %\"\n"].concat();
    fs::write(there.path().join("bench.toml"), weak).unwrap();
    let page = ask(there.path(), &["size", "pin.toml"], 0).0;
    assert!(page.contains("nothing in the drawer does it"), "{page}");
}

#[test]
fn chargers_and_adapters_as_their_labels_say() {
    let drawer = "[[drawer]]\nname = \"USB charger\"\nrated_voltage = \"5 V\"\n\
                  rated_current = \"2 A\"\n[[drawer]]\nname = \"old adapter\"\n\
                  open_voltage = \"9 V\"\nrated_voltage = \"6 V\"\nrated_current = \"1 A\"\n";
    let bench = [BATH, LEADS, drawer].concat();
    let there = folder(&[("pin.toml", PIECE), ("bench.toml", &bench)]);
    let answer = json(there.path(), &["size", "pin.toml", "--json"], 0);
    let adapters: Vec<(f64, f64)> = answer["options"]
        .as_array()
        .unwrap()
        .iter()
        .map(|o| &o["source"])
        .filter(|s| s["kind"] == "adapter")
        .map(|s| (s["open_v"].as_f64().unwrap(), s["series_ohm"].as_f64().unwrap()))
        .collect();
    // By hand: a charger sags by a twentieth, 0.25 V at 2 A; the adapter by 3 V at 1 A.
    assert!(adapters.contains(&(5.0, 0.125)) && adapters.contains(&(9.0, 3.0)), "{adapters:?}");
}

#[test]
fn labels_and_lots_are_told_apart() {
    // A label's numbers are a thing as it is, whatever it is called; a supply is credited with its
    // own volts and amperes alone; two lots of one cell by what is left in them.
    let drawer = "[[drawer]]\nname = \"phone plug\"\nvoltage = \"5 V\"\ncurrent_limit = \"2 A\"\n\
                  [[drawer]]\nname = \"psu\"\nvoltage = \"30 V\"\ncurrent_limit = \"300 mA\"\n\
                  [[drawer]]\ncell = \"D\"\nhave = 4\ncharge_left = \"30 %\"\n\
                  [[drawer]]\ncell = \"D\"\nhave = 4\n";
    let there = folder(&[("pin.toml", PIECE), ("bench.toml", &[BATH, LEADS, drawer].concat())]);
    let answer = json(there.path(), &["size", "pin.toml", "--json"], 0);
    let options = answer["options"].as_array().unwrap();
    let owned = |kind: &str| -> Vec<&Value> {
        let of = |o: &&Value| o["owned"] == true && o["source"]["kind"] == kind;
        options.iter().filter(of).map(|o| &o["source"]).collect()
    };
    assert_eq!(owned("adapter").len(), 1);
    assert!(owned("supply").iter().all(|s| s["limit_a"].as_f64().unwrap() <= 0.3));
    let page = ask(there.path(), &["compare", "pin.toml"], 0).0;
    assert!(page.contains("LR20, 30 % left") && page.contains("\nLR20:"), "{page}");
}

#[test]
fn a_piece_begun_before_goes_on_from_there() {
    let fern = "data-demo/fern-pin.toml";
    let run = |sets: &[&str]| {
        let sets: Vec<&str> = sets.iter().flat_map(|s| ["--set", s]).collect();
        common::json(&[&["trace", fern, "--json"][..], &sets].concat(), 0)
    };
    let (whole, rest) = (run(&[]), run(&["piece.begun=0.12 mm"]));
    let n = |value: &Value, key: &str| value["run"][key].as_f64().unwrap();
    assert!((n(&rest, "depth_m") / 0.35e-3 - 1.0).abs() < 1e-9);
    assert_eq!(rest["depth_m"][0], 0.12e-3);
    // By hand: the charge is what the rest of the depth is worth.
    let share = (n(&whole, "charge_depth_m") - rest["charge_depth_m"][0].as_f64().unwrap())
        / n(&whole, "charge_depth_m");
    assert!((n(&rest, "charge_c") / n(&whole, "charge_c") / share - 1.0).abs() < 1e-6);
    for verb in ["plan", "rest", "charge", "size"] {
        common::answer(&[verb, fern, "--set", "piece.begun=0.12 mm"], 0);
    }
    let page = common::answer(&["plan", fern, "--set", "piece.begun=0.12 mm"], 0);
    assert!(page.contains("0.12 mm of that done already"), "{page}");
    let out = common::restbite(&["plan", fern, "--set", "piece.begun=0.4 mm"]);
    assert_eq!(out.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&out.stderr).contains("already has its depth"));
}

#[test]
fn new_asks_for_the_bench_once_and_then_for_the_piece_alone() {
    let there = folder(&[("settings/none", "")]);
    ask(there.path(), &["new", "--bench", "--yes"], 0);
    let bench = fs::read_to_string(there.path().join("bench.toml")).unwrap();
    assert!(
        !bench.contains("[piece]") && bench.contains("[bath]") && bench.contains("# [[drawer]]")
    );
    // Every question about a piece, and no other.
    let answers = "My leaf\ncopper\n30 mm x 20 mm\n40 %\n\n1 mm\n0.3 mm\n";
    let out = common::restbite_with(
        there.path(),
        &["new", "leaf.toml"],
        answers,
        &there.path().join("settings"),
    );
    assert_eq!(out.status.code(), Some(0), "{}", String::from_utf8_lossy(&out.stderr));
    let leaf = fs::read_to_string(there.path().join("leaf.toml")).unwrap();
    assert!(leaf.contains("metal = \"copper\"") && !leaf.contains("[bath]"), "{leaf}");
    let page = ask(there.path(), &["plan", "leaf.toml"], 0).0;
    assert!(page.starts_with("My leaf") && page.contains("Bench     bench.toml"), "{page}");
    // Its examples, switched on, are a bench file too.
    let on = bench.replace("# [[drawer]]", "[[drawer]]");
    let on: Vec<String> = on
        .lines()
        .map(|l| match l.strip_prefix("# ") {
            Some(rest) if rest.contains(" = \"") || rest.starts_with("have") => {
                let after = on.find("[[drawer]]").unwrap();
                if on.find(l).unwrap() > after { rest.to_string() } else { l.to_string() }
            }
            _ => l.to_string(),
        })
        .collect();
    fs::write(there.path().join("bench.toml"), on.join("\n")).unwrap();
    let page = ask(there.path(), &["size", "leaf.toml"], 0).0;
    assert!(page.contains("(drawer: "), "{page}");
}

#[test]
fn compare_and_day_ask_the_drawer_too() {
    let bench = [BATH, LEADS, DRAWER].concat();
    let there = folder(&[
        ("pin.toml", PIECE),
        ("bench.toml", &bench),
        ("day.toml", "[[piece]]\njob = \"pin.toml\"\ncount = 2\n"),
    ]);
    let side = json(there.path(), &["compare", "pin.toml", "--json"], 0);
    let kinds: Vec<&str> = side["options"]
        .as_array()
        .unwrap()
        .iter()
        .map(|o| o["source"]["kind"].as_str().unwrap())
        .collect();
    assert_eq!(kinds, ["pack", "supply"]);
    let day = json(there.path(), &["day", "day.toml", "--json"], 0);
    assert_eq!(day["entries"].as_array().unwrap().len(), 2);
    for entry in day["entries"].as_array().unwrap() {
        let source = entry["source"].as_str().unwrap();
        assert!(["LR6", "grey supply"].contains(&source), "{entry}");
    }
    // Without a drawer the old complaints.
    fs::write(there.path().join("bench.toml"), [BATH, LEADS].concat()).unwrap();
    assert!(ask(there.path(), &["day", "day.toml"], 2).1.contains("source: missing"));
    assert!(ask(there.path(), &["compare", "pin.toml"], 2).1.contains("source: missing"));
}
