//! JSON of `day`: seconds since the day's start.

use super::run::silver;
use super::verdict;
use crate::advice::day::{DayPlan, Entry, Method, Of, Stuck, Task, Why};
use crate::advice::size::Reason;
use crate::job::clock::clock;
use crate::job::{Day, Refused};
use crate::sheet::words::day::stop_words;
use crate::sheet::words::reasons;
use crate::units::Quantity;
use crate::units::say::System;
use serde_json::{Value, json};

/// The answer of `day`.
pub fn day(day: &Day, plan: &DayPlan, units: System) -> Value {
    let entries: Vec<Value> = plan
        .entries
        .iter()
        .map(|e| {
            let mut value = entry(day, e);
            value["verdict"] = json!(plan.verdict(e).map(verdict::verdict));
            value
        })
        .collect();
    let hands: Vec<Value> = plan.hands.iter().map(|t| task(day, t)).collect();
    let recharges: Vec<Value> = plan.recharges().map(|t| task(day, t)).collect();
    let bounds: Vec<Value> =
        plan.bounds.iter().map(|(of, s)| json!({ "of": bound(day, *of), "s": s })).collect();
    let reasons: Vec<Value> = plan.stuck.iter().flat_map(|s| stuck(day, s, units)).collect();
    let unfit = plan.unfit.iter().map(|(kind, source, why)| {
        json!({ "piece": day.pieces[*kind].name, "source": day.sources[*source].name,
            "reasons": why.iter().map(|r| reason(r, units)).collect::<Vec<_>>() })
    });
    let unfit: Vec<Value> = unfit.collect();
    let lower = plan.lower_bound_s();
    json!({
        "schema": "restbite.day/1",
        "title": day.title,
        "start": clock(day.start_s, 0.0),
        "start_s_of_day": day.start_s,
        "date": day.date.map(|d| format!("{:04}-{:02}-{:02}", d.year, d.month, d.day)),
        "done": plan.done(),
        "entries": entries,
        "hands": hands,
        "recharges": recharges,
        "breaks": day.breaks,
        "end_s": plan.end_s,
        "lower_bound_s": lower,
        "gap_s": plan.end_s.zip(lower).map(|(end, lower)| end - lower),
        "bounds": bounds,
        "method": method(plan.method),
        "tried": plan.tried,
        "unfit": unfit,
        "reasons": reasons,
    })
}

/// The answer of `day` where a piece of it is refused.
pub fn refused(name: &str, refused: &Refused) -> Value {
    json!({
        "schema": "restbite.day/1",
        "done": false,
        "entries": [],
        "hands": [],
        "recharges": [],
        "end_s": null,
        "lower_bound_s": null,
        "reasons": [{ "piece": name, "source": null, "code": refused.code, "text": refused.text }],
    })
}

fn entry(day: &Day, e: &Entry) -> Value {
    let done = &e.etched;
    let looks: Vec<f64> = done.looks.iter().map(|l| l.at_s).collect();
    let depths: Vec<f64> = done.looks.iter().map(|l| l.depth_m).collect();
    json!({
        "piece": day.pieces[e.kind].name,
        "copy": e.copy,
        "source": day.sources[e.source].name,
        "on": done.on,
        "looks_s": looks,
        "look_depths_m": depths,
        "rests": done.rests,
        "waits": done.waits,
        "hang_up": done.hang_up,
        "take_down": done.take_down,
        "depth_m": done.depth_m,
        "target_m": target(day, e.kind),
        "silver_kg": silver(&done.silver),
        "peak_hot_spot_k": done.peak_hot_spot_k,
        "wells_end": {
            "available": done.wells.map(|w| w.available),
            "total": done.wells.map(|w| w.total),
        },
    })
}

fn reason(r: &Reason, units: System) -> Value {
    json!({ "code": r.code(), "text": reasons::reason(r, units) })
}

fn target(day: &Day, kind: usize) -> f64 {
    day.pieces[kind].job.piece.depth.is.si()
}

fn task(day: &Day, t: &Task) -> Value {
    json!({
        "start_s": t.start_s,
        "end_s": t.end_s,
        "what": t.what.word(),
        "piece": t.piece.map(|(kind, _)| &day.pieces[kind].name),
        "copy": t.piece.map(|(_, copy)| copy),
        "source": day.sources[t.source].name,
    })
}

fn bound(day: &Day, of: Of) -> Value {
    match of {
        Of::Sources => json!({ "what": "sources" }),
        Of::Source(n) => json!({ "what": "source", "source": day.sources[n].name }),
        Of::Hands => json!({ "what": "hands" }),
        Of::Piece(n) => json!({ "what": "piece", "piece": day.pieces[n].name }),
    }
}

fn method(method: Method) -> &'static str {
    match method {
        Method::EveryOrder => "every order",
        Method::SomeOrders => "some orders",
        Method::Changes => "longest first, then changes",
    }
}

fn stuck(day: &Day, s: &Stuck, units: System) -> Vec<Value> {
    let one = |(n, why): (usize, &Why)| -> Vec<Value> {
        let list = match why {
            Why::Unfit(reasons) => reasons.iter().map(|r| reason(r, units)).collect(),
            Why::Current(over) => vec![reason(over, units)],
            Why::Stop(stop) => vec![json!({ "code": stop, "text": stop_words(*stop) })],
        };
        let placed = |mut value: Value| {
            value["piece"] = json!(day.pieces[s.kind].name);
            value["left"] = json!(s.left);
            value["source"] = json!(day.sources[n].name);
            value
        };
        list.into_iter().map(placed).collect()
    };
    s.why.iter().enumerate().flat_map(one).collect()
}
