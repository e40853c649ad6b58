//! `day`: random days against a checker written from the rules alone, the demo as stored,
//! the calendar against RFC 5545, and day files that are wrong.

mod common;

use restbite::advice;
use restbite::job::resolve::{Factors, resolve};
use restbite::job::{Bytes, CheckedDay, Day, Files, Written, read_day};
use restbite::run::{Bench, PackState, Precision};
use restbite::sheet;
use restbite::stock::Stock;
use restbite::units::say::System;
use serde_json::Value;
use std::collections::HashMap;
use std::fmt::Write;
use std::fs;
use std::io::Cursor;
use std::path::Path;

const DEMO: &str = "data-demo/day.toml";

/// Two moments that are one, s.
const SAME_S: f64 = 1e-3;

/// A random number generator of its own: SplitMix64 (Steele, Lea and Flood, OOPSLA 2014;
/// constants from memory).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From `low` to `high`, both possible.
    fn from(&mut self, low: u64, high: u64) -> u64 {
        low + self.next() % (high - low + 1)
    }

    fn one<'a>(&mut self, list: &[&'a str]) -> &'a str {
        list[self.from(0, list.len() as u64 - 1) as usize]
    }
}

fn piece(dice: &mut Dice, n: u64, most: u64, text: &mut String) {
    let (metal, bath) = *[("sterling", "copper nitrate"), ("copper", "copper nitrate")]
        .get(dice.from(0, 1) as usize)
        .unwrap();
    let (exposed, depth) = (dice.from(15, 32), dice.from(4, 30));
    let warm = dice.from(0, 9) == 0;
    write!(
        text,
        "[[piece]]\nname = \"piece {n}\"\ncount = {}\n[piece.piece]\nmetal = \"{metal}\"\n\
         outline = \"40 mm x 28 mm\"\nexposed = \"{exposed} %\"\nthickness = \"1.2 mm\"\n\
         resist = \"packing tape\"\n         depth = \"0.{depth:02} mm\"\n[piece.bath]\nelectrolyte = \"{bath}\"\n\
         concentration = \"0.3 mol/L\"\nvolume = \"900 mL\"\npan = \"150 mm x 100 mm\"\n\
         gap = \"45 mm\"\n[piece.leads]\nwire = \"AWG 20\"\nlength = \"45 cm\"\n",
        dice.from(1, most)
    )
    .unwrap();
    if warm {
        text.push_str("[piece.limits]\ncell_temperature = \"22 degC\"\n");
    }
}

fn source(dice: &mut Dice, n: u64, text: &mut String) {
    write!(text, "[[source]]\nname = \"source {n}\"\n").unwrap();
    match dice.from(0, 4) {
        0 => write!(text, "kind = \"supply\"\nvoltage = \"2.{} V\"\n", dice.from(0, 9)),
        1 => write!(
            text,
            "kind = \"adapter\"\nopen_voltage = \"3.6 V\"\nseries_resistance = \"0.{} ohm\"\n",
            dice.from(5, 9)
        ),
        _ => write!(
            text,
            "kind = \"pack\"\ncell = \"{}\"\nseries = {}\ncharges = {}\ncharge_left = \"{} %\"\n",
            dice.one(&["LR20", "LR14", "HR6"]),
            dice.from(2, 3),
            dice.from(1, 3),
            if dice.from(0, 1) == 0 { dice.from(6, 20) } else { dice.from(20, 100) }
        ),
    }
    .unwrap();
}

fn random_day(seed: u64) -> String {
    let mut dice = Dice(seed);
    let mut text = format!("title = \"day {seed}\"\nstart = \"{}:30\"\n", dice.from(7, 10));
    for _ in 0..dice.from(0, 2) {
        let hour = dice.from(11, 13);
        let (from, to) = (dice.from(0, 29), dice.from(30, 59));
        write!(text, "[[break]]\nfrom = \"{hour}:{from:02}\"\nto = \"{hour}:{to:02}\"\n").unwrap();
    }
    if dice.from(0, 1) == 1 {
        write!(
            text,
            "[hands]\nhang_up = \"{} min\"\nlook = \"{} s\"\ntake_down = \"{} min\"\n",
            dice.from(2, 9),
            dice.from(30, 240),
            dice.from(1, 5)
        )
        .unwrap();
    }
    let kinds = dice.from(1, 3);
    for n in 1..=kinds {
        piece(&mut dice, n, if kinds < 3 { 2 } else { 1 }, &mut text);
    }
    for n in 1..=dice.from(1, 3) {
        source(&mut dice, n, &mut text);
    }
    text
}

fn read(text: &str, folder: &Path) -> Day {
    let stock = Stock::builtin().unwrap();
    let open = |path: &Path| {
        let job: Box<dyn Bytes> = Box::new(Cursor::new(fs::read(path)?));
        Ok(job)
    };
    let files = Files { folder, open: &open, ..Files::default() };
    let written = Written { text, name: "day.toml", files, sets: &[] };
    match read_day(&written, &stock) {
        Ok(CheckedDay::Day(day)) => *day,
        other => panic!("{other:?}\n{text}"),
    }
}

fn spans(value: &Value) -> Vec<(f64, f64)> {
    let span = |v: &Value| (v[0].as_f64().unwrap(), v[1].as_f64().unwrap());
    value.as_array().unwrap().iter().map(span).collect()
}

fn span(value: &Value, from: &str, to: &str) -> (f64, f64) {
    (value[from].as_f64().unwrap(), value[to].as_f64().unwrap())
}

/// No two of these meet, and each goes forward.
fn apart(what: &str, mut list: Vec<(f64, f64)>) {
    list.sort_by(|a, b| a.0.total_cmp(&b.0));
    assert!(list.iter().all(|(a, b)| b - a > -SAME_S), "{what}: {list:?}");
    assert!(list.windows(2).all(|w| w[1].0 >= w[0].1 - SAME_S), "{what}: {list:?}");
}

fn inside(t: f64, (from, to): (f64, f64)) -> bool {
    t > from + SAME_S && t < to - SAME_S
}

/// Every rule of a day, from its file and its answer alone.
fn check(day: &Day, answer: &Value) {
    let entries = answer["entries"].as_array().unwrap();
    let hands = answer["hands"].as_array().unwrap();
    let work: Vec<(f64, f64)> = hands.iter().map(|h| span(h, "start_s", "end_s")).collect();
    // One pair of hands, which does nothing in a break.
    apart("hands", [work.clone(), day.breaks.clone()].concat());
    let mut last = 0.0f64;
    for (n, kind) in day.pieces.iter().enumerate() {
        let mine: Vec<&Value> =
            entries.iter().filter(|e| e["piece"] == kind.name.as_str()).collect();
        assert_eq!(mine.len(), kind.count as usize, "piece {n} as often as asked");
        // One pan for each kind.
        let stays = mine.iter().map(|e| (start(&e["hang_up"]), end(&e["take_down"])));
        apart("pan", stays.collect());
    }
    for source in &day.sources {
        let mine = entries.iter().filter(|e| e["source"] == source.name.as_str());
        let mut busy: Vec<(f64, f64)> =
            mine.map(|e| (start(&e["hang_up"]), end(&e["take_down"]))).collect();
        let swaps: Vec<(f64, f64)> = hands
            .iter()
            .filter(|h| h["what"] == "swap" && h["source"] == source.name.as_str())
            .map(|h| span(h, "start_s", "end_s"))
            .collect();
        assert!(swaps.len() < source.charges as usize, "as many charges as are at hand");
        busy.extend(swaps);
        apart("source", busy);
    }
    for entry in entries {
        last = last.max(end(&entry["take_down"]));
        entry_keeps_the_rules(day, entry, hands);
    }
    let swaps = hands.iter().filter(|h| h["what"] == "swap").count();
    assert_eq!(answer["recharges"].as_array().unwrap().len(), swaps);
    assert!((answer["end_s"].as_f64().unwrap() - last).abs() < SAME_S);
    assert!(answer["lower_bound_s"].as_f64().unwrap() <= last + SAME_S, "{answer}");
}

fn start(value: &Value) -> f64 {
    value[0].as_f64().unwrap()
}

fn end(value: &Value) -> f64 {
    value[1].as_f64().unwrap()
}

fn entry_keeps_the_rules(day: &Day, entry: &Value, hands: &[Value]) {
    let on = spans(&entry["on"]);
    let looks: Vec<f64> =
        entry["looks_s"].as_array().unwrap().iter().map(|l| l.as_f64().unwrap()).collect();
    let (hung, down) = (&entry["hang_up"], &entry["take_down"]);
    apart("on", on.clone());
    assert!(on[0].0 >= end(hung) - SAME_S && start(hung) >= 0.0);
    assert!((on.last().unwrap().1 - start(down)).abs() < SAME_S, "the stop is the take-down");
    let times = &day.hands;
    assert!((end(hung) - start(hung) - times.hang_up_s).abs() < SAME_S);
    assert!((end(down) - start(down) - times.take_down_s).abs() < SAME_S);
    // Looks stand at ends of the current on, are in the hands' list, and last their time.
    let of_mine = |h: &&Value| h["piece"] == entry["piece"] && h["copy"] == entry["copy"];
    let mine: Vec<&Value> = hands.iter().filter(of_mine).collect();
    assert_eq!(mine.len(), looks.len() + 2);
    for look in &looks {
        assert!(on.iter().any(|(_, b)| (b - look).abs() < SAME_S), "{look} in {on:?}");
        let task = mine.iter().find(|h| h["what"] == "look" && h["start_s"] == *look).unwrap();
        let (a, b) = span(task, "start_s", "end_s");
        assert!((b - a - times.look_s).abs() < SAME_S);
        assert!(on.iter().all(|o| o.1 <= a + SAME_S || o.0 >= b - SAME_S), "current off");
    }
    // No more than 15 min of etching from look to look; from one to the next no more than
    // 15 min on the clock where the current is off only for the look.
    let mut marks = vec![on[0].0];
    marks.extend(&looks);
    marks.push(on.last().unwrap().1);
    for pair in marks.windows(2) {
        let etched: f64 = on.iter().map(|(a, b)| (b.min(pair[1]) - a.max(pair[0])).max(0.0)).sum();
        assert!(etched <= 900.0 + SAME_S, "{etched} s without a look");
        let whole = pair[1] - pair[0];
        if whole - etched <= times.look_s + SAME_S {
            assert!(whole <= 900.0 + SAME_S, "{whole} s from look to look");
        }
    }
    // The current is switched by hands that are not on a break or at other work.
    for moment in on.iter().flat_map(|(a, b)| [*a, *b]) {
        assert!(day.breaks.iter().all(|b| !inside(moment, *b)), "{moment} in a break");
        let others = hands.iter().map(|h| span(h, "start_s", "end_s"));
        assert!(others.into_iter().all(|w| !inside(moment, w)), "{moment} while at work");
    }
    let (depth, target) = (entry["depth_m"].as_f64().unwrap(), entry["target_m"].as_f64().unwrap());
    assert!((depth / target - 1.0).abs() < 1e-6, "{depth} of {target}");
}

/// Etches the whole answer again from its times alone, each pack going from piece to piece.
fn replay(day: &Day, answer: &Value, stock: &Stock) {
    let entries = answer["entries"].as_array().unwrap();
    for source in &day.sources {
        let mut left: Option<(PackState, f64)> = None;
        for entry in entries.iter().filter(|e| e["source"] == source.name.as_str()) {
            let kind = day.pieces.iter().find(|p| entry["piece"] == p.name.as_str()).unwrap();
            let mut setup = resolve(&kind.job, &source.source, stock, &Factors::default()).unwrap();
            let target = setup.piece.depth;
            // So that it does not stop of itself.
            setup.piece.depth *= 2.0;
            setup.piece.floor = None;
            let hung = end(&entry["hang_up"]);
            let swapped = answer["recharges"].as_array().unwrap().iter().any(|r| {
                let at = r["start_s"].as_f64().unwrap();
                r["source"] == source.name.as_str()
                    && left.is_some_and(|(_, since)| at >= since - SAME_S)
                    && at < hung
            });
            let mut bench = Bench::new(&setup, Precision { relative: 1e-7 });
            if let Some((pack, since)) = left.filter(|_| !swapped) {
                bench.set_pack_state(&pack);
                bench.off(hung - since).unwrap();
                bench.next_piece(true);
            }
            let mut now = hung;
            for (from, to) in spans(&entry["on"]) {
                bench.off(from - now).unwrap();
                let stop = bench.on(to - from).unwrap();
                assert_eq!(stop, None, "{entry}");
                now = to;
            }
            let depth = bench.depth_m();
            assert!((depth / target - 1.0).abs() < 1e-3, "{depth} of {target}: {entry}");
            let down = end(&entry["take_down"]);
            bench.off(down - now).unwrap();
            left = bench.pack_state().map(|pack| (pack, down));
        }
    }
}

/// The first look is no later than the plan of that piece on that source has it.
fn looks_as_planned(day: &Day, answer: &Value, stock: &Stock) {
    for entry in answer["entries"].as_array().unwrap() {
        let kind = day.pieces.iter().find(|p| entry["piece"] == p.name.as_str()).unwrap();
        let source = day.sources.iter().find(|s| entry["source"] == s.name.as_str()).unwrap();
        let mut job = (*kind.job).clone();
        job.source = Some(source.source.clone());
        let plan = advice::plan(&job, stock, 101, Default::default()).unwrap();
        let first = plan.looks.checks[0].at_s;
        if plan.looks.checks.len() > 1 {
            let look = entry["looks_s"][0].as_f64().unwrap();
            let on: f64 = spans(&entry["on"]).iter().map(|(a, b)| (b.min(look) - a).max(0.0)).sum();
            assert!(on <= first + SAME_S, "{on} s, planned {first} s");
        }
    }
}

#[test]
fn random_days_keep_every_rule() {
    let counts: Vec<HashMap<&str, usize>> = std::thread::scope(|scope| {
        let half = |first: u64| {
            move || {
                let stock = Stock::builtin().unwrap();
                let mut counts = HashMap::new();
                for seed in (first..200).step_by(2) {
                    let day = read(&random_day(seed), Path::new(""));
                    let plan = advice::day::day(&day, &stock).unwrap();
                    let answer = sheet::json::day(&day, &plan, System::Metric);
                    let mut count = |what| *counts.entry(what).or_default() += 1;
                    if !plan.done() {
                        count("not done");
                        assert!(!answer["reasons"].as_array().unwrap().is_empty());
                        continue;
                    }
                    count("done");
                    check(&day, &answer);
                    replay(&day, &answer, &stock);
                    if seed < 30 {
                        looks_as_planned(&day, &answer, &stock);
                    }
                    let some = |key: &str| {
                        let list = answer["entries"].as_array().unwrap();
                        list.iter().any(|e| !e[key].as_array().unwrap().is_empty())
                    };
                    if some("rests") {
                        count("with rests");
                    }
                    if some("waits") {
                        count("with waits");
                    }
                    if plan.recharges().next().is_some() {
                        count("with swaps");
                    }
                }
                counts
            }
        };
        let threads = [scope.spawn(half(0)), scope.spawn(half(1))];
        threads.map(|t| t.join().unwrap()).into()
    });
    let total = |what: &str| counts.iter().filter_map(|c| c.get(what)).sum::<usize>();
    println!("{counts:?}");
    assert_eq!(total("done") + total("not done"), 200);
    assert!(total("done") >= 100, "{counts:?}");
    assert!(total("with rests") >= 3 && total("with swaps") >= 5 && total("with waits") >= 20);
}

/// A day of the demo's jobs with more sources and pieces.
fn demo_with(text: &str) -> (Day, advice::day::DayPlan, Value) {
    let folder = common::root().join("data-demo");
    let day = read(text, &folder);
    let stock = Stock::builtin().unwrap();
    let plan = advice::day::day(&day, &stock).unwrap();
    let answer = sheet::json::day(&day, &plan, System::Metric);
    (day, plan, answer)
}

const BENCH: &str = "[[source]]\nname = \"a\"\nkind = \"pack\"\ncell = \"LR20\"\nseries = 3\n\
    charges = 2\n[[source]]\nname = \"b\"\nkind = \"supply\"\nvoltage = \"3.2 V\"\n\
    current_limit = \"1.3 A\"\n[[source]]\nname = \"c\"\nkind = \"supply\"\n\
    voltage = \"2.5 V\"\ncurrent_limit = \"1 A\"\n";

#[test]
fn a_long_day_goes_by_the_longest_first() {
    let text = "[[break]]\nfrom = \"12:30\"\nto = \"13:15\"\n\
        [[piece]]\njob = \"fern-pin.toml\"\ncount = 4\n[[piece]]\njob = \"moon-dial.toml\"\n\
        count = 2\n[[piece]]\njob = \"sundial.toml\"\ncount = 3\n";
    let (day, plan, answer) = demo_with(&format!("{text}{BENCH}"));
    assert_eq!(plan.method, advice::day::Method::Changes);
    check(&day, &answer);
    replay(&day, &answer, &Stock::builtin().unwrap());
}

#[test]
fn more_sources_end_the_day_sooner_and_breaks_later() {
    let kinds = ["fern-pin", "moon-dial", "sundial"];
    let all: String = kinds.map(|k| format!("[[piece]]\njob = \"{k}.toml\"\n")).concat();
    let ends = |text: &str| {
        let (_, plan, _) = demo_with(text);
        assert_eq!(plan.method, advice::day::Method::EveryOrder);
        plan.end_s.unwrap()
    };
    let three = ends(&format!("{all}{BENCH}"));
    let supply = BENCH.split("[[source]]").nth(2).unwrap();
    let one = ends(&format!("{all}[[source]]{supply}"));
    assert!(three < one, "{three} {one}");
    let pause = "[[break]]\nfrom = \"9:30\"\nto = \"10:15\"\n";
    let paused = ends(&format!("{pause}{all}[[source]]{supply}"));
    assert!(paused > one + 20.0 * 60.0 && paused < one + 70.0 * 60.0, "{one} {paused}");
}

#[test]
fn the_demo_day_is_as_stored() {
    common::each(["metric", "imperial"], |units| {
        let got = common::answer(&["day", DEMO, "--units", units], 0);
        assert!(got.lines().all(|l| l.chars().count() <= 80), "{got}");
        common::snapshot("data", &format!("day-{units}"), &got);
    });
    let text = fs::read_to_string(common::root().join(DEMO)).unwrap();
    assert!(text.contains("invented"));
}

#[test]
fn json_holds_what_the_contract_fixes() {
    let answer = common::json(&["day", DEMO, "--json"], 0);
    assert_eq!(answer["schema"], "restbite.day/1");
    for key in ["entries", "hands", "recharges"] {
        assert!(answer[key].is_array(), "{key}");
    }
    for key in ["end_s", "lower_bound_s"] {
        assert!(answer[key].is_number(), "{key}");
    }
    for entry in answer["entries"].as_array().unwrap() {
        assert!(entry["piece"].is_string() && entry["source"].is_string());
        assert!(entry["on"].is_array() && entry["looks_s"].is_array());
    }
    for task in answer["hands"].as_array().unwrap() {
        assert!(task["start_s"].is_number() && task["end_s"].is_number());
        assert!(task["what"].is_string());
    }
    let text = fs::read_to_string(common::root().join(DEMO)).unwrap();
    check(&read(&text, &common::root().join("data-demo")), &answer);
}

#[test]
fn what_cannot_be_done_says_why_and_what_would() {
    // One charge, all but empty, and nothing else.
    let low = "[[piece]]\njob = \"fern-pin.toml\"\ncount = 2\n[[source]]\nname = \"old cells\"\n\
        kind = \"pack\"\ncell = \"LR20\"\nseries = 3\ncharge_left = \"20 %\"\n";
    let folder = common::root().join("data-demo");
    for (text, code, words) in [
        (low.to_string(), "empty", &["1 of 2", "one more fresh charge"][..]),
        (low.replace("20 %", "2 %"), "empty", &["empty after", "restbite size"]),
        (low.replace("fern-pin", "moon-dial"), "own_current_density", &["your limit"]),
    ] {
        let out = common::restbite_in(&folder, &["day", "-"], &text);
        let page = String::from_utf8(out.stdout).unwrap().replace("\n          ", " ");
        assert_eq!(out.status.code(), Some(1), "{page}");
        assert!(words.iter().all(|w| page.contains(w)), "{page}");
        let out = common::restbite_in(&folder, &["day", "-", "--json"], &text);
        let answer: Value = serde_json::from_slice(&out.stdout).unwrap();
        assert_eq!(answer["reasons"][0]["code"], code);
        assert!(answer["end_s"].is_null() && answer["lower_bound_s"].is_null());
    }
    // Two charges do it.
    let two = low.replace("series = 3", "series = 3\ncharges = 2");
    let out = common::restbite_in(&folder, &["day", "-", "--json"], &two);
    let answer: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(answer["recharges"].as_array().unwrap().len(), 1, "{answer}");
    // Silver does not go with brine.
    let brine = fs::read_to_string(folder.join("fern-pin.toml")).unwrap();
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("fern-pin.toml"), brine.replace("copper nitrate", "brine")).unwrap();
    let out = common::restbite_in(dir.path(), &["day", "-", "--json"], low);
    let answer: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(
        (out.status.code(), &answer["reasons"][0]["code"]),
        (Some(1), &"metal and bath".into())
    );
}

#[test]
fn too_much_current_is_named_and_not_taken_for_heat() {
    // Cells in a closed box, which warm and push a little more as they do.
    let pin = fs::read_to_string(common::root().join("data-demo/fern-pin.toml")).unwrap();
    let limits = "time = \"3 h\"\ncurrent_density = \"0.401 A/cm2\"";
    let pin = pin.replace("time = \"45 min\"", limits);
    let (head, source) = pin.split_once("[source]").unwrap();
    let (_, tail) = source.split_once("\n[").unwrap();
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("pin.toml"), format!("{head}[{tail}")).unwrap();
    let text = "[[piece]]\njob = \"pin.toml\"\ncount = 2\n[[source]]\nname = \"one\"\n\
        kind = \"pack\"\ncell = \"IFR18650\"\nholder = \"closed box\"\n";
    let out = common::restbite_in(dir.path(), &["day", "-", "--json"], text);
    let answer: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(answer["reasons"][0]["code"], "own_current_density", "{answer}");
    let out = common::restbite_in(dir.path(), &["day", "-"], text);
    let page = String::from_utf8(out.stdout).unwrap().replace("\n          ", " ");
    assert!(page.contains("your limit is 0.401 A/cm2") && !page.contains("too hot"), "{page}");
}

#[test]
fn the_calendar_is_one() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().to_str().unwrap();
    let answer = common::json(&["day", DEMO, "--json", "--out", out], 0);
    let text = fs::read_to_string(dir.path().join("day.ics")).unwrap();
    assert!(text.ends_with("\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
    let lines: Vec<&str> = text.split_terminator("\r\n").collect();
    assert!(lines.iter().all(|l| l.len() <= 75), "{text}");
    let unfolded = text.replace("\r\n ", "");
    let mut open = Vec::new();
    for line in unfolded.split_terminator("\r\n") {
        let (name, value) = line.split_once(':').unwrap();
        match name {
            "BEGIN" => open.push(value),
            "END" => assert_eq!(open.pop(), Some(value)),
            _ => assert!(!open.is_empty(), "{line}"),
        }
        if matches!(name, "DTSTART" | "DTEND") {
            assert!(value.len() == 15 && value.starts_with("20261125T"), "{line}");
        }
    }
    assert!(open.is_empty());
    let count = |what: &str| unfolded.matches(what).count();
    let hands = answer["hands"].as_array().unwrap();
    let looks = hands.iter().filter(|h| h["what"] == "look").count();
    assert_eq!(count("BEGIN:VEVENT"), hands.len() + 1, "the hands' work and a break");
    assert_eq!(count("BEGIN:VALARM"), looks);
    let mut uids: Vec<&str> = unfolded.lines().filter(|l| l.starts_with("UID:")).collect();
    assert_eq!(uids.len(), count("BEGIN:VEVENT"));
    uids.sort_unstable();
    uids.dedup();
    assert_eq!(uids.len(), count("BEGIN:VEVENT"));
    assert_eq!(count("DTSTAMP:20261125T000000Z"), uids.len());
    for once in ["VERSION:2.0", "PRODID:"] {
        assert_eq!(count(once), 1);
    }
    // The time line, and the same files again.
    let svg = fs::read_to_string(dir.path().join("timeline.svg")).unwrap();
    let drawn = roxmltree::Document::parse(&svg).unwrap();
    assert!(drawn.root_element().attribute("viewBox").unwrap().starts_with("0 0 7200 "));
    for name in ["timeline.svg", "day.ics"] {
        let made = fs::read_to_string(dir.path().join(name)).unwrap();
        common::current(&format!("plots/{name}"), &made);
    }
    common::answer(&["day", DEMO, "--out", out, "--force"], 0);
    assert_eq!(fs::read_to_string(dir.path().join("day.ics")).unwrap(), text);
    assert_eq!(fs::read_to_string(dir.path().join("timeline.svg")).unwrap(), svg);
    assert_eq!(common::restbite(&["day", DEMO, "--out", out]).status.code(), Some(2));
}

#[test]
fn the_help_opens_with_an_example_that_works() {
    let help = common::answer(&["day", "--help"], 0);
    let line = help.lines().next().unwrap().strip_prefix("Example: restbite ").unwrap();
    common::answer(&line.split(' ').collect::<Vec<_>>(), 0);
}

#[test]
fn wrong_days_are_refused_with_place_and_remedy() {
    let folder = common::root().join("data-demo");
    let good = fs::read_to_string(folder.join("day.toml")).unwrap();
    let mut all = String::new();
    for (what, from, to) in [
        ("a start that is none", "start = \"9:00\"", "start = \"25:00\""),
        ("a start in words", "start = \"9:00\"", "start = \"nine\""),
        ("a date that is none", "2026-11-25", "2026-02-30"),
        ("a break backwards", "to = \"10:45\"", "to = \"10:05\""),
        ("a break without an end", "to = \"10:45\"", ""),
        ("a break before the start", "start = \"9:00\"", "start = \"11:00\""),
        ("hands without a unit", "look = \"2 min\"", "look = 2"),
        ("a look that takes too long", "look = \"2 min\"", "look = \"12 min\""),
        ("an unknown key of hands", "take_down = ", "take_dwon = "),
        ("a job that is not there", "\"fern-pin.toml\"", "\"fern-pim.toml\""),
        ("a job beside its tables", "count = 2", "count = 2\n[piece.bath]\n"),
        ("no job", "job = \"moon-dial.toml\"", ""),
        ("no pieces of it", "count = 2", "count = 0"),
        ("too many pieces", "count = 2", "count = 60"),
        ("charges of a supply", "current_limit = ", "charges = 2\ncurrent_limit = "),
        ("two sources of one name", "\"bench supply\"", "\"three D cells\""),
        ("a source of no kind", "kind = \"supply\"", "kind = \"suply\""),
        ("a key too many", "title = ", "tilte = "),
        ("not TOML", "[hands]", "[hands"),
        ("tables with a fault", "job = \"moon-dial.toml\"", "[piece.piece]\nmetal = \"copper\""),
    ] {
        let text = good.replacen(from, to, 1);
        assert_ne!(text, good, "{what}");
        let out = common::restbite_in(&folder, &["day", "-"], &text);
        let message = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{what}: {message}");
        assert!(out.stdout.is_empty() && !message.contains("panicked"), "{what}: {message}");
        assert!(message.contains("standard input:"), "{what}: {message}");
        write!(all, "{what}\n{message}\n").unwrap();
    }
    // A fault in a job's own file is told with that file's name.
    let dir = tempfile::tempdir().unwrap();
    for name in ["fern-pin.toml", "moon-dial.toml", "sundial.toml"] {
        let text = fs::read_to_string(folder.join(name)).unwrap();
        fs::write(dir.path().join(name), text.replace("thickness = \"18 ga\"", "thicknes = 1"))
            .unwrap();
    }
    let out = common::restbite_in(dir.path(), &["day", "-"], &good);
    write!(all, "a fault in a job's own file\n{}", String::from_utf8_lossy(&out.stderr)).unwrap();
    assert!(all.contains("moon-dial.toml:"));
    common::snapshot("data", "day-wrong", &all);
}

#[test]
fn pieces_of_one_name_are_told_apart() {
    let twice = "[[piece]]\njob = \"fern-pin.toml\"\n".repeat(2);
    let (day, _, answer) = demo_with(&format!("{twice}{BENCH}"));
    check(&day, &answer);
    assert_eq!(day.pieces[1].name, "Fern cloak pin (2)");
}

#[test]
fn a_day_may_hold_its_jobs_within() {
    let text = random_day(3);
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("day.toml"), &text).unwrap();
    let out = common::restbite_in(dir.path(), &["day", "day.toml", "--json"], "");
    assert!(matches!(out.status.code(), Some(0 | 1)), "{}", String::from_utf8_lossy(&out.stderr));
    // Unquoted, as TOML writes dates and times; and another time for the hands.
    let text = text.replacen("start", "date = 2026-11-25\nstart", 1);
    fs::write(dir.path().join("day.toml"), text).unwrap();
    let args =
        ["day", "day.toml", "--json", "--set", "start=08:00:00", "--set", "hands.look=3 min"];
    let out = common::restbite_in(dir.path(), &args, "");
    let answer: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!((&answer["start"], &answer["date"]), (&"8:00".into(), &"2026-11-25".into()));
}
