//! `stock` as a user meets it, and stock files of the user's own: what they change, which goes
//! before which, and what is said of wrong ones (`bad_stock/`, each with its whole message).

mod common;

use serde_json::Value;
use std::fs;
use std::path::Path;

const FERN: &str = "data-demo/fern-pin.toml";
/// A D cell of the user's own, with so many Ah.
fn own_cell(ah: f64) -> String {
    format!(
        "[[cell]]\nname = \"LR20\"\nlike = \"LR20\"\n\
         capacity = {{ is = \"{ah} Ah\", source = \"own measurement\" }}\n"
    )
}

#[test]
fn the_list_has_every_kind_and_its_lines_fit() {
    let all = common::answer(&["stock"], 0);
    for name in ["LR20", "sterling", "copper nitrate", "AWG 20", "0.75 mm2", "beeswax", "open tray"]
    {
        assert!(all.lines().any(|l| l.starts_with(name)), "{name}");
    }
    for kind in ["touch", "elements", "electrodes", "spread", "defaults"] {
        assert!(all.contains(kind), "{kind}");
        assert!(common::answer(&["stock", kind], 0).lines().count() > 3, "{kind}");
    }
    for args in [&["stock"][..], &["stock", "LR20"], &["stock", "brine"], &["stock", "defaults"]] {
        let text = common::answer(args, 0);
        assert!(text.lines().all(|l| l.chars().count() <= 80), "{args:?}: {text}");
        assert!(!text.contains('\u{1b}'), "{args:?}");
    }
    assert_eq!(common::answer(&["stock", "cell"], 0), common::answer(&["stock", "CELLS"], 0));
}

#[test]
fn an_entry_shows_every_number_with_its_source_in_any_spelling() {
    let page = common::answer(&["stock", "LR6"], 0);
    assert_eq!(page, common::answer(&["stock", "alkaline", "aa"], 0));
    let json = common::json(&["stock", "aa", "--json"], 0);
    assert_eq!(json["schema"], "restbite.stock/1");
    let entry = &json["cells"][0];
    assert_eq!(entry["origin"], "built-in");
    let numbers: Vec<(&String, &Value)> =
        entry.as_object().unwrap().iter().filter(|(_, v)| v.get("certainty").is_some()).collect();
    assert_eq!(numbers.len(), 22, "as many as its catalogue has");
    // Lines are broken at blanks and after hyphens.
    let flat = page.split_whitespace().collect::<String>();
    for (key, number) in numbers {
        let line = page.lines().find(|l| l.starts_with(&format!("{key} ")));
        let line = line.unwrap_or_else(|| panic!("{key} is not shown"));
        assert!(line.contains(number["certainty"].as_str().unwrap()), "{line}");
        let source = number["source"].as_str().unwrap();
        let source = source.split_whitespace().collect::<String>();
        assert!(flat.contains(&source), "{key}: {source}");
    }
}

#[test]
fn imperial_where_lengths_and_temperatures_are_shown() {
    let page = common::answer(&["stock", "LR20", "--units", "imperial"], 0);
    // NIST SP 811: 34.2 mm is 1.346 in; 54 degC is 129.2 degF.
    assert!(page.contains("1.346 in") && page.contains("129.2 degF"), "{page}");
    let numbers = page.split("Sources").next().unwrap();
    assert!(!numbers.contains(" mm ") && !numbers.contains("54 degC"), "{page}");
}

#[test]
fn what_is_not_in_stock_is_refused_with_the_nearest_name() {
    for (name, hint) in [("LR66", "\"LR6\""), ("sterlng", "\"sterling\""), ("cels", "\"cells\"")] {
        let out = common::restbite(&["stock", name]);
        let message = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{name}");
        assert!(out.stdout.is_empty());
        assert!(message.contains(&format!("did you mean {hint}?")), "{message}");
    }
}

#[test]
fn the_json_has_everything() {
    let all = common::json(&["stock", "--json"], 0);
    for kind in ["cells", "metals", "baths", "wires", "resists", "holders", "spread", "defaults"] {
        assert!(all[kind].as_array().is_some_and(|list| list.len() >= 3), "{kind}");
    }
    assert!(all["supplies"].is_null());
    let one = common::json(&["stock", "baths", "--json"], 0);
    assert_eq!(one["baths"], all["baths"]);
    assert!(one["cells"].is_null());
}

#[test]
fn defaults_are_those_that_a_job_gets() {
    let all = common::json(&["stock", "defaults", "--json"], 0);
    let of = |key: &str| {
        let list = all["defaults"].as_array().unwrap();
        let row = list.iter().find(|d| d["name"] == key).unwrap_or_else(|| panic!("{key}"));
        row["value"]["value"].clone()
    };
    let job = "[piece]\nmetal = \"copper\"\noutline = \"40 mm x 30 mm\"\nexposed = \"30 %\"\n\
               thickness = \"1 mm\"\ndepth = \"0.2 mm\"\n[bath]\nelectrolyte = \"copper nitrate\"\n\
               concentration = \"0.5 mol/L\"\nvolume = \"500 mL\"\npan = \"100 mm x 100 mm\"\n\
               gap = \"20 mm\"\n[source]\nkind = \"pack\"\ncell = \"LR20\"\n[leads]\n\
               wire = \"AWG 20\"\nlength = \"40 cm\"\n";
    let with = |sets: &[(&str, String)]| {
        let sets: Vec<String> = sets.iter().map(|(k, v)| format!("{k}={v}")).collect();
        let mut args = vec!["trace", "-", "--json", "--points", "2"];
        sets.iter().for_each(|s| args.extend(["--set", s]));
        let out = common::restbite_in(&common::root(), &args, job);
        let answer: Value = serde_json::from_slice(&out.stdout).unwrap_or_else(|_| {
            panic!("{}", String::from_utf8_lossy(&out.stderr));
        });
        (answer["resolved"].clone(), answer["findings"].clone())
    };
    let bare = with(&[]);
    let text = |key: &str| of(key).as_str().map_or_else(|| of(key).to_string(), str::to_string);
    let unit = |key: &str, unit: &str| format!("{} {unit}", of(key));
    let said = with(&[
        ("piece.detail", text("piece.detail")),
        ("piece.count", text("piece.count")),
        ("piece.etch_factor", text("piece.etch_factor")),
        ("piece.efficiency", unit("piece.efficiency", "%")),
        ("bath.stirred", text("bath.stirred")),
        ("bath.pan_metal", text("bath.pan_metal")),
        ("bath.dissolved_silver", unit("bath.dissolved_silver", "g/L")),
        (
            "bath.heat_capacity",
            format!("{} J/K", 500.0 * of("bath.heat_capacity").as_f64().unwrap()),
        ),
        ("bath.heat_loss", format!("{} W/K", 0.01 * of("bath.heat_loss").as_f64().unwrap())),
        ("bath.temperature", unit("room.temperature", "degC")),
        ("room.temperature", unit("room.temperature", "degC")),
        ("source.series", text("source.series")),
        ("source.parallel", text("source.parallel")),
        ("source.holder", text("source.holder")),
        ("source.charge_left", unit("source.charge_left", "%")),
        ("leads.clips", text("leads.clips")),
        ("leads.clip_resistance", unit("leads.clip_resistance", "mohm").replace("0.015 m", "15 m")),
        ("session.bench_time", unit("session.bench_time", "min")),
        ("session.fresh_bath", text("session.fresh_bath")),
        ("limits.time", unit("limits.time", "h")),
        ("limits.touch_temperature", unit("limits.touch_temperature", "degC")),
    ]);
    let near = |a: &Value, b: &Value| match (a.as_f64(), b.as_f64()) {
        (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs(),
        _ => a == b,
    };
    for (key, value) in bare.0.as_object().unwrap() {
        assert!(near(value, &said.0[key]), "{key}: {value} and {}", said.0[key]);
    }
    assert_eq!(bare.1, said.1);
    for (detail, key) in [("bold", "8.0"), ("medium", "4.0"), ("fine", "1.5")] {
        assert_eq!(of(&format!("piece.detail.{detail}")).to_string(), key);
        let drawn = with(&[("piece.detail", detail.into())]);
        let pitch = with(&[("piece.line_pitch", format!("{key} mm"))]);
        assert_eq!(drawn.0["bath.shape_factor_per_m"], pitch.0["bath.shape_factor_per_m"]);
    }
}

/// A folder with the fern pin and, where given, a stock file beside it.
fn workshop(stock: Option<&str>) -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    fs::copy(common::root().join(FERN), dir.path().join("fern.toml")).unwrap();
    if let Some(text) = stock {
        fs::write(dir.path().join("stock.toml"), text).unwrap();
    }
    dir
}

fn settings(text: &str) -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    fs::create_dir(dir.path().join("restbite")).unwrap();
    fs::write(dir.path().join("restbite/stock.toml"), text).unwrap();
    dir
}

fn capacity_ah(folder: &Path, args: &[&str], input: &str, settings: &Path) -> f64 {
    let args = [args, &["--json", "--points", "2"]].concat();
    let out = common::restbite_with(folder, &args, input, settings);
    let answer: Value = serde_json::from_slice(&out.stdout)
        .unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&out.stderr)));
    answer["resolved"]["source.cell.capacity_c"].as_f64().unwrap() / 3600.0
}

#[test]
fn beside_the_job_goes_before_the_settings_and_those_before_what_is_built_in() {
    let (here, none) = (workshop(Some(&own_cell(9.0))), workshop(None));
    let set = settings(&own_cell(7.0));
    let nothing = none.path().join("nothing");
    let fern = fs::read_to_string(common::root().join(FERN)).unwrap();
    let job = ["trace", "fern.toml"];
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} for {b}");
    near(capacity_ah(here.path(), &job, "", &nothing), 9.0);
    near(capacity_ah(here.path(), &job, "", set.path()), 9.0);
    near(capacity_ah(none.path(), &job, "", set.path()), 7.0);
    // A job on standard input has no folder.
    near(capacity_ah(here.path(), &["trace", "-"], &fern, set.path()), 7.0);
    let builtin = capacity_ah(here.path(), &["trace", "-"], &fern, &nothing);
    assert!(builtin > 9.5, "{builtin}");
    // The folder is the job's, not the one that the command is called in.
    let path = here.path().join("fern.toml");
    near(capacity_ah(none.path(), &["trace", path.to_str().unwrap()], "", set.path()), 9.0);
}

#[test]
fn every_verb_on_a_job_takes_the_stock_beside_it() {
    let mine = "[[cell]]\nname = \"bench D\"\nlike = \"LR20\"\n\
                r0 = { is = \"0.09 ohm\", source = \"own measurement\" }\n";
    let dir = workshop(Some(mine));
    let job = fs::read_to_string(dir.path().join("fern.toml")).unwrap();
    let job = job.replace("cell = \"LR20\"  ", "cell = \"bench D\"");
    fs::write(dir.path().join("fern.toml"), &job).unwrap();
    let day = "[[piece]]\njob = \"fern.toml\"\n[[source]]\nkind = \"pack\"\ncell = \"bench D\"\n\
               series = 3\n";
    fs::write(dir.path().join("day.toml"), day).unwrap();
    let sources = "[[source]]\nname = \"four\"\nkind = \"pack\"\ncell = \"bench D\"\nseries = 4\n";
    fs::write(dir.path().join("sources.toml"), sources).unwrap();
    for args in [
        &["plan", "fern.toml", "--draws", "20"][..],
        &["size", "fern.toml", "--set", "size.cells=[\"bench D\"]", "--set", "limits.cells=3"],
        &["trace", "fern.toml", "--points", "2"],
        &["charge", "fern.toml"],
        &["rest", "fern.toml"],
        &["compare", "fern.toml", "--source", "sources.toml"],
        &["day", "day.toml"],
    ] {
        let out = common::restbite_in(dir.path(), args, "");
        let message = String::from_utf8_lossy(&out.stderr);
        assert!(matches!(out.status.code(), Some(0 | 1)), "{args:?}: {message}");
    }
}

#[test]
fn the_readmes_stock_file_works() {
    let readme = fs::read_to_string(common::root().join("README.md")).unwrap();
    let block = readme.split("```toml\n").nth(1).unwrap().split("```").next().unwrap();
    let dir = workshop(Some(block));
    let sets = ["source.cell=bench D", "piece.metal=gilding metal", "piece.depth=0.2 mm"];
    let set: Vec<&str> = sets.iter().flat_map(|s| ["--set", s]).collect();
    let out = common::restbite_in(dir.path(), &[&["trace", "fern.toml"], &set[..]].concat(), "");
    assert_eq!(out.status.code(), Some(0), "{}", String::from_utf8_lossy(&out.stderr));
    let out = common::restbite_in(dir.path(), &["stock", "bench D"], "");
    assert!(String::from_utf8_lossy(&out.stdout).contains("15.2 Ah"));
}

#[test]
fn own_entries_are_marked_as_such() {
    let dir = workshop(Some(&own_cell(9.0)));
    let run = |args: &[&str]| {
        let out = common::restbite_in(dir.path(), args, "");
        assert_eq!(out.status.code(), Some(0), "{}", String::from_utf8_lossy(&out.stderr));
        String::from_utf8(out.stdout).unwrap()
    };
    let page = run(&["stock", "D"]);
    assert!(page.contains("Yours, from stock.toml, instead of the one built in."), "{page}");
    assert!(page.contains("own measurement") && page.contains("9 Ah"), "{page}");
    assert!(run(&["stock"]).contains("(yours, stock.toml)"));
    let json: Value = serde_json::from_str(&run(&["stock", "LR20", "--json"])).unwrap();
    assert_eq!(json["cells"][0]["origin"], "stock.toml");
    assert_eq!(json["cells"][0]["replaces"], "built in");
    assert_eq!(json["cells"][0]["capacity"]["certainty"], "own");
}

#[test]
fn every_wrong_stock_file_is_refused_with_its_message() {
    for args in [&["stock"][..], &["trace", "fern.toml"]] {
        common::refuses_each("bad_stock", 40, |path| {
            let dir = workshop(Some(&fs::read_to_string(path).unwrap()));
            common::restbite_in(dir.path(), args, "")
        });
    }
}
