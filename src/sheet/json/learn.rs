//! The answer of `learn`.

use super::spread::quantiles;
use crate::advice::learn::{Factor, Learning, Outlier, Why};
use crate::job::log::{BathTrial, CellTrial, Log};
use crate::sheet::words::learn::sentence;
use crate::units::say::System;
use serde_json::{Value, json};

/// The answer of `learn`.
pub fn learn(log: &Log, l: &Learning, u: System) -> Value {
    let runs: Vec<Value> = log
        .runs
        .iter()
        .enumerate()
        .map(|(n, run)| {
            let left_out = l.outliers.iter().filter(|o| o.run == n).count();
            json!({
                "name": run.name,
                "date": run.date.map(|d| d.to_string()),
                "job": run.file,
                "readings": run.readings.len(),
                "left_out": left_out,
            })
        })
        .collect();
    let (shift, width) = l.off();
    json!({
        "schema": "restbite.learn/1",
        "title": log.title,
        "runs": runs,
        "factors": l.bath_resistance.iter().chain(&l.factors).map(factor).collect::<Vec<_>>(),
        "outliers": l.outliers.iter().map(|o| outlier(log, o, u)).collect::<Vec<_>>(),
        "readings_used": l.used,
        "scatter": l.scatter,
        "check": {
            "draws": l.check.draws,
            "effective": l.check.effective,
            "largest_shift": shift,
            "largest_width_error": width,
        },
        "next": l.next.as_ref().map(|n| json!({
            "title": n.title,
            "before_s": quantiles(&n.before_s),
            "after_s": quantiles(&n.after_s),
        })),
        "cell_tests": log.cell_trials.iter().map(cell_test).collect::<Vec<_>>(),
        "bath_tests": log.bath_trials.iter().map(bath_test).collect::<Vec<_>>(),
    })
}

fn factor(f: &Factor) -> Value {
    json!({
        "name": f.parameter.key,
        "of": Some(&f.parameter.of).filter(|of| !of.is_empty()),
        "title": f.parameter.title,
        "value": f.value,
        "low80": f.low80,
        "high80": f.high80,
        "prior_sd": f.parameter.prior_sd,
        "ln_sd": f.ln_sd,
    })
}

fn outlier(log: &Log, o: &Outlier, u: System) -> Value {
    let (expected, deviations) = match o.why {
        Why::Off { expected, deviations } => (Some(expected), Some(deviations)),
        _ => (None, None),
    };
    json!({
        "run": log.runs[o.run].name,
        "at_s": o.at_s,
        "reading": o.what.key(),
        "read": o.read,
        "expected": expected,
        "deviations": deviations,
        "questioned": !matches!(o.why, Why::Off { .. }),
        "text": sentence(log, o, u),
    })
}

fn cell_test(t: &CellTrial) -> Value {
    json!({ "cell": t.cell, "resistance_ohm": t.ohm, "stock_ohm": t.stock_ohm })
}

fn bath_test(t: &BathTrial) -> Value {
    json!({
        "electrolyte": t.electrolyte,
        "kappa25_s_per_m": t.kappa25,
        "stock_kappa25_s_per_m": t.stock_kappa25,
        "two_currents": t.two,
    })
}
