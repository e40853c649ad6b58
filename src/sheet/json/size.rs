//! The answer of `size`: options, each with its whole run.

use super::option::option;
use super::{plan, spread};
use crate::advice::size::{Change, Sizing};
use crate::job::Refused;
use crate::sheet::words::size as words;
use crate::units::say::System;
use serde_json::{Value, json};

/// The answer of `size`, printed option by option: with hundreds of them only one at a time
/// is ever held as a tree of values.
pub fn size(sizing: &Sizing, units: System) -> String {
    let least: Vec<Value> = sizing.least.iter().map(|c| change(c, units)).collect();
    let own = json!(sizing.own.as_ref().map(|o| option(o, units)));
    let chosen = json!(sizing.chosen().map(|_| 0));
    let mut out = String::from("{\"schema\":\"restbite.size/1\",\"options\":[");
    for (n, one) in sizing.options.iter().enumerate() {
        out += if n > 0 { ",\n" } else { "\n" };
        let mut value = option(one, units);
        value["spread"] = json!(sizing.spread(n).map(spread::option));
        out += &value.to_string();
    }
    out += &format!(
        "\n],\"chosen\":{chosen},\"own\":{own},\"least_change\":{},\"runs\":{}}}\n",
        json!(least),
        sizing.runs
    );
    out
}

/// The answer of `size` to a job that is refused.
pub fn refused(why: &Refused) -> Value {
    let mut value = plan::refused(why);
    value["schema"] = json!("restbite.size/1");
    value["options"] = json!([]);
    value["chosen"] = Value::Null;
    value["least_change"] = json!([]);
    value
}

fn change(c: &Change, units: System) -> Value {
    json!({ "key": c.key, "from": c.from, "to": c.to, "text": words::change(c, units) })
}
