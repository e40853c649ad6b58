//! Checks of the questions, their defaults, and the file that comes of them.

use super::*;
use crate::job::{Bytes, Checked};
use std::io::Cursor;
use std::path::Path;

fn stock() -> Stock {
    Stock::builtin().unwrap()
}

/// Answers every question: as `replies` say, otherwise with its default.
fn filled<'a>(stock: &'a Stock, replies: &[(&str, &str)]) -> Answers<'a> {
    let mut answers = Answers::new(stock, Files::default());
    while let Some(q) = answers.next() {
        let own = replies.iter().find(|(key, _)| *key == q.key).map(|(_, text)| (*text).into());
        let text: String = own.or_else(|| answers.default(q)).unwrap();
        answers.answer(q, &text).unwrap_or_else(|why| panic!("{}: {text}: {why}", q.key));
    }
    answers
}

fn job(text: &str, stock: &Stock) -> job::Job {
    let written = Written { text, name: "new", ..Written::default() };
    match job::read(&written, stock, job::Needs::Source).unwrap() {
        Checked::Job(job) => *job,
        Checked::Refused(why) => panic!("{why:?}"),
    }
}

#[test]
fn defaults_alone_make_a_job() {
    let stock = stock();
    let text = filled(&stock, &[]).file().unwrap();
    let job = job(&text, &stock);
    assert_eq!(job.title, "Fern cloak pin");
    assert!((job.piece.depth.is.si() - 0.35e-3).abs() < 1e-12);
    assert!(text.contains("volume = \"700 mL\""), "{text}");
    assert!(text.lines().all(|l| !l.contains(['{', '}'])), "{text}");
}

#[test]
fn every_kind_of_source_makes_a_job() {
    let stock = stock();
    for kind in ["pack", "supply", "Adapter"] {
        let text = filled(&stock, &[("source.kind", kind)]).file().unwrap();
        assert!(job(&text, &stock).source.is_some(), "{kind}");
    }
}

#[test]
fn what_a_new_job_says_is_escaped() {
    let stock = stock();
    for title in ["\"\"\" ''' \\ #", "a\tb\u{7f}\u{1}", "''", "x\" = {title|y} #", "3", "ferñ ☾"]
    {
        let text = filled(&stock, &[("title", title)]).file().unwrap();
        let table: toml::Table = text.parse().unwrap();
        assert_eq!(table["title"].as_str(), Some(title.trim()), "{text}");
    }
}

#[test]
fn every_key_that_is_off_is_a_key() {
    // Switched on one by one, except those of other kinds of source, they still make a job.
    let stock = stock();
    let text = filled(&stock, &[]).file().unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let mut tried = 0;
    for (n, line) in lines.iter().enumerate() {
        let Some((key, _)) = line.strip_prefix("# ").and_then(|l| l.split_once(" = ")) else {
            continue;
        };
        let other = ["kind", "voltage", "current_limit", "output_resistance", "profile"];
        let named = key.chars().all(|c| c.is_ascii_lowercase() || c == '_');
        if !named || other.contains(&key) || key.starts_with("artwork") || key.contains("ed_v") {
            continue;
        }
        if ["open_voltage", "rated_voltage", "rated_current"].contains(&key) {
            continue;
        }
        let mut on: Vec<String> = lines.iter().map(|l| (*l).to_string()).collect();
        on[n] = on[n][2..].to_string();
        if key == "conductivity_at" {
            on[n - 1] = on[n - 1][2..].to_string();
        }
        let head = (0..n).rev().find(|k| lines[*k].trim_start_matches("# ").starts_with('['));
        let head = head.unwrap();
        on[head] = on[head].trim_start_matches("# ").to_string();
        job(&on.join("\n"), &stock);
        tried += 1;
    }
    assert!(tried >= 18, "{tried}");
}

#[test]
fn a_wrong_answer_is_told_at_its_own_question() {
    let stock = stock();
    for (before, key, text, word) in [
        (&[][..], "piece.metal", "sterlin", "did you mean \"sterling\""),
        (&[], "piece.outline", "42 x 28", "two sides"),
        (&[], "piece.exposed", "140 %", "0.1 % to 100 %"),
        (&[], "piece.exposed", "nowhere.png", "cannot be opened"),
        (&[], "piece.thickness", "1.2", "a bare number"),
        (&[], "piece.thickness", "99 ga", "0 ga to 36 ga"),
        (&[], "piece.depth", "2 mm", "less than the thickness"),
        (&[], "bath.electrolyte", "salt", "not in stock"),
        (&[("bath.electrolyte", "acid copper sulphate")], "bath.concentration", "2 mol/L", "1 mol"),
        (&[], "bath.pan", "20 mm x 20 mm", "does not lie in a pan"),
        (&[], "bath.volume", "6 mL", "at least"),
        (&[], "bath.gap", "60 mm", "at most"),
        (&[], "source.kind", "dynamo", "allowed: \"pack\", \"supply\", \"adapter\""),
        (&[], "source.cell", "LR", "allowed: "),
        (&[], "source.series", "three", "a whole number"),
        (&[], "source.series", "90", "safe to touch"),
        (&[], "source.holder", "shoe box", "open tray"),
        (&[("source.kind", "supply")], "source.voltage", "3", "a voltage"),
        (&[("source.kind", "adapter")], "source.rated_voltage", "9 V", "less than open_voltage"),
        (&[], "leads.wire", "string", "wire"),
        (&[], "leads.length", "0.1 mm", "1 cm to 50 m"),
        (&[], "title", &"x".repeat(201), "too long"),
    ] {
        let mut answers = Answers::new(&stock, Files::default());
        let question = loop {
            let q = answers.next().unwrap_or_else(|| panic!("{key} is never asked"));
            if q.key == key {
                break q;
            }
            let own = before.iter().find(|(k, _)| *k == q.key).map(|(_, t)| (*t).to_string());
            let reply = own.or_else(|| answers.default(q)).unwrap();
            answers.answer(q, &reply).unwrap();
        };
        let why = answers.answer(question, text).unwrap_err();
        assert!(why.contains(word), "{key} = {text}: {why}");
        let default = answers.default(question).unwrap();
        answers.answer(question, &default).unwrap();
    }
}

#[test]
fn defaults_give_way_to_the_answers() {
    let stock = stock();
    let text = filled(
        &stock,
        &[
            ("piece.outline", "180 mm x 160 mm"),
            ("piece.thickness", "0.3 mm"),
            ("bath.volume", "900 mL"),
        ],
    );
    let text = text.file().unwrap();
    for line in ["depth = \"0.2 mm\"", "pan = \"250 mm x 200 mm\"", "gap = \"15 mm\""] {
        assert!(text.contains(line), "{line}: {text}");
    }
}

/// Reads a log beside a job of defaults.
fn log(text: &str, name: &str) -> Result<job::log::Log, String> {
    let stock = stock();
    let beside = filled(&stock, &[]).file().unwrap();
    let open = |_: &Path| {
        let job: Box<dyn Bytes> = Box::new(Cursor::new(beside.clone()));
        Ok(job)
    };
    // Every name is that job; of a bench file there is none.
    let files = Files { open: &open, beside: false, ..Files::default() };
    let written = Written { text, name, files, sets: &[] };
    job::log::read_log(&written, &stock).map_err(|wrong| wrong.to_string())
}

#[test]
fn a_log_not_filled_in_has_no_runs() {
    for (text, name) in [(log_toml(), "log.toml"), (log_csv(), "log.csv")] {
        let why = log(text, name).unwrap_err();
        assert!(why.contains("run: missing; needed: [[run]]"), "{name}: {why}");
    }
}

#[test]
fn the_examples_of_the_logs_can_be_learned_from() {
    let on = |line: &'static str| {
        line.strip_prefix("# ").filter(|l| l.starts_with('[') || l.contains(" = "))
    };
    let toml: Vec<&str> = log_toml().lines().map(|l| on(l).unwrap_or(l)).collect();
    let filled_in = log(&toml.join("\n"), "log.toml").unwrap();
    assert_eq!(filled_in.runs[0].readings.len(), 6);
    assert_eq!((filled_in.cell_trials.len(), filled_in.bath_trials.len()), (1, 1));
    let (notes, head) = log_csv().trim_end().rsplit_once('\n').unwrap();
    let rows =
        notes.lines().filter_map(|l| l.strip_prefix("# ").filter(|l| l.starts_with("first pin,")));
    let csv: Vec<&str> = [head].into_iter().chain(rows).collect();
    assert_eq!(log(&csv.join("\n"), "log.csv").unwrap().runs[0].readings.len(), 6);
}
