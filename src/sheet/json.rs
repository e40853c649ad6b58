//! JSON for programs: SI or trade units in every key's name; what has no answer is null.

use crate::advice::{Advice, Finding, Looks, Plan, word};
use crate::run::{Run, Trace};
use crate::units::say::System;
use serde_json::{Map, Value, json};

/// One JSON object, its text ending in a newline.
pub fn print(value: &Value) -> String {
    // A map of plain values always prints.
    serde_json::to_string_pretty(value).map_or_else(|_| String::new(), |text| text + "\n")
}

/// The answer of `plan`.
pub fn plan(advice: &Advice, units: System) -> Value {
    match advice {
        Advice::Refused(finding) => json!({
            "schema": "restbite.plan/1",
            "resolved": null,
            "run": null,
            "checks": [],
            "findings": [self::finding(finding, units)],
        }),
        Advice::Plan(plan) => json!({
            "schema": "restbite.plan/1",
            "title": plan.job.title,
            "resolved": plan.rows.map(),
            "run": run(&plan.run),
            "checks": checks(&plan.looks),
            "source": source(plan, units),
            "rest": plan.rests.as_ref().map_or(Value::Null, super::rest::block),
            "charge": plan.charge.as_ref().map_or(Value::Null, |c| {
                super::charge::block(plan, c, units)
            }),
            "spread": plan.spread.as_ref().map_or(Value::Null, super::spread::block),
            "findings": findings(plan, units),
            "cautions": plan.cautions,
        }),
    }
}

/// The answer of `trace`.
pub fn trace(advice: &Advice, units: System) -> Value {
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.into(), value);
    put("schema", json!("restbite.trace/1"));
    match advice {
        Advice::Refused(finding) => {
            put("resolved", Value::Null);
            put("run", Value::Null);
            for (key, _) in columns(&Trace::default()) {
                put(key, Value::Null);
            }
            put("findings", json!([self::finding(finding, units)]));
        }
        Advice::Plan(plan) => {
            put("title", json!(plan.job.title));
            put("resolved", json!(plan.rows.map()));
            put("run", run(&plan.run));
            for (key, column) in columns(&plan.trace) {
                put(key, json!(column));
            }
            put("findings", findings(plan, units));
        }
    }
    Value::Object(map)
}

/// The columns of a trace under their names, in order; none where the source has none.
pub fn columns(t: &Trace) -> [(&'static str, Option<&Vec<f64>>); 11] {
    [
        ("t_s", Some(&t.t_s)),
        ("current_a", Some(&t.current_a)),
        ("source_v", Some(&t.source_v)),
        ("bath_v", Some(&t.bath_v)),
        ("depth_m", Some(&t.depth_m)),
        ("charge_c", Some(&t.charge_c)),
        ("hot_spot_k", t.hot_spot_k.as_ref()),
        ("surface_k", t.surface_k.as_ref()),
        ("bath_k", Some(&t.bath_k)),
        ("available", t.available.as_ref()),
        ("total", t.total.as_ref()),
    ]
}

/// The `run` block.
pub fn run(run: &Run) -> Value {
    let removed: Map<String, Value> =
        run.removed_kg.iter().map(|(symbol, kg)| (symbol.clone(), json!(kg))).collect();
    json!({
        "stop": run.stop,
        "time_s": run.time_s,
        "depth_m": run.depth_m,
        "undercut_m": run.undercut_m,
        "charge_c": run.charge_c,
        "energy_j": run.energy_j,
        "start_current_a": run.start_current_a,
        "mean_current_a": run.mean_current_a,
        "end_current_a": run.end_current_a,
        "start_current_density_a_per_m2": run.start_current_density,
        "start_source_v": run.start_source_v,
        "end_source_v": run.end_source_v,
        "start_bath_v": run.start_bath_v,
        "start_back_emf_v": run.start_back_emf_v,
        "bath_resistance_ohm": run.bath_resistance_ohm,
        "lead_resistance_ohm": run.lead_resistance_ohm,
        "source_resistance_ohm": run.source_resistance_ohm,
        "peak_hot_spot_k": run.peak_hot_spot_k,
        "peak_surface_k": run.peak_surface_k,
        "end_bath_k": run.end_bath_k,
        "metal_removed_kg": run.metal_removed_kg,
        "removed_kg": removed,
        "wells_end": {
            "available": run.wells_end.map(|w| w.available),
            "total": run.wells_end.map(|w| w.total),
        },
        "energy_residual": run.energy_residual,
    })
}

/// How the source stands against the limits, and what would do where it does not.
fn source(plan: &Plan, units: System) -> Value {
    plan.judged.as_ref().map_or(Value::Null, |judged| {
        let mut value = super::json_size::standing(judged, units);
        let instead = plan.instead.as_ref().map(|o| super::json_size::source(&o.source));
        value["instead"] = json!(instead);
        value
    })
}

fn checks(looks: &Looks) -> Value {
    let one = |c: &crate::advice::Check| json!({ "at_s": c.at_s, "depth_m": c.depth_m });
    looks.checks.iter().map(one).collect()
}

/// The findings of a plan.
pub fn findings(plan: &Plan, units: System) -> Value {
    plan.findings.iter().map(|f| finding(f, units)).collect()
}

fn finding(finding: &Finding, units: System) -> Value {
    json!({
        "code": finding.code(),
        "level": finding.level().word(),
        "text": word(finding, units),
    })
}
