//! The answer of `rest`: text and JSON.

use super::json;
use super::page::Page;
use crate::advice::rest::{LONGEST_WAIT_S, Rests, Row};
use crate::advice::{LONGEST_REST_MIN, Plan};
use crate::run::resolved;
use crate::units::say::{self, System};
use serde_json::{Value, json};

/// What a source without cells has to say.
pub const NO_CELLS: &str = "No cells, so none to cool: this source needs no rest.";

/// JSON of the answer.
pub fn to_json(plan: &Plan, units: System) -> Value {
    let rests = plan.rests.as_ref();
    let mut value = json!({
        "schema": "restbite.rest/1",
        "title": plan.job.title,
        "resolved": resolved(&plan.setup),
        "run": json::run(&plan.run),
        "rest": rests.map_or(Value::Null, block),
        "table": rests.map_or(Vec::new(), |r| r.table.iter().map(row).collect()),
        "cool_down_s": rests.map(|r| r.cool_down_s),
        "pack_away_s": rests.map(|r| r.pack_away_s),
        "findings": json::findings(plan, units),
    });
    if rests.is_some_and(|r| r.cool_down_s.is_none()) {
        value["cool_down_why"] = json!(never_cool_enough());
    }
    if rests.is_some_and(|r| r.pack_away_s.is_none()) {
        value["pack_away_why"] = json!(still_warm());
    }
    value
}

fn never_cool_enough() -> String {
    let longest = say::time(LONGEST_REST_MIN as f64 * 60.0);
    format!("no rest of up to {longest} keeps a piece cool enough")
}

fn still_warm() -> String {
    format!("the cells are still warm after {}", say::time(LONGEST_WAIT_S))
}

/// The `rest` block; null where no cycle does it.
pub fn block(rests: &Rests) -> Value {
    rests.best.as_ref().map_or(Value::Null, super::json_size::rest)
}

fn row(row: &Row) -> Value {
    let mut value = super::json_size::rest(&row.cycled);
    let peak = row.cycled.session_peak;
    value["session_peak_hot_spot_k"] = json!(peak.map(|p| p.0));
    value["session_peak_surface_k"] = json!(peak.map(|p| p.1));
    value["within"] = json!(row.within);
    value
}

/// The page.
pub fn to_text(plan: &Plan, u: System) -> String {
    let mut page = Page::default();
    page.title(&plan.job.title);
    let Some(rests) = &plan.rests else {
        page.lines(NO_CELLS);
        return page.text;
    };
    page.lines(&sentence(plan, rests, u));
    page.blank();
    let limit = |k: f64| u.temperature(k);
    page.row(
        "Limits",
        &format!(
            "{} inside a cell, {} at its surface. Running on without a rest, the cells would come \
             to {} inside and {} at the surface in the long run.",
            limit(rests.limits.hot_spot_k),
            limit(rests.limits.surface_k),
            limit(rests.running_on.0),
            limit(rests.running_on.1)
        ),
    );
    page.row("After", &after(rests));
    page.blank();
    let rows: Vec<Vec<String>> = rests.table.iter().map(|r| table_row(r, u)).collect();
    page.table(&["On", "off", "factor", "all in all", "inside", "in a session", "does it"], &rows);
    page.text
}

/// What comes after the piece, in two sentences.
pub fn after(rests: &Rests) -> String {
    let next = match rests.cool_down_s {
        None => format!("The next piece cannot follow: {}", never_cool_enough()),
        Some(s) if s < 1.0 => "The next piece can follow at once".to_string(),
        Some(s) => format!("Rest {} before the next piece", say::time(s)),
    };
    let away = match rests.pack_away_s {
        None => still_warm(),
        Some(s) if s < 1.0 => "the cells are cool enough to pack away at once".to_string(),
        Some(s) => format!("the cells are cool enough to pack away after {}", say::time(s)),
    };
    format!(
        "{next}; {away}. A rest brings the pack back \
         from {} to {} at rest.",
        say::voltage(rests.recovery_v.0),
        say::voltage(rests.recovery_v.1)
    )
}

/// What to do, in one or two sentences.
pub fn sentence(plan: &Plan, rests: &Rests, u: System) -> String {
    let run = &plan.run;
    let hottest = run.peak_hot_spot_k.map_or_else(String::new, |k| u.temperature(k));
    let warm = rests.piece_needs || !rests.never_needed();
    let Some(best) = rests.best.as_ref().filter(|_| warm || run.stop == crate::run::Stop::Depth)
    else {
        if !rests.piece_needs && run.stop != crate::run::Stop::Depth {
            return format!(
                "Rests are not what is wanting: the cells stay at {hottest}, but the piece does not \
                 come to depth. See `restbite plan` and `restbite size`."
            );
        }
        return "No cycle of on and off gets the piece to depth in the time with the cells cool \
                enough: take more or larger cells, a wider gap, or more time (`restbite size`)."
            .into();
    };
    let (on, off) = (say::time(best.cycle.on_s), say::time(best.cycle.off_s));
    let factor = say::share(best.cycle.duration_factor());
    if rests.piece_needs {
        return format!(
            "{on} on, {off} off, in turn: {} to depth all in all, cyclic duration factor {factor} \
             (IEC 60034-1, S3). Look while it rests. In one go the cells would come to {hottest}.",
            say::time(best.elapsed_s)
        );
    }
    if rests.never_needed() {
        return format!(
            "No rest needed: {hottest} inside in this piece, and {} however long it goes on.",
            u.temperature(rests.running_on.0)
        );
    }
    format!(
        "This piece needs no rest: {hottest} inside at most. Etching piece after piece, give the \
         cells {off} off for every {on} on (cyclic duration factor {factor}, IEC 60034-1, S3)."
    )
}

fn table_row(row: &Row, u: System) -> Vec<String> {
    let c = &row.cycled;
    vec![
        say::time(c.cycle.on_s),
        say::time(c.cycle.off_s),
        say::share(c.cycle.duration_factor()),
        say::time(c.elapsed_s),
        u.temperature(c.peak.0),
        c.session_peak.map_or_else(|| "-".into(), |p| u.temperature(p.0)),
        if row.within { "yes" } else { "no" }.into(),
    ]
}
