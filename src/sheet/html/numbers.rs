//! The numbers used, folded away: the resolved map with units, each with where it is from.

use super::mark::Markup;
use super::origin;
use crate::advice::Case;
use crate::job::resolve::{Origin, Row};
use crate::sheet::words::typeset::typeset;
use crate::units::say::{System, figures};
use serde_json::Value;

const GROUPS: [(&str, &str); 4] =
    [("piece", "Piece"), ("bath", "Bath"), ("source", "Source"), ("", "Room, leads, limits")];

/// The tables.
pub fn numbers(m: &mut Markup, case: &Case, u: System) {
    m.open("details", &[("class", "numbers")]);
    m.leaf("summary", &[], "Numbers used, and where they are from");
    let text = "Read: seen in a published page. Recalled: from memory, not verified. Judged: chosen, \
                for the reason given. Four figures; --json has them all.";
    m.said("p", &[], text);
    if let Some(text) = learned(case) {
        m.said("p", &[], &text);
    }
    for (group, title) in GROUPS {
        let named = GROUPS.map(|(name, _)| name);
        let here = |row: &&Row| {
            let first = row.name.split_once('.').map_or("", |(first, _)| first);
            let first = if named.contains(&first) { first } else { "" };
            first == group && !row.value.is_null()
        };
        table(m, title, case.rows.0.iter().filter(here), u);
    }
    m.close();
}

/// What a workshop profile has laid over the numbers; none without one.
fn learned(case: &Case) -> Option<String> {
    let profile = case.job.profile.as_ref()?;
    let rows = case.job.spread.0.iter().filter(|row| !row.own);
    let factors: Vec<String> = rows
        .filter_map(|row| {
            let k = profile.index(&row.key, case.job, &case.source)?;
            Some(format!("{} {}", row.title, figures(profile.factors[k].value, 3)))
        })
        .collect();
    let list =
        if factors.is_empty() { "none that touches this job".into() } else { factors.join(", ") };
    let (file, runs) = (&profile.file, profile.runs);
    Some(format!("Multiplied in already, from your workshop profile {file} ({runs} runs): {list}."))
}

fn table<'a>(m: &mut Markup, title: &str, rows: impl Iterator<Item = &'a Row>, u: System) {
    m.open("table", &[]);
    m.leaf("caption", &[], title);
    m.open("thead", &[]);
    m.open("tr", &[]);
    for head in ["Number", "Value", "From"] {
        m.leaf("th", &[("scope", "col")], head);
    }
    m.close();
    m.close();
    m.open("tbody", &[]);
    let mut last: Option<&Origin> = None;
    for row in rows {
        m.open("tr", &[]);
        m.said("th", &[("scope", "row")], &title_of(&row.name));
        m.said("td", &[], &said(row, u));
        // What is said of the row above is not said again.
        if last == Some(&row.origin) {
            m.said("td", &[], "the same");
        } else {
            m.open("td", &[]);
            m.said("cite", &[], &origin::words(&row.origin));
            m.close();
        }
        last = Some(&row.origin);
        m.close();
    }
    m.close();
    m.close();
}

/// "cell r0" of "source.cell.r0".
fn title_of(name: &str) -> String {
    let within = ["piece.", "bath.", "source."].iter().find_map(|g| name.strip_prefix(g));
    within.unwrap_or(name).replace(['.', '_'], " ")
}

fn said(row: &Row, u: System) -> String {
    match &row.value {
        Value::Number(number) => number.as_f64().map_or_else(String::new, |x| row.unit.said(x, u)),
        Value::String(text) => text.clone(),
        Value::Array(pairs) => pairs.iter().map(pair).collect::<Vec<_>>().join(", "),
        other => other.to_string(),
    }
}

/// "0.5: 1.2" of a point of a curve.
fn pair(point: &Value) -> String {
    let number = |n: usize| point.get(n).and_then(Value::as_f64).map(|x| figures(x, 4));
    match (number(0), number(1)) {
        (Some(x), Some(y)) => format!("{x}: {y}"),
        _ => typeset(&point.to_string()),
    }
}
