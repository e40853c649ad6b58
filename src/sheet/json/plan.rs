//! The answer of `plan`.

use super::findings::{finding, findings};
use super::option;
use super::run::run;
use super::{charge, rest, spread};
use crate::advice::{Advice, Check, Looks, Plan};
use crate::run::resolved;
use crate::units::say::System;
use serde_json::{Value, json};

/// The answer of `plan`.
pub fn plan(advice: &Advice, units: System) -> Value {
    match advice {
        Advice::Refused(refused) => json!({
            "schema": "restbite.plan/1",
            "resolved": null,
            "run": null,
            "checks": [],
            "findings": [finding(refused, units)],
        }),
        Advice::Plan(plan) => json!({
            "schema": "restbite.plan/1",
            "title": plan.job.title,
            "resolved": resolved(&plan.setup),
            "run": run(&plan.run),
            "checks": checks(&plan.looks),
            "source": source(plan, units),
            "rest": plan.rests.as_ref().map_or(Value::Null, rest::block),
            "charge": plan.charge.as_ref().map_or(Value::Null, |c| {
                charge::block(plan, c, units)
            }),
            "spread": plan.spread.as_ref().map_or(Value::Null, spread::block),
            "findings": findings(plan, units),
            "cautions": plan.cautions,
        }),
    }
}

/// How the source stands against the limits, and what would do where it does not.
fn source(plan: &Plan, units: System) -> Value {
    plan.judged.as_ref().map_or(Value::Null, |judged| {
        let mut value = option::standing(judged, units);
        let instead = plan.instead.as_ref().map(|o| option::source(&o.source));
        value["instead"] = json!(instead);
        value
    })
}

fn checks(looks: &Looks) -> Value {
    let one = |c: &Check| json!({ "at_s": c.at_s, "depth_m": c.depth_m });
    looks.checks.iter().map(one).collect()
}
