//! The flat map of every number that a run used, under the keys of the model.

use super::setup::{Bath, CutoffOn, Pack, Piece, Setup, Source};
use serde_json::{Map, Value, json};

/// Keys as the model names them; null means none.
pub fn resolved(setup: &Setup) -> Map<String, Value> {
    let mut map = Map::new();
    piece(&mut map, &setup.piece);
    bath(&mut map, &setup.bath);
    put(&mut map, "ambient_k", json!(setup.ambient_k));
    put(&mut map, "leads.resistance_ohm", json!(setup.leads.resistance));
    source(&mut map, &setup.source);
    put(&mut map, "limits.time_s", json!(setup.time_limit_s));
    let hot = setup.source.pack().map(|p| p.temperature_limit_k);
    put(&mut map, "limits.cell_temperature_k", json!(hot));
    map
}

fn put(map: &mut Map<String, Value>, key: &str, value: Value) {
    map.insert(key.into(), value);
}

fn piece(map: &mut Map<String, Value>, p: &Piece) {
    for (symbol, part) in &p.parts {
        put(map, &format!("piece.mass_share.{symbol}"), json!(part.mass_share));
        put(map, &format!("piece.molar_mass_kg_per_mol.{symbol}"), json!(part.molar_mass));
        put(map, &format!("piece.valence.{symbol}"), json!(part.valence));
        let share = crate::laws::faraday::charge_share(part, p.equivalent_weight);
        put(map, &format!("piece.charge_share.{symbol}"), json!(share));
    }
    for (key, value) in [
        ("equivalent_weight_kg_per_mol", json!(p.equivalent_weight)),
        ("density_kg_per_m3", json!(p.density)),
        ("exposed_area_m2", json!(p.exposed_area)),
        ("current_efficiency", json!(p.efficiency)),
        ("depth_m", json!(p.depth)),
        ("thickness_m", json!(p.thickness)),
        ("floor_m", json!(p.floor)),
        ("etch_factor", json!(p.etch_factor)),
    ] {
        put(map, &format!("piece.{key}"), value);
    }
}

fn bath(map: &mut Map<String, Value>, b: &Bath) {
    for (key, value) in [
        ("kappa25_s_per_m", json!(b.kappa25)),
        ("kappa_beta_per_k", json!(b.kappa_beta)),
        ("shape_factor_per_m", json!(b.shape_factor)),
        ("anode.species", json!(b.anode_species)),
        ("anode.e0_v", json!(b.anode.e0_v)),
        ("anode.n", json!(b.anode.n)),
        ("anode.alpha", json!(b.anode.alpha)),
        ("anode.i0_a_per_m2", json!(b.anode.i0)),
        ("anode.mass_transfer_m_per_s", json!(b.anode.mass_transfer)),
        ("anode.c0_mol_per_m3", json!(b.plating[b.anode_index].c0)),
        ("cathode.H2.i0_a_per_m2", json!(b.hydrogen.i0)),
        ("cathode.H2.alpha", json!(b.hydrogen.alpha)),
        ("cathode_area_m2", json!(b.cathode_area)),
        ("ph", json!(b.ph)),
        ("volume_m3", json!(b.volume)),
        ("heat_capacity_j_per_k", json!(b.heat_capacity)),
        ("heat_loss_w_per_k", json!(b.heat_loss)),
        ("temperature_k", json!(b.temperature_k)),
    ] {
        put(map, &format!("bath.{key}"), value);
    }
    for metal in &b.plating {
        for (key, value) in [
            ("e0_v", metal.law.e0_v),
            ("n", metal.law.n),
            ("i0_a_per_m2", metal.law.i0),
            ("alpha", metal.law.alpha),
            ("mass_transfer_m_per_s", metal.law.mass_transfer),
            ("c0_mol_per_m3", metal.c0),
        ] {
            put(map, &format!("bath.cathode.{}.{key}", metal.symbol), json!(value));
        }
    }
}

fn source(map: &mut Map<String, Value>, s: &Source) {
    let rows = match s {
        Source::Pack(p) => pack(p),
        Source::Supply { set_v, out_ohm, limit_a } => vec![
            ("kind", json!("supply")),
            ("set_v", json!(set_v)),
            ("out_ohm", json!(out_ohm)),
            ("limit_a", json!(limit_a)),
        ],
        Source::Adapter { open_v, series_ohm, rated_a } => vec![
            ("kind", json!("adapter")),
            ("open_v", json!(open_v)),
            ("series_ohm", json!(series_ohm)),
            ("rated_a", json!(rated_a)),
        ],
    };
    for (key, value) in rows {
        put(map, &format!("source.{key}"), value);
    }
}

fn pack(p: &Pack) -> Vec<(&'static str, Value)> {
    let c = &p.cell;
    let on = match c.cutoff_on {
        CutoffOn::Terminal => "terminal",
        CutoffOn::Rested => "rested",
    };
    vec![
        ("kind", json!("pack")),
        ("series", json!(p.series)),
        ("parallel", json!(p.parallel)),
        ("charge_left", json!(p.charge_left)),
        ("contact_ohm", json!(p.contact_ohm)),
        ("exposed_share", json!(p.exposed_share)),
        ("convection_factor", json!(p.convection_factor)),
        ("cell.capacity_c", json!(c.wells.capacity)),
        ("cell.available_share", json!(c.wells.available_share)),
        ("cell.well_rate_per_s", json!(c.wells.rate)),
        ("cell.r0_ohm", json!(c.r0_ohm)),
        ("cell.r0_temp_k", json!(c.r0_temp_k)),
        ("cell.r0_curve", json!(c.r0_curve.points())),
        ("cell.r1_ohm", json!(c.r1_ohm)),
        ("cell.c1_f", json!(c.c1_f)),
        ("cell.ocv_curve", json!(c.ocv.points())),
        ("cell.cutoff_v", json!(c.cutoff_v)),
        ("cell.cutoff_on", json!(on)),
        ("cell.entropy_v_per_k", json!(c.entropy)),
        ("cell.core_j_per_k", json!(c.core_j_per_k)),
        ("cell.surface_j_per_k", json!(c.surface_j_per_k)),
        ("cell.core_to_surface_k_per_w", json!(c.core_to_surface)),
        ("cell.surface_m2", json!(c.surface_m2)),
        ("cell.emissivity", json!(c.emissivity)),
        ("cell.diameter_m", json!(c.diameter)),
    ]
}
