//! The verdict: what practice does is done, soft numbers are not judged as hard ones, and no
//! verdict contradicts its own chances.

mod common;
mod random;

use random::Dice;
use restbite::advice::spread::Sampling;
use restbite::advice::spread::options::chances;
use restbite::advice::{self, Bite, Broke, Case, Grade, Limit, Verdict};
use restbite::stock::Stock;
use serde_json::Value;

/// A set-up of common practice (no published source): cells in a holder, 4 cm2 bare of a silver
/// alloy, half-molar copper nitrate, a finger's width, packing tape, half a millimetre deep.
const PRACTICE: &str = r#"
title = "As benches do it"
[piece]
metal = "silver 935"
outline = "40 mm x 40 mm"
exposed = "25 %"
detail = "bold"
thickness = "1.2 mm"
depth = "0.5 mm"
resist = "packing tape"
[bath]
electrolyte = "copper nitrate"
concentration = "0.5 mol/L"
volume = "400 mL"
pan = "150 mm x 100 mm"
gap = "15 mm"
[source]
kind = "pack"
cell = "LR20"
series = 4
[leads]
wire = "AWG 22"
length = "45 cm"
"#;

fn asked(verb: &str, sets: &[&str]) -> (Value, Option<i32>) {
    // Enough to tell grades apart where none is near; `plan` alone takes a number.
    let mut args = vec![verb, "-", "--json"];
    if verb == "plan" {
        args.extend(["--draws", "300"]);
    }
    sets.iter().for_each(|s| args.extend(["--set", s]));
    let out = common::restbite_in(&common::root(), &args, PRACTICE);
    let told = String::from_utf8_lossy(&out.stderr).to_string();
    (serde_json::from_slice(&out.stdout).expect(&told), out.status.code())
}

fn page(sets: &[&str]) -> String {
    let mut args = vec!["plan", "-", "--draws", "300"];
    sets.iter().for_each(|s| args.extend(["--set", s]));
    String::from_utf8(common::restbite_in(&common::root(), &args, PRACTICE).stdout).unwrap()
}

#[test]
fn what_benches_do_is_done_driven_hard() {
    for cell in ["LR20", "LR14"] {
        for holder in ["closed box", "open tray"] {
            let sets = [&format!("source.cell={cell}")[..], &format!("source.holder={holder}")];
            let (plan, code) = asked("plan", &sets);
            assert_eq!(
                (plan["verdict"]["grade"].as_str(), code),
                (Some("hard"), Some(0)),
                "{sets:?}"
            );
            let minutes = plan["run"]["time_s"].as_f64().unwrap() / 60.0;
            assert!((10.0..20.0).contains(&minutes), "{sets:?}: {minutes} min");
            let text = page(&sets).replace('\n', " ");
            for words in ["Does it, driven hard", "may begin to lift after", "sludge on the pan"] {
                assert!(text.contains(words), "{words}: {text}");
            }
        }
    }
    // The smaller cell is too hot in one go, and does it with rests.
    for holder in ["closed box", "open tray"] {
        let sets = ["source.cell=LR6", &format!("source.holder={holder}")[..]];
        let (plan, code) = asked("plan", &sets);
        assert_eq!((plan["verdict"]["grade"].as_str(), code), (Some("does_not"), Some(1)));
        assert_eq!(plan["verdict"]["decides"], "hot");
        assert_eq!(asked("rest", &sets).1, Some(0), "rests mend it");
    }
    let weak = [
        "source={ kind = \"adapter\", open_voltage = \"3 V\", series_resistance = \"7 ohm\" }",
        "limits.time=2 h",
    ];
    let (plan, code) = asked("plan", &weak);
    assert_eq!((plan["verdict"]["decides"].as_str(), code), (Some("time"), Some(1)));
}

#[test]
fn verbs_judge_alike() {
    for sets in [&[][..], &["limits.time=5 min"], &["limits.time=30 min"], &["source.cell=LR6"]] {
        let (plan, code) = asked("plan", sets);
        for verb in ["trace", "charge"] {
            let (other, other_code) = asked(verb, sets);
            assert_eq!(other["verdict"]["grade"], plan["verdict"]["grade"], "{verb} {sets:?}");
            assert_eq!(other_code, code, "{verb} {sets:?}");
        }
        let stops = plan["findings"].as_array().unwrap().iter().any(|f| f["level"] == "stop");
        assert!(!stops || code == Some(1), "a STOP is no answer: {sets:?}");
    }
}

#[test]
fn a_standard_deviation_moves_a_grade_by_one_step_at_most() {
    let grade = |sets: &[&str]| {
        let mut args = vec!["plan", "-", "--json", "--draws", "300"];
        sets.iter().for_each(|s| args.extend(["--set", s]));
        let out = common::restbite_in(&common::root(), &args, PRACTICE);
        let plan: Value = serde_json::from_slice(&out.stdout).unwrap();
        match plan["verdict"]["grade"].as_str() {
            Some("does") => 0i32,
            Some("hard") => 1,
            _ => 2,
        }
    };
    for base in [&[][..], &["limits.time=19 min"], &["piece.depth=0.2 mm"]] {
        let at = grade(base);
        for moved in [
            "bath.gap=13.5 mm",
            "bath.gap=16.5 mm",
            "piece.exposed=23.8 %",
            "piece.exposed=26.3 %",
            "bath.conductivity=59 mS/cm",
            "bath.conductivity=72 mS/cm",
            "piece.efficiency=97 %",
        ] {
            let mut sets = base.to_vec();
            sets.push(moved);
            let there = grade(&sets);
            assert!((there - at).abs() <= 1, "{base:?} {moved}: {at} {there}");
        }
    }
}

#[test]
fn no_verdict_contradicts_its_chances() {
    let stock = Stock::builtin().unwrap();
    for seed in 0..40 {
        let job = random::job(&mut Dice::seeded(seed), &stock).read(&stock);
        let case = Case::of(&job, job.source.as_ref().unwrap(), &stock).unwrap();
        let held = advice::held(&case, None);
        let Some(chances) = chances(&case, None, Sampling { draws: 60, seed: 1 }).unwrap() else {
            continue;
        };
        let v = Verdict::of(&held, Some(chances.clone()));
        let strained = held.iter().any(|row| row.broken && row.limit.bite() == Bite::Strained);
        match v.grade {
            Grade::DoesNot => assert!(chances.firm > 0.5 || v.decides == Some(Limit::NoCurrent)),
            Grade::Does => assert!(chances.firm <= 0.1 && !strained),
            Grade::Hard => assert!(
                chances.firm <= 0.5 && (chances.firm > 0.1 || strained) || Broke::of(&held).firm()
            ),
        }
        // The chance of any is no less than of each, and no more than of all together.
        let each: Vec<f64> = Limit::ALL
            .into_iter()
            .filter(|limit| limit.firm())
            .map(|limit| chances.of_limit(limit))
            .collect();
        let most = each.iter().copied().fold(0.0, f64::max);
        assert!(chances.firm >= most && chances.firm <= each.iter().sum::<f64>() + 1e-12);
    }
}

#[test]
fn what_to_do_stands_in_the_first_twelve_lines_of_one_screen() {
    for sets in [
        &[][..],
        &["source.cell=LR14"],
        &["source.cell=LR6"],
        &["piece.depth=0.2 mm"],
        &["source.holder=closed box"],
        &["limits.time=5 min"],
        &["bath.stirred=true"],
        &["bath.gap=12 mm"],
        &["source={ kind = \"supply\", voltage = \"3 V\", current_limit = \"2 A\" }"],
        &["source={ kind = \"adapter\", open_voltage = \"5 V\", series_resistance = \"1 ohm\" }"],
    ] {
        let text = page(sets);
        let head: Vec<&str> = text.lines().take(12).collect();
        assert!(head.iter().any(|l| l.starts_with("Does ")), "{sets:?}: {text}");
        assert!(head.iter().any(|l| l.starts_with("Wire ")), "{sets:?}: {text}");
        assert!(text.lines().count() < 40, "{sets:?}: {} lines\n{text}", text.lines().count());
        for word in ["cyclic", "push back", "(bath.conductivity)"] {
            assert!(!text.contains(word), "{word}: {text}");
        }
    }
}
