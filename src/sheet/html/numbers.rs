//! The numbers used, folded away: the resolved map with units, each with where it is from.

use super::mark::Markup;
use super::origin::{Origin, origin};
use crate::advice::Case;
use crate::run::resolved;
use crate::sheet::words::typeset::typeset;
use crate::stock::Stock;
use crate::units::keyed;
use crate::units::say::{System, figures};
use serde_json::Value;

const GROUPS: [(&str, &str); 4] =
    [("piece", "Piece"), ("bath", "Bath"), ("source", "Source"), ("", "Room, leads, limits")];

/// The tables.
pub fn numbers(m: &mut Markup, case: &Case, stock: &Stock, u: System) {
    let map = resolved(&case.setup);
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
        let rows: Vec<(&String, &Value)> = map
            .iter()
            .filter(|(key, value)| {
                let first = key.split_once('.').map_or("", |(first, _)| first);
                let first = if named.contains(&first) { first } else { "" };
                first == group && !value.is_null()
            })
            .collect();
        table(m, title, &rows, case, stock, u);
    }
    m.close();
}

/// What a workshop profile has laid over the numbers; none without one.
fn learned(case: &Case) -> Option<String> {
    let profile = case.job.profile.as_ref()?;
    let rows = case.job.spread.0.iter().filter(|row| !row.own);
    let factors: Vec<String> = rows
        .filter_map(|row| {
            let k = profile.index(&row.key, &case.job, &case.source)?;
            Some(format!("{} {}", row.title, figures(profile.factors[k].value, 3)))
        })
        .collect();
    let list =
        if factors.is_empty() { "none that touches this job".into() } else { factors.join(", ") };
    let (file, runs) = (&profile.file, profile.runs);
    Some(format!("Multiplied in already, from your workshop profile {file} ({runs} runs): {list}."))
}

fn table(
    m: &mut Markup,
    title: &str,
    rows: &[(&String, &Value)],
    case: &Case,
    stock: &Stock,
    u: System,
) {
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
    let mut last: Option<Origin> = None;
    for (key, value) in rows {
        let from = origin(key, case, stock);
        m.open("tr", &[]);
        m.said("th", &[("scope", "row")], &title_of(key));
        m.said("td", &[], &said(key, value, u));
        // What is said of the row above is not said again.
        if last.as_ref() == Some(&from) {
            m.said("td", &[], "the same");
        } else {
            m.open("td", &[]);
            m.said("cite", &[], &from.words());
            m.close();
        }
        last = Some(from);
        m.close();
    }
    m.close();
    m.close();
}

/// "cell r0" of "source.cell.r0_ohm".
fn title_of(key: &str) -> String {
    let whole = keyed::name(key);
    let name = ["piece.", "bath.", "source."].iter().find_map(|g| whole.strip_prefix(g));
    name.unwrap_or(&whole).replace(['.', '_'], " ")
}

fn said(key: &str, value: &Value, u: System) -> String {
    match value {
        Value::Number(number) => {
            number.as_f64().map_or_else(String::new, |x| keyed::said(key, x, u))
        }
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
