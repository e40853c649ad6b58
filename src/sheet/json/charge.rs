//! The answer of `charge`.

use super::bench;
use super::findings::findings;
use super::run::run;
use super::{spread, verdict};
use crate::advice::charge::{BathEnd, Charge};
use crate::advice::{Case, Charged};
use crate::run::Stop;
use crate::sheet::words::charge::ends;
use crate::units::say::System;
use serde_json::{Value, json};

/// The answer of `charge`; `charge` is null without cells.
pub fn charge(charged: &Charged, units: System) -> Value {
    let case = &charged.case;
    let value = json!({
        "schema": "restbite.charge/1",
        "title": case.job.title,
        "resolved": case.rows.map(),
        "run": run(&case.run),
        "verdict": verdict::verdict(&charged.verdict),
        "charge": block(case, &charged.charge, units),
        "bath": bath(&charged.charge),
        "findings": findings(&charged.findings, units),
    });
    bench::told(value, case)
}

/// The `charge` block.
pub fn block(case: &Case, charge: &Charge, u: System) -> Value {
    if case.setup.cells().is_none() {
        return Value::Null;
    }
    let good: Vec<Value> = charge
        .pieces
        .each
        .iter()
        .filter(|p| p.stop == Stop::Depth)
        .map(|p| {
            json!({
                "start_s": p.start_s,
                "time_s": p.time_s,
                "depth_m": p.depth_m,
                "end_source_v": p.end_source_v,
                "available": p.wells.map(|w| w.available),
                "total": p.wells.map(|w| w.total),
                "peak_hot_spot_k": p.peak.map(|peak| peak.0),
            })
        })
        .collect();
    let failed = charge.pieces.each.last().filter(|p| p.stop != Stop::Depth);
    let spread = charge.spread.as_ref();
    let mut value = json!({
        "pieces": charge.pieces.ended().then(|| charge.pieces.count()),
        "p10": spread.and_then(|s| s.pieces.p10),
        "p50": spread.and_then(|s| s.pieces.p50),
        "p90": spread.and_then(|s| s.pieces.p90),
        "spread": spread.map(spread::pieces),
        "last_depth_m": failed.map(|p| p.depth_m),
        "each": good,
        "ends": ends(case, charge, u),
        "pieces_before_reversal": charge.before_reversal,
        "recharge_s": charge.recharge_s.map(|(slow, fast)| json!({
            "at_0_1_it": slow,
            "at_0_5_it": fast,
        })),
    });
    if !charge.pieces.ended() {
        value["pieces_why"] = value["ends"].clone();
    }
    value
}

fn bath(charge: &Charge) -> Value {
    let b = &charge.bath;
    let goes_on = b.end == BathEnd::GoesOn;
    let mut value = json!({
        "pieces": (!goes_on).then_some(b.pieces),
        "sludge_silver_kg": b.sludge_silver_kg,
        "pan_silver_kg": b.pan_silver_kg,
        "solution_silver_kg": b.solution_silver_kg,
    });
    if goes_on {
        let why = format!("not spent within {} pieces; the silver is that of these", b.pieces);
        value["pieces_why"] = json!(why);
    }
    value
}
