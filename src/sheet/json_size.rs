//! JSON of `size` and `compare`: options, each with its whole run.

use super::json::run;
use crate::advice::compare::Alternative;
use crate::advice::cycle::Cycled;
use crate::advice::pieces::Pieces;
use crate::advice::size::{Change, Judged, Sizing};
use crate::job::Source;
use crate::units::Quantity;
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
        out += &option(one, units).to_string();
    }
    out += &format!(
        "\n],\"chosen\":{chosen},\"own\":{own},\"least_change\":{},\"runs\":{}}}\n",
        json!(least),
        sizing.runs
    );
    out
}

/// The answer of `compare`: options as in `size`, unranked.
pub fn compare(list: &[Alternative], units: System) -> Value {
    let one = |a: &Alternative| {
        let mut value = option(&a.judged, units);
        value["name"] = json!(a.name);
        value["charge"] = json!({
            "pieces": a.pieces.as_ref().map(Pieces::count),
            "ended": a.pieces.as_ref().map(Pieces::ended),
        });
        value["cost_a_piece"] = json!(a.cost_a_piece);
        value
    };
    json!({
        "schema": "restbite.compare/1",
        "options": list.iter().map(one).collect::<Vec<_>>(),
    })
}

/// The answer of `size` to a job that is refused.
pub fn refused(advice: &crate::advice::Advice, units: System) -> Value {
    let mut value = super::json::plan(advice, units);
    value["schema"] = json!("restbite.size/1");
    value["options"] = json!([]);
    value["chosen"] = Value::Null;
    value["least_change"] = json!([]);
    value
}

/// One option.
pub fn option(o: &Judged, units: System) -> Value {
    let mut value = json!({ "source": source(&o.source) });
    if let (Value::Object(all), Value::Object(more)) = (&mut value, standing(o, units)) {
        all.extend(more);
    }
    value["rank"] = json!(o.rank);
    value["resolved"] = json!(o.rows.map());
    value["run"] = run(&o.run);
    value["rest"] = json!(o.rest.as_ref().map(rest));
    value["spread"] = json!(o.spread.as_ref().map(super::spread::option));
    value
}

/// How a source stands against every limit.
pub fn standing(o: &Judged, units: System) -> Value {
    let reason = |r: &crate::advice::size::Reason| json!({"code": r.code(), "text": r.text(units)});
    let margin = |m: &crate::advice::size::Margin| json!({ "of": m.of, "times": m.times });
    json!({
        "feasible": o.feasible(),
        "reasons": o.reasons.iter().map(reason).collect::<Vec<_>>(),
        "margins": o.margins.iter().map(margin).collect::<Vec<_>>(),
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

fn change(c: &Change, units: System) -> Value {
    json!({ "key": c.key, "from": c.from, "to": c.to, "text": c.text(units) })
}
