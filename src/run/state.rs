//! The state of a run as one plain vector, and how fast it changes.

use super::operating::{Operating, Solver};
use super::setup::{Pack, Setup};
use crate::laws::{cell, convection, faraday};

/// How many plating metals a run can follow: silver and copper are all that stock has.
pub const METALS: usize = 2;

/// The state vector.
pub type State = [f64; SIZE];

/// Length of the state vector.
pub const SIZE: usize = TALLY + 7;
/// Available charge of a cell, C.
pub const Q1: usize = 0;
/// Bound charge of a cell, C.
pub const Q2: usize = 1;
/// Polarisation of a cell, V.
pub const U: usize = 2;
/// Mean core temperature, K.
pub const CORE: usize = 3;
/// Surface temperature, K.
pub const SURFACE: usize = 4;
/// Depth, m.
pub const DEPTH: usize = 5;
/// Bath temperature, K.
pub const BATH: usize = 6;
/// Dissolved plating metals, mol/m3.
pub const METAL: usize = 7;
/// The first tally; everything from here on is summed up but steers nothing.
pub const TALLY: usize = METAL + METALS;
/// Charge through the bath, C.
pub const CHARGE: usize = TALLY;
/// Heat of all cells without its entropic part, J.
pub const CELL_HEAT: usize = TALLY + 1;
/// Heat of the contacts, J.
pub const CONTACT_HEAT: usize = TALLY + 2;
/// Heat of the leads, J.
pub const LEAD_HEAT: usize = TALLY + 3;
/// Heat that the bath gave off, J.
pub const BATH_LOSS: usize = TALLY + 4;
/// Chemical work, J.
pub const CHEMICAL: usize = TALLY + 5;
/// Work at the source's terminals, J.
pub const TERMINAL: usize = TALLY + 6;

/// Which straight pieces of the cell's curves a step follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Pieces {
    /// Of the rest voltage at the available share.
    pub ocv: usize,
    /// Of the resistance factor at the available share.
    pub r0: usize,
    /// Of the rest voltage at the total share.
    pub total: usize,
}

impl Pieces {
    /// The pieces on which a state lies.
    pub fn of(setup: &Setup, y: &State) -> Self {
        setup.source.pack().map_or_else(Self::default, |p| {
            let (s, total) = shares(p, y);
            Self {
                ocv: p.cell.ocv.piece(s),
                r0: p.cell.r0_curve.piece(s),
                total: p.cell.ocv.piece(total),
            }
        })
    }
}

/// Available and total share of a cell's charge.
pub fn shares(pack: &Pack, y: &State) -> (f64, f64) {
    let wells = &pack.cell.wells;
    (wells.available(y[Q1]), wells.total(y[Q1], y[Q2]))
}

/// Depth in a state, m.
pub fn depth_of(y: &State) -> f64 {
    y[DEPTH]
}

/// Hot spot of the worst-placed cell in a state, K; of no meaning without cells.
pub fn hot_spot_of(y: &State) -> f64 {
    crate::laws::cell::hot_spot(y[CORE], y[SURFACE])
}

/// The state before the current is on.
pub fn start(setup: &Setup) -> State {
    let mut y = [0.0; SIZE];
    if let Some(pack) = setup.source.pack() {
        (y[Q1], y[Q2]) = pack.cell.wells.level(pack.charge_left);
    }
    y[CORE] = setup.ambient_k;
    y[SURFACE] = setup.ambient_k;
    y[BATH] = setup.bath.temperature_k;
    for (slot, metal) in y[METAL..TALLY].iter_mut().zip(&setup.bath.plating) {
        *slot = metal.c0;
    }
    y
}

/// Rates of change at an operating point already solved, each in its unit a second.
pub fn rates(solver: &Solver, y: &State, at: &Operating) -> State {
    let setup = solver.setup;
    let mut dy = [0.0; SIZE];
    if let Some(pack) = setup.source.pack() {
        pack_rates(pack, setup.ambient_k, y, at, &mut dy);
    }
    bath_rates(setup, y, at, &mut dy);
    let p = &setup.piece;
    dy[DEPTH] = at.current
        * faraday::depth_per_coulomb(p.equivalent_weight, p.efficiency, p.density, p.exposed_area);
    dy[CHARGE] = at.current;
    dy[LEAD_HEAT] = at.current * at.current * setup.leads.resistance;
    dy[TERMINAL] = at.current * at.source_v;
    dy
}

fn pack_rates(pack: &Pack, ambient_k: f64, y: &State, at: &Operating, dy: &mut State) {
    let c = &pack.cell;
    let cells = pack.series * pack.parallel;
    let i = at.current / pack.parallel;
    (dy[Q1], dy[Q2]) = c.wells.rates(y[Q1], y[Q2], i);
    dy[U] = i / c.c1_f - y[U] / (c.r1_ohm * c.c1_f);
    let heat = cell::heat_w(i, at.mean_rest_v, at.cell_v, y[CORE], c.entropy);
    let across = (y[CORE] - y[SURFACE]) / c.core_to_surface;
    let air =
        convection::flux(y[SURFACE], ambient_k, c.diameter, pack.convection_factor, c.emissivity);
    dy[CORE] = (heat - across) / c.core_j_per_k;
    dy[SURFACE] = (across - pack.exposed_share * c.surface_m2 * air) / c.surface_j_per_k;
    dy[CELL_HEAT] = cells * i * (at.mean_rest_v - at.cell_v);
    dy[CONTACT_HEAT] = cells * i * i * pack.contact_ohm;
}

fn bath_rates(setup: &Setup, y: &State, at: &Operating, dy: &mut State) {
    let b = &setup.bath;
    let i = at.current;
    let mut pan_heat = at.hydrogen * (at.hydrogen_rest_v - at.cathode_v);
    let mut pan_work = at.hydrogen * at.hydrogen_rest_v;
    for (k, metal) in b.plating.iter().enumerate() {
        let plated = at.plating[k];
        pan_heat += plated * (at.rest_v[k] - at.cathode_v);
        pan_work += plated * at.rest_v[k];
        let out = b.cathode_area * plated / (metal.law.n * crate::laws::constants::FARADAY);
        dy[METAL + k] = (i * metal.mol_per_coulomb - out) / b.volume;
    }
    let loss = b.heat_loss * (y[BATH] - setup.ambient_k);
    let heat = i * i * at.bath_ohm
        + i * (at.anode.activation_v + at.anode.concentration_v)
        + b.cathode_area * pan_heat;
    dy[BATH] = (heat - loss) / b.heat_capacity;
    dy[BATH_LOSS] = loss;
    dy[CHEMICAL] = i * at.anode_rest_v - b.cathode_area * pan_work;
}
