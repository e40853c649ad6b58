//! `--units imperial` leaves no metric length, area, volume or temperature in any page or
//! plot. Grams, volts, mol/L and mS/cm are the same in both, and a wire is named as the job
//! names it.

mod common;

use std::fs;
use std::path::Path;

const DEMOS: [&str; 3] =
    ["data-demo/fern-pin.toml", "data-demo/moon-dial.toml", "data-demo/sundial.toml"];

/// Metric units that may not stand as a word of their own.
const METRIC: [&str; 19] = [
    "mm", "mm2", "mm²", "cm", "cm2", "cm²", "m", "m2", "um", "µm", "A/cm2", "A/cm²", "A/m2", "mL",
    "L", "K", "degC", "°C", "kg",
];

/// The first metric word of a text.
fn metric(text: &str) -> Option<String> {
    // The moon dial's wire, as its job file names it.
    let text = text.replace('\u{a0}', " ").replace("0.75 mm²", "0.75 mm2");
    let text = text.replace("Leads of 0.75 mm2", "").replace("each 0.75 mm2", "");
    let ends = |c: char| c.is_whitespace() || "(),;:.\"\\".contains(c);
    let words: Vec<&str> = text.split(ends).filter(|w| !w.is_empty()).collect();
    let at = words.iter().position(|w| {
        let unit = w.trim_start_matches(|c: char| c.is_ascii_digit() || c == '/');
        METRIC.contains(w) || METRIC.contains(&unit)
    })?;
    Some(words[at.saturating_sub(5)..(at + 2).min(words.len())].join(" "))
}

/// Everything in a drawing that a person may read or hear.
fn readable(svg: &str) -> String {
    let document = roxmltree::Document::parse(svg).unwrap();
    let spoken = ["text", "tspan", "title", "desc"];
    let nodes = document.descendants().filter(|n| n.is_text());
    let nodes = nodes.filter(|n| n.parent().is_some_and(|p| spoken.contains(&p.tag_name().name())));
    nodes.filter_map(|n| n.text()).collect::<Vec<_>>().join("\n")
}

/// What a page in HTML says: nothing in tags, nothing of its looks, and not the words of the
/// sources that it cites.
fn without_tags(html: &str) -> String {
    let mut said = String::new();
    let mut rest = html;
    while let Some((before, after)) = rest.split_once('<') {
        said += before;
        said.push(' ');
        let quiet = ["style", "script", "cite"].into_iter().find(|name| after.starts_with(name));
        let end = quiet.map_or(">".to_string(), |name| format!("</{name}>"));
        rest = after.split_once(end.as_str()).map_or("", |(_, rest)| rest);
    }
    said + rest
}

/// Runs a verb in imperial units and looks through its page and its files.
fn checked(verb: &str, args: &[&str], dir: Option<&Path>) {
    let folder = dir.map(|d| d.join(verb).display().to_string());
    let mut all = [&[verb], args, &["--units", "imperial"]].concat();
    if let Some(folder) = &folder {
        all.extend(["--force", "--out", folder]);
    }
    let page = common::answer(&all, 0);
    assert_eq!(metric(&page), None, "{all:?}");
    let Some(folder) = folder else { return };
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap();
        let text = match path.extension().and_then(|e| e.to_str()) {
            Some("svg") => readable(&text),
            Some("html") => without_tags(&text),
            _ => text,
        };
        assert!(text.len() > 20, "{}", path.display());
        assert_eq!(metric(&text), None, "{}", path.display());
    }
}

#[test]
fn pages_and_plots_of_the_demos() {
    for demo in DEMOS {
        let dir = tempfile::tempdir().unwrap();
        checked("plan", &[demo, "--draws", "20"], Some(dir.path()));
        checked("rest", &[demo], Some(dir.path()));
    }
    checked("charge", &[DEMOS[0]], None);
    let dir = tempfile::tempdir().unwrap();
    checked("trace", &[DEMOS[1]], Some(dir.path()));
}

#[test]
fn sources_side_by_side_and_the_day() {
    let dir = tempfile::tempdir().unwrap();
    checked(
        "size",
        &[DEMOS[0], "--set", "size.cells=[\"LR20\", \"HR6\"]", "--chart"],
        Some(dir.path()),
    );
    checked("compare", &[DEMOS[0], "--source", "data-demo/sources.toml"], Some(dir.path()));
    checked("day", &["data-demo/day.toml"], Some(dir.path()));
}

#[test]
fn findings_of_jobs_gone_wrong() {
    for (demo, set, word) in [
        (DEMOS[0], "bath.gap=6 mm", "about 13 min; each minute more is 0.8 thou"),
        (DEMOS[0], "limits.time=5 min", "Out of time at 4.4 thou of 14 thou"),
        (DEMOS[0], "limits.cell_temperature=22 degC", "its limit of 72 degF"),
        (DEMOS[0], "piece.depth_tolerance=0.002 mm", "A tolerance of 0.079 thou"),
        (DEMOS[0], "source.cell=IFR18650", "18650 size"),
        (DEMOS[1], "piece.line_pitch=80 mm", "Lines 3.15 in apart"),
        (DEMOS[2], "bath.temperature=80 degC", "The bath comes to 176 degF"),
    ] {
        let args = ["plan", demo, "--full", "--units", "imperial", "--draws", "20", "--set", set];
        let page = String::from_utf8(common::restbite(&args).stdout).unwrap();
        let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(page.contains(word), "{set}: {page}");
        assert_eq!(metric(&page), None, "{set}");
    }
}

#[test]
fn a_metric_page_would_be_found_out() {
    for text in ["12 mm deep", "(0.35 mm)", "at 21 degC.", "4 cm2", "38 K", "1.4 L;", "5 A/cm2,"] {
        assert!(metric(text).is_some(), "{text}");
    }
    let page = "<style>p { margin: 3mm }</style><p style='width: 4 mm'>14 thou</p>";
    assert_eq!(metric(&without_tags(page)), None);
    assert!(metric(&without_tags("<p>at <b>4</b> mm</p>")).is_some());
    assert_eq!(metric("67 mS/cm, 0.5 mol/L, 1.3 g, 14 thou, 18 ga, 1.48 qt, LR20"), None);
}

#[test]
fn gauges_and_fluid_ounces() {
    let page = common::answer(&["plan", DEMOS[1], "--units", "imperial", "--draws", "20"], 0);
    // The job gives 18 ga: 0.0403 in by ASTM B258. 600 mL is 20.3 US fluid ounces.
    assert!(page.contains("18 ga sheet (40.3 thou)"), "{page}");
    assert!(page.contains("20.3 fl oz"), "{page}");
    // What it says, it reads.
    let same = ["piece.thickness=18 ga", "bath.volume=20.3 fl oz", "bath.gap=0.787 in"];
    let sets: Vec<&str> = same.iter().flat_map(|s| ["--set", s]).collect();
    common::answer(&[&["trace", DEMOS[1]], &sets[..]].concat(), 0);
}
