//! What the tests share: running the command, comparing with what is stored, and a setup
//! rebuilt from the `resolved` map alone.

#![allow(dead_code)] // each test file uses its part

use restbite::laws::anode::Anode;
use restbite::laws::cathode::{Hydrogen, Plating};
use restbite::laws::curve::Curve;
use restbite::laws::faraday::Constituent;
use restbite::laws::film::Film;
use restbite::laws::loose::Thresholds;
use restbite::laws::walls::Walls;
use restbite::laws::wells::Wells;
use restbite::run;
use serde_json::{Map, Value};
use std::fmt::Debug;
use std::fs;
use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// The project's folder.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Runs the command in `folder` with `input` on standard input.
pub fn restbite_in(folder: &Path, args: &[&str], input: &str) -> Output {
    restbite_with(folder, args, input, &root().join("no-such-folder"))
}

/// The same with a folder of settings.
pub fn restbite_with(folder: &Path, args: &[&str], input: &str, settings: &Path) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_restbite"))
        .args(args)
        .current_dir(folder)
        .env_remove("NO_COLOR")
        // A stock file of whoever runs the tests is no part of them.
        .env("XDG_CONFIG_HOME", settings)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts");
    // A command that refuses its line never reads, and closes the pipe.
    let _ = child.stdin.take().expect("piped").write_all(input.as_bytes());
    child.wait_with_output().expect("the command ends")
}

/// Runs the command in the project's folder.
pub fn restbite(args: &[&str]) -> Output {
    restbite_in(&root(), args, "")
}

/// Its standard output, for an exit code.
pub fn answer(args: &[&str], code: i32) -> String {
    let out = restbite(args);
    let err = String::from_utf8_lossy(&out.stderr);
    assert_eq!(out.status.code(), Some(code), "{args:?}: {err}");
    String::from_utf8(out.stdout).expect("UTF-8")
}

/// The JSON that a verb prints.
pub fn json(args: &[&str], code: i32) -> Value {
    serde_json::from_str(&answer(args, code)).expect("JSON")
}

/// Compares with `tests/{folder}/{name}.snap`.
pub fn snapshot(folder: &str, name: &str, got: &str) {
    // What the comparison passes over.
    assert!(!got.contains('\r') && got == format!("{}\n", got.trim()), "{name}: {got:?}");
    insta::with_settings!({
        snapshot_path => root().join("tests").join(folder),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(name, got) });
}

/// Checks every one, the rest too where one fails.
pub fn each<T: Debug>(all: impl IntoIterator<Item = T>, check: impl Fn(&T)) {
    let fails = |one: &T| catch_unwind(AssertUnwindSafe(|| check(one))).is_err();
    let failed: Vec<T> = all.into_iter().filter(fails).collect();
    assert!(failed.is_empty(), "failed, each as told above: {failed:#?}");
}

/// Wrong files: on each in `tests/{folder}` the command ends with exit code 2, nothing on
/// standard output, and the message of the snapshot beside it.
pub fn refuses_each(folder: &str, at_least: usize, run: impl Fn(&Path) -> Output) {
    let inside = root().join("tests").join(folder);
    let mut list: Vec<PathBuf> = fs::read_dir(&inside)
        .expect("the folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml" || e == "csv"))
        .collect();
    list.sort();
    assert!(list.len() >= at_least, "only {} files", list.len());
    let at = format!("{}{}", inside.display(), std::path::MAIN_SEPARATOR);
    each(list, |path| {
        let out = run(path);
        let message = String::from_utf8_lossy(&out.stderr).replace(&at, "");
        let refused = out.status.code() == Some(2) && out.stdout.is_empty();
        let told = !message.trim().is_empty() && !message.contains("panicked");
        assert!(refused && told, "{:?}: {message}", out.status.code());
        snapshot(folder, path.file_stem().and_then(|s| s.to_str()).expect("a name"), &message);
    });
}

/// Compares with a file that is kept for readers too, by its path in the project;
/// `INSTA_UPDATE=always` writes it anew, as it does snapshots.
pub fn current(path: &str, made: &str) {
    let file = root().join(path);
    if std::env::var("INSTA_UPDATE").is_ok_and(|update| update == "always") {
        fs::write(&file, made).expect("written");
    }
    assert!(fs::read_to_string(file).is_ok_and(|kept| kept == made), "{path} is old");
}

/// A setup from the `resolved` map alone, as the model page names its keys.
pub fn setup(map: &Map<String, Value>) -> run::Setup {
    let n = |key: &str| number(map, key);
    let symbols: Vec<&str> =
        map.keys().filter_map(|k| k.strip_prefix("piece.mass_share.")).collect();
    let parts = symbols.iter().map(|s| {
        let part = Constituent {
            mass_share: n(&format!("piece.mass_share.{s}")),
            molar_mass: n(&format!("piece.molar_mass_kg_per_mol.{s}")),
            valence: n(&format!("piece.valence.{s}")),
        };
        ((*s).to_string(), part)
    });
    run::Setup {
        then: None,
        piece: run::Piece {
            parts: parts.collect(),
            equivalent_weight: n("piece.equivalent_weight_kg_per_mol"),
            density: n("piece.density_kg_per_m3"),
            exposed_area: n("piece.exposed_area_m2"),
            efficiency: n("piece.current_efficiency"),
            depth: n("piece.depth_m"),
            begun: map.get("piece.begun_m").and_then(Value::as_f64).unwrap_or(0.0),
            thickness: n("piece.thickness_m"),
            floor: map["piece.floor_m"].as_f64(),
            resist_lifts: (n("piece.resist_begins_c_per_m2"), n("piece.resist_sure_c_per_m2")),
            walls: Walls { edge_per_m: n("piece.edge_per_m"), etch_factor: n("piece.etch_factor") },
        },
        bath: bath(map),
        source: source(map),
        leads: run::Leads { resistance: n("leads.resistance_ohm"), resistor: 0.0 },
        ambient_k: n("ambient_k"),
        time_limit_s: n("limits.time_s"),
    }
}

fn number(map: &Map<String, Value>, key: &str) -> f64 {
    map.get(key).and_then(Value::as_f64).unwrap_or_else(|| panic!("{key} is no number"))
}

fn text<'a>(map: &'a Map<String, Value>, key: &str) -> &'a str {
    map.get(key).and_then(Value::as_str).unwrap_or_else(|| panic!("{key} is no text"))
}

fn bath(map: &Map<String, Value>) -> run::Bath {
    let n = |key: &str| number(map, &format!("bath.{key}"));
    let species = text(map, "bath.anode.species").to_string();
    let metals = map.keys().filter_map(|k| k.strip_prefix("bath.cathode."));
    let metals = metals.filter_map(|k| k.strip_suffix(".c0_mol_per_m3"));
    let plating: Vec<run::PlatingMetal> = metals
        .map(|s| {
            let m = |key: &str| n(&format!("cathode.{s}.{key}"));
            let share = map.get(&format!("piece.charge_share.{s}")).and_then(Value::as_f64);
            run::PlatingMetal {
                symbol: s.to_string(),
                molar_mass: m("molar_mass_kg_per_mol"),
                law: Plating {
                    e0_v: m("e0_v"),
                    n: m("n"),
                    alpha: m("alpha"),
                    i0: m("i0_a_per_m2"),
                },
                film: film(map, &format!("bath.cathode.{s}")),
                of_bath: map[&format!("bath.cathode.{s}.of_bath")] == true,
                c0: m("c0_mol_per_m3"),
                mol_per_coulomb: share.map_or(0.0, |x| {
                    let valence = number(map, &format!("piece.valence.{s}"));
                    let f = restbite::laws::constants::FARADAY;
                    number(map, "piece.current_efficiency") * x / (valence * f)
                }),
            }
        })
        .collect();
    run::Bath {
        kappa25: n("kappa25_s_per_m"),
        kappa_beta: n("kappa_beta_per_k"),
        shape_factor: n("shape_factor_per_m"),
        anode: Anode {
            e0_v: n("anode.e0_v"),
            n: n("anode.n"),
            alpha: n("anode.alpha"),
            i0: n("anode.i0_a_per_m2"),
            charge_share: number(map, &format!("piece.charge_share.{species}")),
            film: film(map, "bath.anode"),
        },
        anode_index: plating.iter().position(|m| m.symbol == species).expect("the anode plates"),
        anode_species: species,
        plating,
        hydrogen: Hydrogen { i0: n("cathode.H2.i0_a_per_m2"), alpha: n("cathode.H2.alpha") },
        ph: n("ph"),
        transfer_beta: n("transfer_beta_per_k"),
        cathode_area: n("cathode_area_m2"),
        core_area: n("cathode.core_area_m2"),
        spread_area: n("cathode.spread_area_m2"),
        loose: Thresholds { from: n("cathode.loose_from"), all: n("cathode.loose_all") },
        rest_transfer: n("rest_transfer_m_per_s"),
        pan_is_copper: map["bath.pan_is_copper"] == true,
        volume: n("volume_m3"),
        reach: n("reach_m3"),
        solubility: map["bath.solubility_mol_per_m3"].as_f64(),
        heat_capacity: n("heat_capacity_j_per_k"),
        heat_loss: n("heat_loss_w_per_k"),
        temperature_k: n("temperature_k"),
        boil_k: number(map, "limits.boil_k"),
        freeze_k: number(map, "limits.freeze_k"),
    }
}

fn film(map: &Map<String, Value>, of: &str) -> Film {
    let m = |end: &str| number(map, &format!("{of}.{end}_transfer_m_per_s"));
    Film { free: m("free"), forced: m("forced") }
}

fn source(map: &Map<String, Value>) -> run::Source {
    let n = |key: &str| number(map, &format!("source.{key}"));
    match text(map, "source.kind") {
        "supply" => run::Source::Supply {
            set_v: n("set_v"),
            out_ohm: n("out_ohm"),
            limit_a: map["source.limit_a"].as_f64(),
            duty: map.get("source.duty").and_then(Value::as_f64).unwrap_or(1.0),
        },
        "adapter" => run::Source::Adapter {
            open_v: n("open_v"),
            series_ohm: n("series_ohm"),
            rated_a: map["source.rated_a"].as_f64(),
        },
        _ => run::Source::Pack(Box::new(run::Pack {
            series: n("series"),
            parallel: n("parallel"),
            charge_left: n("charge_left"),
            contact_ohm: n("contact_ohm"),
            exposed_share: n("exposed_share"),
            convection_factor: n("convection_factor"),
            temperature_limit_k: number(map, "limits.cell_temperature_k"),
            cell: cell(map),
        })),
    }
}

fn cell(map: &Map<String, Value>) -> run::Cell {
    let n = |key: &str| number(map, &format!("source.cell.{key}"));
    let curve = |key: &str| {
        let value = map[&format!("source.cell.{key}")].clone();
        Curve::new(serde_json::from_value(value).expect("pairs")).expect("a curve")
    };
    run::Cell {
        wells: Wells {
            capacity: n("capacity_c"),
            available_share: n("available_share"),
            rate: n("well_rate_per_s"),
        },
        ocv: curve("ocv_curve"),
        r0_curve: curve("r0_curve"),
        r0_ohm: n("r0_ohm"),
        r0_temp_k: n("r0_temp_k"),
        r1_ohm: n("r1_ohm"),
        c1_f: n("c1_f"),
        cutoff_v: n("cutoff_v"),
        cutoff_on: match text(map, "source.cell.cutoff_on") {
            "terminal" => run::CutoffOn::Terminal,
            _ => run::CutoffOn::Rested,
        },
        entropy: n("entropy_v_per_k"),
        core_j_per_k: n("core_j_per_k"),
        surface_j_per_k: n("surface_j_per_k"),
        core_to_surface: n("core_to_surface_k_per_w"),
        surface_m2: n("surface_m2"),
        emissivity: n("emissivity"),
        diameter: n("diameter_m"),
    }
}
