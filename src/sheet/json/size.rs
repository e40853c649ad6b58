//! The answer of `size`: options, each with its whole run.

use super::bench;
use super::option::option;
use super::print::print_listed;
use super::{plan, spread};
use crate::advice::size::{Change, Goal, Sizing, is_own};
use crate::job::{Job, Refused};
use crate::sheet::words::size as words;
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
    picks: Value,
    least_change: Vec<Value>,
    free_change: Vec<Value>,
    runs: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    bench: Option<Value>,
}

/// Options, each made when it is written: of hundreds only one at a time is ever held as a
/// tree of values.
struct Options<'a>(&'a Sizing<'a>, &'a Job, System);

impl Serialize for Options<'_> {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        let Self(sizing, job, units) = self;
        out.collect_seq(sizing.options.iter().map(|o| {
            let mut value = option(o, *units);
            value["owned"] = json!(o.owned || is_own(o, job));
            value["spread"] = json!(o.spread.as_ref().map(spread::option));
            value
        }))
    }
}

/// The answer of `size`.
pub fn size(job: &Job, sizing: &Sizing, units: System) -> String {
    print_listed(&Answer {
        schema: SCHEMA,
        options: Options(sizing, job, units),
        chosen: sizing.chosen().map(|_| 0),
        own: sizing.own.as_ref().map(|o| option(o, units)),
        picks: json!({
            "soonest": sizing.picks.soonest,
            "fewest": sizing.picks.fewest,
            "gentlest": sizing.picks.gentlest,
        }),
        least_change: sizing.least.iter().map(|c| change(c, units)).collect(),
        free_change: sizing.free.iter().map(|c| change(c, units)).collect(),
        runs: sizing.runs,
        bench: bench::block(job),
    })
}

/// The answer of `size` to a job that is refused.
pub fn refused(why: &Refused) -> Value {
    let mut value = plan::refused(why);
    value["schema"] = json!(SCHEMA);
    value["options"] = json!([]);
    value["chosen"] = Value::Null;
    value["picks"] = json!({ "soonest": null, "fewest": null, "gentlest": null });
    value["least_change"] = json!([]);
    value["free_change"] = json!([]);
    value
}

fn change(c: &Change, units: System) -> Value {
    json!({
        "key": c.key,
        "from": c.from,
        "to": c.to,
        "text": words::change(c, units),
        "resistor_w": c.resistor_w,
        "with_room": c.goal == Goal::WithRoom,
    })
}
