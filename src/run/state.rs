//! The state of a run as one plain vector.

use super::setup::{Pack, Setup};

/// How many plating metals a run can follow: silver and copper are all that stock has.
pub const METALS: usize = 2;

/// The state vector.
pub type State = [f64; SIZE];

/// Length of the state vector.
pub const SIZE: usize = TALLY + 8;
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
/// Bath temperature, K.
pub const BATH: usize = 5;
/// Dissolved plating metals, mol/m3: of the piece's own, under it while the current is on.
pub const METAL: usize = 6;
/// Behind the last of them.
pub const METALS_END: usize = METAL + METALS;
/// Depth that the charge is worth over the bare area, m.
pub const DEPTH: usize = METALS_END;
/// Behind what rates and operating point hang on: what follows is added up alone.
pub const FED: usize = DEPTH + 1;
/// Silver loose on the pan, mol.
pub const LOOSE: usize = FED;
/// Silver held on the pan, mol.
pub const HELD: usize = FED + 1;
/// Copper plated on the pan, mol.
pub const PAN_COPPER: usize = FED + 2;
/// Integral of the loose share over the time with the current on, s.
pub const LOOSE_TIME: usize = FED + 3;
/// The first tally; everything from here on steers not even the length of a step.
pub const TALLY: usize = FED + 4;
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
/// Time with the current on, s.
pub const ON_TIME: usize = TALLY + 7;

/// Which straight segments of the cell's curves a step follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Segments {
    /// Of the open-circuit voltage at the available share.
    pub ocv: usize,
    /// Of the resistance factor at the available share.
    pub r0: usize,
    /// Of the open-circuit voltage at the total share.
    pub total: usize,
    /// Which source of several it is with, from 0.
    pub stage: usize,
}

impl Segments {
    /// The segments on which a state lies.
    pub fn of(setup: &Setup, y: &State) -> Self {
        setup.source.pack().map_or_else(Self::default, |p| {
            let (s, total) = shares(p, y);
            Self {
                ocv: p.cell.ocv.segment(s),
                r0: p.cell.r0_curve.segment(s),
                total: p.cell.ocv.segment(total),
                stage: 0,
            }
        })
    }
}

/// Which source of several a run is with, and how it came there.
#[derive(Debug, Clone, Default)]
pub struct Stage {
    /// From 0.
    pub number: usize,
    /// Time with the current on up to it, s.
    pub on_before: f64,
    /// Energy taken from those before, J.
    pub energy_before: f64,
    /// What had passed the terminals by then, J.
    pub terminal_before: f64,
    /// Charge by then, C.
    pub charge_before: f64,
    /// When each after the first was begun, s.
    pub changes: Vec<f64>,
    /// Wells of the cells of every source, as they were left.
    pub left: Vec<Option<(f64, f64)>>,
}

/// Available and total share of a cell's charge.
pub fn shares(pack: &Pack, y: &State) -> (f64, f64) {
    let wells = &pack.cell.wells;
    (wells.available(y[Q1]), wells.total(y[Q1], y[Q2]))
}

/// Depth of the floor in a state, m.
pub fn depth_of(setup: &Setup, y: &State) -> f64 {
    setup.piece.walls.floor(y[DEPTH])
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
    y[DEPTH] = setup.piece.begun_worth();
    y[CORE] = setup.ambient_k;
    y[SURFACE] = setup.ambient_k;
    y[BATH] = setup.bath.temperature_k;
    for (slot, metal) in y[METAL..METALS_END].iter_mut().zip(&setup.bath.plating) {
        *slot = metal.c0;
    }
    y
}
