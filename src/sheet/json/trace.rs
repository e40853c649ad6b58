//! The answer of `trace`.

use super::bench;
use super::findings::{barred, findings};
use super::run::run;
use super::verdict;
use crate::advice::Traced;
use crate::job::Refused;
use crate::run::Trace;
use crate::sheet::words::trace::columns;
use crate::units::say::System;
use serde_json::{Map, Value, json};

const SCHEMA: &str = "restbite.trace/1";

/// The answer of `trace`.
pub fn trace(traced: &Traced, units: System) -> Value {
    let case = &traced.case;
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.into(), value);
    put("schema", json!(SCHEMA));
    put("title", json!(case.job.title));
    put("resolved", json!(case.rows.map()));
    put("run", run(&case.run));
    put("verdict", verdict::verdict(&traced.verdict));
    for (key, column) in columns(&traced.trace) {
        put(key, json!(column));
    }
    put("findings", findings(&traced.findings, units));
    bench::told(Value::Object(map), case)
}

/// The answer of `trace` to a job that is refused.
pub fn refused(why: &Refused) -> Value {
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| map.insert(key.into(), value);
    put("schema", json!(SCHEMA));
    put("resolved", Value::Null);
    put("run", Value::Null);
    put("verdict", verdict::refused());
    for (key, _) in columns(&Trace::default()) {
        put(key, Value::Null);
    }
    put("findings", json!([barred(why)]));
    Value::Object(map)
}
