//! The answer of `plan`.

use super::bench;
use super::findings::{barred, findings};
use super::option;
use super::run::run;
use super::{charge, rest, spread, verdict};
use crate::advice::look::{Fault, Meter, Shown};
use crate::advice::{Check, Looks, Plan, held};
use crate::job::Refused;
use crate::units::say::System;
use serde_json::{Value, json};

/// The answer of `plan`.
pub fn plan(plan: &Plan, units: System) -> Value {
    let case = plan.case();
    let value = json!({
        "schema": "restbite.plan/1",
        "title": case.job.title,
        "resolved": case.rows.map(),
        "run": run(&case.run),
        "verdict": verdict::verdict(&plan.verdict),
        "held": verdict::held(&held(case, None), plan.own.chances.as_ref()),
        "checks": checks(&plan.looks),
        "source": source(plan, units),
        "rest": plan.rests.as_ref().map_or(Value::Null, rest::block),
        "charge": charge::block(case, &plan.charge, units),
        "meter": plan.meter.as_ref().map_or(Value::Null, meter),
        "spread": plan.spread.as_ref().map_or(Value::Null, spread::block),
        "findings": findings(&plan.findings, units),
        "cautions": plan.cautions,
    });
    bench::told(value, case)
}

/// The answer of `plan` to a job that is refused.
pub fn refused(why: &Refused) -> Value {
    json!({
        "schema": "restbite.plan/1",
        "resolved": null,
        "run": null,
        "verdict": verdict::refused(),
        "held": [],
        "checks": [],
        "findings": [barred(why)],
    })
}

/// How the source stands against the limits, and what would do where it does not.
fn source(plan: &Plan, units: System) -> Value {
    let mut value = option::standing(&plan.own, units);
    let instead = plan.instead.as_ref().map(|o| option::source(&o.case.source));
    value["instead"] = json!(instead);
    value
}

fn checks(looks: &Looks) -> Value {
    let one = |c: &Check| json!({ "at_s": c.at_s, "depth_m": c.depth_m });
    looks.checks.iter().map(one).collect()
}

/// What the meters show, and with each fault.
fn meter(meter: &Meter) -> Value {
    let codes = |list: &[Fault]| list.iter().map(|f| f.code()).collect::<Vec<_>>();
    let fault = |shown: &Shown| {
        json!({
            "code": shown.fault.code(),
            "current_a": shown.current_a,
            "bath_v": shown.bath_v,
            "like": codes(&shown.like),
            "like_by_both": codes(&shown.like_by_both),
            "told": shown.told.0,
            "told_by_both": shown.told.1,
        })
    };
    json!({
        "at_s": meter.right.at_s,
        "current_a": spread::quantiles(&meter.right.current_a),
        "narrows_to": meter.right.narrows_to,
        "faults": meter.faults.iter().map(fault).collect::<Vec<_>>(),
    })
}
