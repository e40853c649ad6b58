//! The answer of `rest`.

use super::bench;
use super::findings::findings;
use super::option;
use super::run::run;
use super::verdict;
use crate::advice::Rested;
use crate::advice::rest::{Rests, Row};
use crate::sheet::words::rest::{never_cool_enough, still_warm};
use crate::units::say::System;
use serde_json::{Value, json};

/// The answer of `rest`.
pub fn rest(rested: &Rested, units: System) -> Value {
    let (case, rests) = (&rested.case, rested.rests.as_ref());
    let mut value = json!({
        "schema": "restbite.rest/1",
        "title": case.job.title,
        "resolved": case.rows.map(),
        "run": run(&case.run),
        "verdict": verdict::verdict(&rested.verdict),
        "rest": rests.map_or(Value::Null, block),
        "table": rested.table.iter().map(row).collect::<Vec<_>>(),
        "cool_down_s": rests.map(|r| r.cool_down_s),
        "pack_away_s": rests.map(|r| r.pack_away_s),
        "findings": findings(&rested.findings, units),
    });
    if rests.is_some_and(|r| r.cool_down_s.is_none()) {
        value["cool_down_why"] = json!(never_cool_enough());
    }
    if rests.is_some_and(|r| r.pack_away_s.is_none()) {
        value["pack_away_why"] = json!(still_warm());
    }
    bench::told(value, case)
}

/// The `rest` block; null where no cycle does it.
pub fn block(rests: &Rests) -> Value {
    rests.best.as_ref().map_or(Value::Null, option::rest)
}

fn row(row: &Row) -> Value {
    let mut value = option::rest(&row.cycled);
    let peak = row.cycled.session_peak;
    value["session_peak_hot_spot_k"] = json!(peak.map(|p| p.0));
    value["session_peak_surface_k"] = json!(peak.map(|p| p.1));
    value["within"] = json!(row.within);
    value
}
