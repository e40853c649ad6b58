//! The answer of `size`: options, each with its whole run.

use super::option::option;
use super::plan::plan;
use super::print::print_listed;
use crate::advice::Advice;
use crate::advice::size::{Change, Judged, Sizing};
use crate::units::say::System;
use serde::{Serialize, Serializer};
use serde_json::{Value, json};

const SCHEMA: &str = "restbite.size/1";

/// What is printed.
#[derive(Serialize)]
struct Answer<'a> {
    schema: &'static str,
    options: Options<'a>,
    chosen: Option<usize>,
    own: Option<Value>,
    least_change: Vec<Value>,
    runs: u64,
}

/// Options, each made when it is written: of hundreds only one at a time is ever held as a
/// tree of values.
struct Options<'a>(&'a [Judged], System);

impl Serialize for Options<'_> {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        out.collect_seq(self.0.iter().map(|o| option(o, self.1)))
    }
}

/// The answer of `size`.
pub fn size(sizing: &Sizing, units: System) -> String {
    print_listed(&Answer {
        schema: SCHEMA,
        options: Options(&sizing.options, units),
        chosen: sizing.chosen().map(|_| 0),
        own: sizing.own.as_ref().map(|o| option(o, units)),
        least_change: sizing.least.iter().map(|c| change(c, units)).collect(),
        runs: sizing.runs,
    })
}

/// The answer of `size` to a job that is refused.
pub fn refused(advice: &Advice, units: System) -> Value {
    let mut value = plan(advice, units);
    value["schema"] = json!(SCHEMA);
    value["options"] = json!([]);
    value["chosen"] = Value::Null;
    value["least_change"] = json!([]);
    value
}

fn change(c: &Change, units: System) -> Value {
    json!({ "key": c.key, "from": c.from, "to": c.to, "text": c.text(units) })
}
