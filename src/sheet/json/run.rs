//! The `run` block.

use crate::run::{Run, Silver};
use serde_json::{Map, Value, json};

/// The `run` block.
pub fn run(run: &Run) -> Value {
    let removed: Map<String, Value> =
        run.removed_kg.iter().map(|(symbol, kg)| (symbol.clone(), json!(kg))).collect();
    json!({
        "stop": run.stop,
        "time_s": run.time_s,
        "depth_m": run.depth_m,
        "charge_depth_m": run.charge_depth_m,
        "undercut_m": run.undercut_m,
        "charge_c": run.charge_c,
        "energy_j": run.energy_j,
        "start_current_a": run.start_current_a,
        "mean_current_a": run.mean_current_a,
        "end_current_a": run.end_current_a,
        "start_current_density_a_per_m2": run.start_current_density,
        "start_source_v": run.start_source_v,
        "end_source_v": run.end_source_v,
        "start_bath_v": run.start_bath_v,
        "start_back_emf_v": run.start_back_emf_v,
        "bath_resistance_ohm": run.bath_resistance_ohm,
        "lead_resistance_ohm": run.lead_resistance_ohm,
        "source_resistance_ohm": run.source_resistance_ohm,
        "peak_hot_spot_k": run.peak_hot_spot_k,
        "peak_surface_k": run.peak_surface_k,
        "end_bath_k": run.end_bath_k,
        "peak_bath_k": run.extremes.bath_k,
        "end_silver_kg": silver(&run.end_silver),
        "night_silver_kg": silver(&run.night_silver),
        "metal_removed_kg": run.metal_removed_kg,
        "removed_kg": removed,
        "wells_end": {
            "available": run.wells_end.map(|w| w.available),
            "total": run.wells_end.map(|w| w.total),
        },
        "energy_residual": run.energy_residual,
    })
}

/// Where the silver is.
pub fn silver(is: &Silver) -> Value {
    json!({ "loose": is.loose, "held": is.held, "solution": is.solution })
}
