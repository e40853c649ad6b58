//! The bench sheet as a file: well formed, whole, small, and nobody's text taken for markup.

mod common;

use roxmltree::{Document, Node, ParsingOptions};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

const FERN: &str = "data-demo/fern-pin.toml";
const DIAL: &str = "data-demo/moon-dial.toml";
const SUN: &str = "data-demo/sundial.toml";
/// As long as a title may be.
const WICKED: &str = "<script>alert(1)</script><img src=x onerror=a()>\"'&]]>";

/// The sheet of a job.
fn sheet(job: &str, more: &[&str], code: i32) -> String {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let args = [&["plan", job, "--draws", "100", "--out", out], more].concat();
    common::answer(&args, code);
    fs::read_to_string(folder.path().join("sheet.html")).unwrap()
}

fn parsed(text: &str) -> Document<'_> {
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    Document::parse_with_options(text, options).unwrap_or_else(|e| panic!("{e}"))
}

fn elements<'a, 'i>(doc: &'a Document<'i>, tag: &'a str) -> Vec<Node<'a, 'i>> {
    doc.descendants().filter(|n| n.tag_name().name() == tag).collect()
}

fn words(node: Node) -> String {
    let all: Vec<&str> =
        node.descendants().filter(Node::is_text).filter_map(|n| n.text()).collect();
    all.concat().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A few of each kind.
fn several() -> Vec<(&'static str, String)> {
    vec![
        ("cells", sheet(FERN, &[], 0)),
        ("cells, imperial", sheet(FERN, &["--units", "imperial"], 0)),
        ("supply", sheet(DIAL, &[], 0)),
        ("adapter", sheet(SUN, &[], 0)),
        ("out of time", sheet(FERN, &["--set", "limits.time=2 min"], 1)),
        ("refused", sheet(FERN, &["--set", "bath.electrolyte=brine"], 1)),
    ]
}

#[test]
fn well_formed_small_and_of_one_piece() {
    for (name, text) in several() {
        assert!(text.len() < 200_000, "{name}: {} bytes", text.len());
        let doc = parsed(&text);
        let html = doc.root_element();
        assert_eq!((html.tag_name().name(), html.attribute("lang")), ("html", Some("en")));
        for node in doc.descendants().filter(Node::is_element) {
            for a in node.attributes() {
                assert!(!a.value().contains("://"), "{name}: {}={}", a.name(), a.value());
                assert!(!a.name().starts_with("on"), "{name}: {}", a.name());
            }
        }
        let bare = text.replace("http://www.w3.org/1999/xhtml", "");
        let bare = bare.replace("http://www.w3.org/2000/svg", "");
        assert!(!bare.contains("://") && !bare.contains("@import"), "{name}");
        let mut ids = BTreeSet::new();
        for id in doc.descendants().filter_map(|n| n.attribute("id")) {
            assert!(ids.insert(id), "{name}: id {id} twice");
        }
        for node in doc.descendants() {
            if let Some(label) = node.attribute("aria-labelledby") {
                assert!(ids.contains(label), "{name}: {label}");
            }
        }
    }
}

#[test]
fn headings_tables_and_pictures_speak() {
    for (name, text) in several() {
        let doc = parsed(&text);
        let level = |n: &Node| match n.tag_name().name() {
            "h1" => Some(1),
            "h2" => Some(2),
            "h3" => Some(3),
            _ => None,
        };
        let levels: Vec<i32> = doc.descendants().filter_map(|n| level(&n)).collect();
        assert_eq!(levels[0], 1, "{name}");
        assert_eq!(levels.iter().filter(|l| **l == 1).count(), 1, "{name}");
        assert!(levels.windows(2).all(|w| w[1] <= w[0] + 1), "{name}: {levels:?}");
        for table in elements(&doc, "table") {
            let first = table.first_element_child().unwrap();
            assert_eq!(first.tag_name().name(), "caption", "{name}");
        }
        for head in elements(&doc, "th") {
            assert!(matches!(head.attribute("scope"), Some("col" | "row")), "{name}");
        }
        for svg in elements(&doc, "svg") {
            assert_eq!(svg.attribute("role"), Some("img"), "{name}");
            assert!(svg.attribute("aria-label").is_some_and(|l| l.len() > 10), "{name}");
            assert_eq!(svg.first_element_child().unwrap().tag_name().name(), "title", "{name}");
        }
        for input in elements(&doc, "input") {
            let label = input.ancestors().find(|a| a.tag_name().name() == "label").map(words);
            let named = input.attribute("aria-label").map(String::from).or(label);
            assert!(named.is_some_and(|l| !l.is_empty()), "{name}");
        }
    }
}

#[test]
fn the_parts_come_in_the_order_of_work() {
    let parts = |text: &str| -> Vec<String> {
        elements(&parsed(text), "h2").into_iter().map(words).collect()
    };
    let whole =
        ["Wire", "Set up", "Meter", "Look", "Stop", "Rest", "Watch", "How sure", "Over time"]
            .as_slice();
    for job in [FERN, DIAL, SUN] {
        let text = sheet(job, &[], 0);
        assert_eq!(parts(&text), whole, "{job}");
        let doc = parsed(&text);
        let details = elements(&doc, "details");
        // The faults and the numbers.
        assert_eq!(details.len(), 2);
        assert!(details.iter().all(|d| d.attribute("open").is_none()), "folded");
    }
    let late = sheet(FERN, &["--set", "limits.time=2 min"], 1);
    assert_eq!(parts(&late)[..2], ["Do not etch this as it is described", "Instead"]);
    assert!(!late.contains("id=\"look-1\""), "nothing to look for");
    // Too warm in one go, but not with rests: that is told, and the rest stands.
    let rests = ["--set", "limits.cell_temperature=23 degC", "--set", "limits.time=4 h"];
    let rested = parts(&sheet(FERN, &rests, 1));
    assert_eq!(rested[0], "Not in one go: rest in between");
    assert_eq!(rested[1..], *whole);
    let refused = sheet(FERN, &["--set", "bath.electrolyte=brine"], 1);
    assert_eq!(parts(&refused), ["Do not etch this as it is described"]);
    assert!(words(parsed(&refused).root_element()).contains("silver chloride"));
}

#[test]
fn what_would_do_instead_is_said_and_drawn() {
    let weak =
        ["--set", "source.cell=LR03", "--set", "source.series=1", "--set", "limits.time=25 min"];
    let text = sheet(FERN, &weak, 1);
    let doc = parsed(&text);
    let section = |class: &str| {
        let node =
            elements(&doc, "section").into_iter().find(|s| s.attribute("class") == Some(class));
        node.unwrap_or_else(|| panic!("no part {class}"))
    };
    assert!(words(section("barred")).contains("STOP"));
    let instead = section("instead");
    let told = words(instead);
    let plan = common::json(&[&["plan", FERN, "--json", "--draws", "100"][..], &weak].concat(), 1);
    let cell = plan["source"]["instead"]["cell"].as_str().unwrap_or("bench supply");
    assert!(told.contains(cell), "{cell}: {told}");
    assert!(instead.descendants().any(|n| n.attribute("class") == Some("wiring")));
    // A source that is driven hard is told so in the first lines.
    let hard = sheet(FERN, &["--set", "bath.gap=8 mm"], 0);
    let doc = parsed(&hard);
    let lead = elements(&doc, "p").into_iter().find(|p| p.attribute("class") == Some("lead"));
    assert!(words(lead.unwrap()).starts_with("Does it, driven hard"), "{hard}");
}

#[test]
fn every_look_is_there_with_a_box_and_room_to_write() {
    for job in [FERN, DIAL, SUN] {
        let plan = common::json(&["plan", job, "--json", "--draws", "100"], 0);
        let looks: Vec<String> = plan["checks"]
            .as_array()
            .unwrap()
            .iter()
            .map(|c| format!("{:.0}", c["at_s"].as_f64().unwrap()))
            .collect();
        let text = sheet(job, &[], 0);
        let doc = parsed(&text);
        let rows: Vec<Node> =
            elements(&doc, "tr").into_iter().filter(|r| r.has_attribute("data-at")).collect();
        let times: Vec<&str> = rows.iter().filter_map(|r| r.attribute("data-at")).collect();
        assert_eq!(times, looks, "{job}");
        for row in &rows {
            let kinds: Vec<_> = row.descendants().filter_map(|n| n.attribute("type")).collect();
            assert_eq!(kinds, ["checkbox", "text"], "{job}");
        }
        let clock = doc.descendants().find(|n| n.attribute("id") == Some("clock")).unwrap();
        assert!(clock.has_attribute("hidden"), "the clock waits for its script");
    }
}

#[test]
fn it_says_what_the_page_on_the_terminal_says() {
    for (job, units) in [(FERN, "metric"), (DIAL, "metric"), (SUN, "imperial")] {
        let flat = |text: &str| {
            let text = text.replace('\u{a0}', " ").replace("deg", "°").replace("mohm", "mΩ");
            let text = text.replace("cm2", "cm²").replace("in2", "in²").replace("mm2", "mm²");
            text.replace("in3", "in³")
                .replace("+-", "±")
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        };
        let args = ["plan", job, "--full", "--draws", "100", "--units", units];
        let page = flat(&common::answer(&args, 0));
        let html = sheet(job, &["--units", units], 0);
        let html = flat(&words(parsed(&html).root_element()));
        let mut said = 0;
        for label in
            ["Wire ", "Weigh ", "Current ", "Warmth ", "Metal ", "How sure ", "Charge ", "Source "]
        {
            let Some((_, rest)) = page.split_once(label) else { continue };
            let first = rest.split(". ").next().unwrap().trim_start();
            let first = first.split(", still").next().unwrap().split(", stirred").next().unwrap();
            assert!(html.contains(first), "{job} {label}: {first}\n{html}");
            said += 1;
        }
        assert!(said >= 6, "{job}: {said}");
    }
}

#[test]
fn salt_and_acid_are_weighed() {
    // 0.45 mol/L x 0.7 L x 241.60 and 232.60 g/mol with its water; 0.5 mol/L x 0.6 L x 249.69;
    // 1 mol/L x 0.6 L x 98.08 g/mol (IUPAC weights).
    let pin = sheet(FERN, &[], 0);
    for form in ["76\u{a0}g of Cu(NO3)2.3H2O", "73\u{a0}g of Cu(NO3)2.2.5H2O"] {
        assert!(pin.contains(form), "{form}: {pin}");
    }
    assert!(!pin.contains("dry salt"), "nobody sells that");
    let dial = sheet(DIAL, &[], 0);
    assert!(dial.contains("75\u{a0}g of CuSO4.5H2O"), "{dial}");
    assert!(dial.contains("59\u{a0}g of pure sulphuric acid (acid into water)"), "{dial}");
}

#[test]
fn a_users_text_is_never_markup() {
    let title = format!("title={}", toml::Value::from(WICKED));
    let cell = format!("source.cell={{ like = \"LR20\", name = {} }}", toml::Value::from(WICKED));
    let text = sheet(FERN, &["--set", &title, "--set", &cell], 0);
    let doc = parsed(&text);
    assert_eq!(elements(&doc, "script").len(), 1);
    assert!(elements(&doc, "img").is_empty());
    assert_eq!(words(elements(&doc, "h1")[0]), WICKED);
    assert!(!text.contains("<script>alert") && !text.contains("<img"));
    let labels = doc.descendants().filter_map(|n| n.attribute("aria-label"));
    assert!(labels.filter(|l| l.contains("<script>alert(1)</script>")).count() >= 1);
}

#[test]
fn inches_all_through() {
    for job in [FERN, SUN] {
        let text = sheet(job, &["--units", "imperial"], 0);
        let doc = parsed(&text);
        let body = elements(&doc, "body")[0];
        let mut told = words(body);
        for node in body.descendants() {
            for name in ["aria-label", "content"] {
                told += &format!(" {}", node.attribute(name).unwrap_or_default());
            }
        }
        // The sources' own words stay as they are.
        let quoted =
            doc.descendants().filter(|n| n.has_tag_name(("http://www.w3.org/1999/xhtml", "td")));
        let from = quoted.filter(|td| td.ancestors().any(|a| a.tag_name().name() == "details"));
        let quoted: Vec<String> =
            from.filter(|td| td.next_sibling_element().is_none()).map(words).collect();
        for text in quoted.iter().chain([&words(elements(&doc, "script")[0])]) {
            told = told.replace(text.as_str(), "");
        }
        let marks = |c: char| c.is_whitespace() || ",;:()".contains(c);
        for word in told.split(marks) {
            let word = word.trim_end_matches('.');
            let metric = ["mm", "cm", "cm²", "A/cm²", "°C", "degC", "mL", "A/cm2", "cm2"];
            assert!(!metric.contains(&word), "{job}: {word}");
        }
        assert!(told.contains("thou") && told.contains("°F"), "{job}");
    }
}

#[test]
fn every_number_used_is_there_with_its_source() {
    let plan = common::json(&["plan", FERN, "--json", "--draws", "100"], 0);
    let used = plan["resolved"].as_object().unwrap().values().filter(|v| !v.is_null()).count();
    let text = sheet(FERN, &[], 0);
    let doc = parsed(&text);
    let details = *elements(&doc, "details").last().unwrap();
    let rows: Vec<Node> = details
        .descendants()
        .filter(|n| n.tag_name().name() == "tbody")
        .flat_map(|body| body.children().filter(Node::is_element))
        .collect();
    assert_eq!(rows.len(), used);
    for row in rows {
        let cells: Vec<String> = row.children().filter(Node::is_element).map(words).collect();
        assert!(cells.len() == 3 && cells.iter().all(|c| !c.is_empty()), "{cells:?}");
    }
    for sure in ["(read)", "(recalled)", "(judged)", "(computed)"] {
        assert!(words(details).contains(sure), "{sure}");
    }
}

#[test]
fn plots_can_be_read_in_the_dark_too() {
    // CSS Filter Effects: invert(0.9) takes c to 0.9 - 0.8 c; hue-rotate(180deg) is the
    // matrix of that specification. WCAG 2.2, 1.4.3: 4.5.
    let text = sheet(FERN, &[], 0);
    assert!(text.contains("filter: invert(0.9) hue-rotate(180deg)"));
    let doc = parsed(&text);
    let dark = |[r, g, b]: [f64; 3]| {
        let [r, g, b] = [r, g, b].map(|c| 0.9 - 0.8 * c);
        let row = |a: f64, b0: f64, c: f64| (a * r + b0 * g + c * b).clamp(0.0, 1.0);
        [row(-0.574, 1.43, 0.144), row(0.426, 0.43, 0.144), row(0.426, 1.43, -0.856)]
    };
    let luminance = |c: [f64; 3]| {
        let [r, g, b] =
            c.map(|v| if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) });
        0.2126 * r + 0.7152 * g + 0.0722 * b
    };
    let paper = luminance(dark([1.0; 3]));
    let mut seen = BTreeSet::new();
    let plots = elements(&doc, "figure");
    let plots = plots.iter().filter(|f| f.attribute("class") == Some("plot"));
    for word in plots.flat_map(|p| p.descendants()).filter(|n| n.tag_name().name() == "text") {
        let hex = word.attribute("fill").unwrap();
        let channel = |n: usize| f64::from(u8::from_str_radix(&hex[n..n + 2], 16).unwrap()) / 255.0;
        let ink = luminance(dark([channel(1), channel(3), channel(5)]));
        let contrast = (ink.max(paper) + 0.05) / (ink.min(paper) + 0.05);
        assert!(contrast >= 4.5, "{hex}: {contrast:.2}");
        seen.insert(hex.to_string());
    }
    assert!(seen.len() >= 3, "{seen:?}");
}

#[test]
fn it_is_not_overwritten_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    fs::write(folder.path().join("sheet.html"), "mine").unwrap();
    let done = common::restbite(&["plan", FERN, "--out", out]);
    assert_eq!(done.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&done.stderr).contains("sheet.html"));
    assert_eq!(fs::read_to_string(folder.path().join("sheet.html")).unwrap(), "mine");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "and nothing beside it");
}

/// Where the numbers of a table are from, by their names, "the same" written out.
fn origins(text: &str, caption: &str) -> BTreeMap<String, String> {
    let doc = parsed(text);
    let titled =
        |n: &Node| n.descendants().any(|c| c.has_tag_name("caption") && words(c) == caption);
    let table = doc.descendants().find(|n| n.has_tag_name("table") && titled(n)).unwrap();
    let mut last = String::new();
    let rows = table.descendants().filter(|n| n.tag_name().name() == "tr").filter_map(|row| {
        let cells: Vec<Node> = row.children().filter(Node::is_element).collect();
        let from = words(*cells.get(2)?);
        if from != "the same" {
            last = from;
        }
        Some((words(cells[0]), last.clone()))
    });
    rows.collect()
}

#[test]
fn a_number_is_credited_with_its_own_source_alone() {
    const JOB: &str = "your job, or its default";
    // An alloy of the user's own under a title that is in stock too.
    let own = "piece.metal={ name = \"sterling silver 925\", density = \"10.2 g/cm3\", parts = [\
               { element = \"Ag\", share = \"92 %\" }, { element = \"Cu\", share = \"8 %\" }] }";
    let piece = origins(&sheet(FERN, &["--set", own], 0), "Piece");
    for number in ["mass share Ag", "mass share Cu", "density"] {
        assert_eq!(piece[number], JOB, "{number}");
    }
    assert_ne!(piece["molar mass Ag"], JOB, "the element's own is the stock's");
    let stock = origins(&sheet(FERN, &[], 0), "Piece");
    assert!(stock["density"].starts_with("technical data page"), "{}", stock["density"]);
    // A contact that happens to have the holder's resistance.
    let same = origins(&sheet(FERN, &["--set", "source.contact=60 mohm"], 0), "Source");
    assert_eq!(same["contact"], JOB);
    assert_ne!(origins(&sheet(FERN, &[], 0), "Source")["contact"], JOB);
    // A limit above the cell's own, which then holds.
    let high = ["--set", "limits.cell_temperature=90 degC"];
    let high = origins(&sheet(FERN, &high, 0), "Room, leads, limits");
    assert_ne!(high["limits cell temperature"], JOB);
    let low = ["--set", "limits.cell_temperature=50 degC"];
    let low = origins(&sheet(FERN, &low, 0), "Room, leads, limits");
    assert_eq!(low["limits cell temperature"], JOB);
}
