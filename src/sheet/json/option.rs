//! One source for a job: what it is, how it stands against the limits, its whole run.

use super::run::run;
use super::verdict;
use crate::advice::Limit;
use crate::advice::cycle::Cycled;
use crate::advice::size::{Judged, Reason};
use crate::job::Source;
use crate::sheet::words::limits::name;
use crate::sheet::words::reasons;
use crate::units::Quantity;
use crate::units::say::System;
use serde_json::{Value, json};

/// One option, without its spread.
pub fn option(o: &Judged, units: System) -> Value {
    let mut value = json!({ "source": source(&o.case.source) });
    if let (Value::Object(all), Value::Object(more)) = (&mut value, standing(o, units)) {
        all.extend(more);
    }
    value["rank"] = json!(o.rank);
    value["resolved"] = json!(o.case.rows.map());
    value["run"] = run(&o.case.run);
    value["rest"] = json!(o.rest.as_ref().map(rest));
    value["spread"] = Value::Null;
    value
}

/// How a source stands against every limit.
pub fn standing(o: &Judged, units: System) -> Value {
    let reason = |r: &Reason| json!({"code": r.code(), "text": reasons::reason(r, units)});
    let margin = |m: &(Limit, f64)| json!({ "of": name(m.0), "times": m.1 });
    json!({
        "feasible": o.feasible(),
        "reasons": o.reasons.iter().map(reason).collect::<Vec<_>>(),
        "verdict": verdict::verdict(&o.verdict()),
        "held": verdict::held(&o.held, o.chances.as_ref()),
        "margins": o.in_hand().iter().map(margin).collect::<Vec<_>>(),
    })
}

/// A cycle of on and off, and what it comes to.
pub fn rest(r: &Cycled) -> Value {
    json!({
        "on_s": r.cycle.on_s,
        "off_s": r.cycle.off_s,
        "cyclic_duration_factor": r.cycle.duration_factor(),
        "elapsed_s": r.elapsed_s,
        "peak_hot_spot_k": r.peak.0,
        "peak_surface_k": r.peak.1,
    })
}

/// What a source is, for programs.
pub fn source(source: &Source) -> Value {
    match source {
        Source::Pack(p) => json!({
            "kind": "pack",
            "cell": p.cell.name,
            "series": p.series.is,
            "parallel": p.parallel,
            "holder": p.holder.name,
            "set_v": null,
            "limit_a": null,
        }),
        Source::Supply(s) => json!({
            "kind": "supply",
            "cell": null,
            "series": null,
            "parallel": null,
            "holder": null,
            "set_v": s.voltage.si(),
            "limit_a": s.current_limit.map(Quantity::si),
        }),
        Source::Adapter(a) => json!({
            "kind": "adapter",
            "cell": null,
            "series": null,
            "parallel": null,
            "holder": null,
            "set_v": null,
            "limit_a": null,
            "open_v": a.open_voltage.si(),
            "series_ohm": a.series_resistance.si(),
        }),
    }
}
