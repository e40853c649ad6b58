//! The answer of `trace`.

use super::findings::{finding, findings};
use super::run::run;
use crate::advice::Advice;
use crate::run::{Trace, resolved};
use crate::sheet::words::trace::columns;
use crate::units::say::System;
use serde_json::{Map, Value, json};

/// The answer of `trace`.
pub fn trace(advice: &Advice, units: System) -> Value {
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.into(), value);
    put("schema", json!("restbite.trace/1"));
    match advice {
        Advice::Refused(refused) => {
            put("resolved", Value::Null);
            put("run", Value::Null);
            for (key, _) in columns(&Trace::default()) {
                put(key, Value::Null);
            }
            put("findings", json!([finding(refused, units)]));
        }
        Advice::Plan(plan) => {
            put("title", json!(plan.job.title));
            put("resolved", json!(resolved(&plan.setup)));
            put("run", run(&plan.run));
            for (key, column) in columns(&plan.trace) {
                put(key, json!(column));
            }
            put("findings", findings(plan, units));
        }
    }
    Value::Object(map)
}
