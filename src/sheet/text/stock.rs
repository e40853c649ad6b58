//! The stock on a terminal: shelves with a line for each entry, or one entry in full.

use super::page::{Page, WIDTH};
use crate::sheet::words::typeset::{JOINED, together};
use crate::stock::{Entry, Shelf};
use crate::units::say::{System, figures};
use serde_json::{Map, Value};
use std::fmt::Write;

/// Shelves that the whole list leaves to be asked for by name.
pub const ASKED_FOR: [&str; 5] = ["touch", "elements", "electrodes", "spread", "defaults"];

/// Shelves, an entry a line.
pub fn list(shelves: &[Shelf], whole: bool, u: System) -> String {
    let mut page = Page::default();
    for shelf in shelves.iter().filter(|s| !whole || !ASKED_FOR.contains(&s.kind)) {
        if !page.text.is_empty() {
            page.blank();
        }
        page.title(&format!("{}: {}", shelf.kind, shelf.title));
        let name = |e: &Entry| e.name.chars().count();
        let width = shelf.entries.iter().map(name).max().unwrap_or(0).min(30) + 2;
        for entry in &shelf.entries {
            hanging(&mut page, &entry.name, width, &gist(shelf.kind, entry, u));
        }
    }
    page.blank();
    if whole {
        page.lines(&format!("More kinds, asked for by name: {}.", ASKED_FOR.join(", ")));
    }
    page.lines("restbite stock NAME shows an entry in full, with the source of every number.");
    page.text
}

/// A name and its text, wrapped beside it.
fn hanging(page: &mut Page, name: &str, width: usize, text: &str) {
    let room = WIDTH.saturating_sub(width).max(20);
    for (n, line) in textwrap::wrap(&together(text), room).iter().enumerate() {
        let name = if n == 0 { name } else { "" };
        let line = line.replace(JOINED, " ");
        let _ = writeln!(page.text, "{}", format!("{name:<width$}{line}").trim_end());
    }
}

/// What is told of an entry on its line, by kind; before a number what leads it in.
const TOLD: [(&str, &[(&str, &str)]); 11] = [
    ("cells", &[("title", ""), ("nominal", ""), ("capacity", ""), ("max_temperature", "at most ")]),
    ("metals", &[("title", ""), ("density", ""), ("reason", "not to be etched: ")]),
    (
        "baths",
        &[
            ("title", ""),
            ("formula", ""),
            ("concentration_min", "from "),
            ("concentration_max", "to "),
        ],
    ),
    (
        "wires",
        &[
            ("r20", ""),
            ("outer_diameter", "outside "),
            ("resistance", ""),
            ("resistivity", ""),
            ("emissivity", "emissivity "),
        ],
    ),
    (
        "resists",
        &[
            ("begins", "begins to lift at "),
            ("sure", "has by "),
            ("max_temperature", "bears "),
            ("note", ""),
        ],
    ),
    ("holders", &[("title", ""), ("contact", "contacts "), ("exposed_share", "leaves open ")]),
    ("touch", &[("temperature", "")]),
    ("elements", &[("title", ""), ("molar_mass", ""), ("density", "")]),
    ("electrodes", &[("e0", ""), ("i0", "")]),
    ("spread", &[("title", ""), ("sd", ""), ("reason", "")]),
    ("defaults", &[("value", ""), ("title", "")]),
];

/// What an entry is, on a line.
fn gist(kind: &str, entry: &Entry, u: System) -> String {
    let told = TOLD.iter().find(|(k, _)| *k == kind).map_or(&[][..], |(_, keys)| keys);
    let mut text = String::new();
    if let Some(file) = &entry.file {
        text += &format!("(yours, {file})");
    }
    for (key, lead) in told {
        let said = match entry.data.get(*key) {
            Some(Value::String(said)) if *said != entry.name => said.clone(),
            Some(number) if number.get("certainty").is_some() => say(number, u),
            _ => continue,
        };
        let joined = matches!(*lead, "to " | "and ");
        text += match text.as_str() {
            "" => "",
            _ if joined => " ",
            _ => "; ",
        };
        text += &format!("{lead}{said}");
    }
    text
}

/// An entry in full.
pub fn entry(shelf: &Shelf, entry: &Entry, u: System) -> String {
    let mut page = Page::default();
    let title = entry.data.get("title").and_then(Value::as_str);
    page.title(&title.map_or(entry.name.clone(), |t| format!("{}: {t}", entry.name)));
    let origin = match (&entry.file, &entry.replaces) {
        (None, _) => "Built in.".to_string(),
        (Some(file), None) => format!("Yours, from {file}."),
        (Some(file), Some(old)) => format!("Yours, from {file}, instead of the one {old}."),
    };
    page.lines(&format!("Kind: {}. {origin}", shelf.kind));
    if !entry.aliases.is_empty() {
        page.lines(&format!("Also called {}.", entry.aliases.join(", ")));
    }
    let mut sources = Vec::new();
    if let Value::Object(data) = &entry.data {
        texts(&mut page, data);
        page.blank();
        section(&mut page, "", entry, data, &mut sources, u);
    }
    if !sources.is_empty() {
        page.title("Sources");
        for (n, source) in sources.iter().enumerate() {
            hanging(&mut page, &format!("[{}]", n + 1), 5, source);
        }
        page.blank();
        page.lines(
            "How sure: read, seen in a published page or data file; computed, worked out from such; \
             memory, recalled and not verified; judgement, chosen for the reason given; own, yours.",
        );
    }
    page.text
}

/// What is said in words.
fn texts(page: &mut Page, data: &Map<String, Value>) {
    for (key, value) in data.iter().filter(|(key, _)| *key != "title") {
        let text = match value {
            Value::String(text) => text.clone(),
            Value::Bool(yes) => (if *yes { "yes" } else { "no" }).to_string(),
            Value::Array(list) if !list.is_empty() && list.iter().all(Value::is_string) => {
                list.iter().filter_map(Value::as_str).collect::<Vec<_>>().join(", ")
            }
            Value::Array(list) => {
                let line = |v: &Value| {
                    Some(format!("{}: {}", v.get("main")?.as_str()?, v.get("reason")?.as_str()?))
                };
                let lines: Vec<String> = list.iter().filter_map(line).collect();
                if lines.is_empty() {
                    continue;
                }
                lines.join("; ")
            }
            _ => continue,
        };
        hanging(page, key, 15, &text);
    }
}

/// A table of the numbers of one part, and then its parts.
fn section<'a>(
    page: &mut Page,
    name: &str,
    entry: &Entry,
    data: &'a Map<String, Value>,
    sources: &mut Vec<&'a str>,
    u: System,
) {
    let mut rows = Rows::default();
    let full = |key: &str| if name.is_empty() { key.into() } else { format!("{name}.{key}") };
    let mut parts = Vec::new();
    for (key, value) in data {
        match value {
            Value::Object(map) if map.contains_key("certainty") => {
                rows.add(key, entry.words(&full(key)), value, sources, u);
            }
            Value::Object(map) => parts.push((key, map)),
            Value::Array(list) => {
                for item in list {
                    let Some(element) = item.get("element").and_then(Value::as_str) else {
                        continue;
                    };
                    let number = item.get("share").unwrap_or(item);
                    let words = entry.words(&full(key));
                    rows.add(&format!("{key} {element}"), words, number, sources, u);
                }
            }
            _ => {}
        }
    }
    if !rows.0.is_empty() {
        if !name.is_empty() {
            page.title(name);
        }
        rows.print(page);
        page.blank();
    }
    for (key, map) in parts {
        section(page, &full(key), entry, map, sources, u);
    }
}

/// Rows of numbers: key, value, certainty and source, and the words; a curve's pairs below.
#[derive(Default)]
struct Rows(Vec<([String; 3], String, Vec<String>)>);

impl Rows {
    fn add<'a>(
        &mut self,
        key: &str,
        words: &str,
        number: &'a Value,
        sources: &mut Vec<&'a str>,
        u: System,
    ) {
        let source = number["source"].as_str().unwrap_or_default();
        let at = sources.iter().position(|s| *s == source).unwrap_or_else(|| {
            sources.push(source);
            sources.len() - 1
        });
        let sure = number["certainty"].as_str().unwrap_or_default();
        let pair = |v: &Value| {
            let [x, y] = v.as_array()?.as_slice() else { return None };
            Some(format!("[{},{JOINED}{}]", plain(x.as_f64()?), plain(y.as_f64()?)))
        };
        let pairs = number["value"].as_array().map(|list| list.iter().filter_map(pair).collect());
        let cells = [key.to_string(), say(number, u), format!("{sure} [{}]", at + 1)];
        self.0.push((cells, words.to_string(), pairs.unwrap_or_default()));
    }

    fn print(&self, page: &mut Page) {
        let widest = |n: usize| self.0.iter().map(|r| r.0[n].chars().count()).max().unwrap_or(0);
        let (a, b, c) = (widest(0) + 2, widest(1) + 2, widest(2) + 2);
        for ([key, value, sure], words, pairs) in &self.0 {
            let head = format!("{key:<a$}{value:<b$}{sure:<c$}");
            hanging(page, &head, a + b + c, if words.is_empty() { " " } else { words });
            if !pairs.is_empty() {
                hanging(page, "", 2, &pairs.join(" "));
            }
        }
    }
}

/// A number with its unit, or what stands in its place.
fn say(number: &Value, u: System) -> String {
    let unit = number["unit"].as_str().unwrap_or_default();
    match &number["value"] {
        Value::Number(n) => {
            let x = n.as_f64().unwrap_or_default();
            match (u, unit) {
                (System::Imperial, "mm") => format!("{} in", figures(x / 25.4, 4)),
                (System::Imperial, "degC") => format!("{} degF", figures(x * 1.8 + 32.0, 4)),
                (System::Imperial, "A/cm2") => format!("{} A/in2", figures(x * 6.4516, 4)),
                (System::Imperial, "A/m2") => format!("{} A/in2", figures(x * 6.4516e-4, 4)),
                _ => format!("{} {unit}", plain(x)).trim_end().to_string(),
            }
        }
        Value::Array(list) => format!("{} pairs", list.len()),
        Value::Bool(yes) => yes.to_string(),
        other => other.as_str().unwrap_or_default().to_string(),
    }
}

/// A number as it was written, in powers of ten where it is very small or large.
fn plain(x: f64) -> String {
    let size = x.abs();
    if x != 0.0 && !(1e-4..1e7).contains(&size) { format!("{x:e}") } else { format!("{x}") }
}
