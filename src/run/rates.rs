//! How fast the state changes, at an operating point already solved.

use super::operating::Operating;
use super::setup::{Bath, Pack, Setup};
use super::state::{
    BATH, BATH_LOSS, CELL_HEAT, CHARGE, CHEMICAL, CONTACT_HEAT, CORE, DEPTH, HELD, LEAD_HEAT,
    LOOSE, LOOSE_TIME, METAL, ON_TIME, PAN_COPPER, Q1, Q2, SIZE, SURFACE, State, TERMINAL, U,
};
use crate::laws::rest_fall::{COPPER_PER_SILVER, Fall};
use crate::laws::{cell, constants, convection, faraday};

/// Rates of change, each in its unit a second.
pub fn rates(setup: &Setup, y: &State, at: &Operating, dy: &mut State) {
    *dy = [0.0; SIZE];
    if let Some(pack) = setup.source.pack() {
        pack_rates(pack, setup.ambient_k, y, at, dy);
    }
    bath_rates(setup, y, at, dy);
    let (p, duty) = (&setup.piece, setup.duty());
    dy[DEPTH] = duty
        * at.current
        * faraday::depth_per_coulomb(p.equivalent_weight, p.efficiency, p.density, p.exposed_area);
    // What adds up as the current goes by its mean, heat by the mean of its square.
    dy[CHARGE] = duty * at.current;
    dy[LEAD_HEAT] = duty * at.current * at.current * setup.leads.ohm();
    dy[TERMINAL] = duty * at.current * at.source_v;
}

fn pack_rates(pack: &Pack, ambient_k: f64, y: &State, at: &Operating, dy: &mut State) {
    let c = &pack.cell;
    let cells = pack.series * pack.parallel;
    let i = at.current / pack.parallel;
    (dy[Q1], dy[Q2]) = c.wells.rates(y[Q1], y[Q2], i);
    dy[U] = i / c.c1_f - y[U] / (c.r1_ohm * c.c1_f);
    let heat = cell::heat_w(i, at.mean_open_v, at.cell_v, y[CORE], c.entropy);
    let across = (y[CORE] - y[SURFACE]) / c.core_to_surface;
    let air =
        convection::flux(y[SURFACE], ambient_k, c.diameter, pack.convection_factor, c.emissivity);
    dy[CORE] = (heat - across) / c.core_j_per_k;
    dy[SURFACE] = (across - pack.exposed_share * c.surface_m2 * air) / c.surface_j_per_k;
    dy[CELL_HEAT] = cells * i * (at.mean_open_v - at.cell_v);
    dy[CONTACT_HEAT] = cells * i * i * pack.contact_ohm;
}

fn bath_rates(setup: &Setup, y: &State, at: &Operating, dy: &mut State) {
    let b = &setup.bath;
    let (i, duty) = (at.current, setup.duty());
    let gas = b.core_area * at.hydrogen;
    let mut pan_heat = gas * (at.hydrogen_equilibrium_v - at.cathode_v);
    let mut pan_work = gas * at.hydrogen_equilibrium_v;
    let loose = b.loose.share(at.cathode_load);
    for (k, metal) in b.plating.iter().enumerate() {
        let plated = b.area_of(metal) * at.plating[k];
        pan_heat += plated * (at.equilibrium_v[k] - at.cathode_v);
        pan_work += plated * at.equilibrium_v[k];
        let out = duty * plated / (metal.law.n * constants::FARADAY);
        dy[METAL + k] = (duty * i * metal.mol_per_coulomb - out) / b.volume_of(metal);
        match metal.symbol.as_str() {
            "Ag" => (dy[LOOSE], dy[HELD]) = (loose * out, (1.0 - loose) * out),
            "Cu" => dy[PAN_COPPER] = out,
            _ => {}
        }
    }
    if i > 0.0 {
        (dy[LOOSE_TIME], dy[ON_TIME]) = (loose, 1.0);
        on_a_copper_pan(b, y, dy);
    }
    let loss = b.heat_loss * (y[BATH] - setup.ambient_k);
    let heat =
        i * i * at.bath_ohm + i * (at.anode.activation_v + at.anode.concentration_v) + pan_heat;
    dy[BATH] = (duty * heat - loss) / b.heat_capacity;
    dy[BATH_LOSS] = loss;
    dy[CHEMICAL] = duty * (i * at.anode_equilibrium_v - pan_work);
}

/// A pan of copper takes silver by itself, where no current arrives. What falls in a rest is
/// worked out at its end (`session.rs`).
fn on_a_copper_pan(b: &Bath, y: &State, dy: &mut State) {
    let Some(silver) = b.index_of("Ag").filter(|_| b.pan_is_copper) else {
        return;
    };
    let area = (b.cathode_area - b.spread_area).max(0.0);
    let rate = Fall { area, transfer: b.rest_transfer, volume: b.volume }.rate(y[METAL + silver]);
    dy[METAL + silver] -= rate / b.volume_of(&b.plating[silver]);
    dy[LOOSE] += rate;
    if let Some(copper) = b.index_of("Cu") {
        dy[METAL + copper] += COPPER_PER_SILVER * rate / b.volume_of(&b.plating[copper]);
    }
}
