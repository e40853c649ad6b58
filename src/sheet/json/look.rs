//! The answer of `look`.

use super::bench;
use super::spread::quantiles;
use super::verdict::chances;
use crate::advice::look::{Look, Stand};
use crate::sheet::words::look as words;
use crate::units::say::System;
use serde_json::{Value, json};

const SCHEMA: &str = "restbite.look/1";

/// The answer of `look`.
pub fn look(look: &Look, units: System) -> Value {
    let against: Vec<Value> = look
        .compared
        .against
        .iter()
        .map(|a| {
            json!({
                "at_s": a.reading.at_s,
                "what": a.reading.what.key(),
                "value": a.reading.value,
                "expected": { "p10": a.expected.1, "p50": a.expected.0, "p90": a.expected.2 },
                "text": words::against(a, units),
            })
        })
        .collect();
    let mut value = json!({
        "schema": SCHEMA,
        "title": look.case.job.title,
        "resolved": look.case.rows.map(),
        "now_s": look.now_s,
    });
    if let (Value::Object(all), Value::Object(more)) = (&mut value, stand(&look.now)) {
        all.extend(more);
    }
    value["fault"] = json!(look.compared.suspect.as_ref().map(|s| {
        let like: Vec<&str> = s.like.iter().map(|f| f.code()).collect();
        json!({ "code": s.fault.code(), "odds": s.odds, "like": like, "open": s.open, "since_s": s.since_s })
    }));
    value["readings"] = json!(against);
    value["off"] = json!({ "sd": look.compared.off.0, "most": look.compared.off.1, "beyond": look.compared.beyond });
    value["draws"] = json!({ "draws": look.draws.0, "worth": look.draws.1 });
    value["before"] = stand(&look.before);
    bench::told(value, &look.case)
}

fn stand(stand: &Stand) -> Value {
    json!({
        "left_s": quantiles(&stand.left_s),
        "done_s": quantiles(&stand.done_s),
        "depth_now_m": quantiles(&stand.depth_now_m),
        "next_look_s": stand.next_look_s,
        "chances": chances(&stand.chances),
    })
}
