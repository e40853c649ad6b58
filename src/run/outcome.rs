//! What came of a run.

use super::state::METALS;
use serde::Serialize;

/// Why a run ended; on a tie the first of these in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum Stop {
    /// Target depth reached.
    Depth,
    /// Metal under the recess down to the floor.
    Floor,
    /// The cells are empty.
    Empty,
    /// A cell's hot spot at its limit.
    Hot,
    /// The bath boils.
    Boil,
    /// The bath freezes.
    Freeze,
    /// Time limit reached.
    Time,
    /// The source cannot push a current at all.
    #[serde(rename = "no current")]
    NoCurrent,
}

/// How full the two wells are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wells {
    /// Share of the available well.
    pub available: f64,
    /// Share of the whole charge.
    pub total: f64,
}

/// The outcome of one run without rests; SI.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Why it ended.
    pub stop: Stop,
    /// How long it took, s.
    pub time_s: f64,
    /// Depth of the floor reached, m.
    pub depth_m: f64,
    /// Depth that the charge is worth over the bare area, m: the walls have their share of it.
    pub charge_depth_m: f64,
    /// Undercut at each edge, m.
    pub undercut_m: f64,
    /// Charge through the bath, C.
    pub charge_c: f64,
    /// Energy taken from the source, J.
    pub energy_j: f64,
    /// What is missing in the energy balance over the energy taken.
    pub energy_residual: Option<f64>,
    /// Current at the start, A.
    pub start_current_a: f64,
    /// Charge over time, A.
    pub mean_current_a: f64,
    /// Current at the end, A.
    pub end_current_a: f64,
    /// Current at the start over the bare area, A/m2.
    pub start_current_density: f64,
    /// Terminal voltage under load at the start, V.
    pub start_source_v: f64,
    /// Terminal voltage at the end, V.
    pub end_source_v: f64,
    /// Bath voltage under load at the start, V.
    pub start_bath_v: f64,
    /// Back voltage at the start, V.
    pub start_back_emf_v: f64,
    /// Bath resistance at the start, ohm.
    pub bath_resistance_ohm: f64,
    /// Leads with clips, ohm.
    pub lead_resistance_ohm: f64,
    /// Source resistance at the start, ohm.
    pub source_resistance_ohm: f64,
    /// Hottest spot of a cell, K.
    pub peak_hot_spot_k: Option<f64>,
    /// Hottest surface of a cell, K.
    pub peak_surface_k: Option<f64>,
    /// Bath temperature at the end, K.
    pub end_bath_k: f64,
    /// Where the silver of this run is at its end.
    pub end_silver: Silver,
    /// Where it is after [`NIGHT_S`] more, the current off.
    pub night_silver: Silver,
    /// Metal dissolved, kg.
    pub metal_removed_kg: f64,
    /// Metal dissolved by element, kg.
    pub removed_kg: Vec<(String, f64)>,
    /// The wells at the end.
    pub wells_end: Option<Wells>,
    /// Extremes on the way, for the findings.
    pub extremes: Extremes,
    /// When each source after the first took over, s; empty with one alone.
    pub changes_s: Vec<f64>,
    /// What it took to work out.
    pub work: Work,
}

/// A night in the pan, s.
pub const NIGHT_S: f64 = 12.0 * 3600.0;

/// Where the silver that a run dissolved is, kg.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Silver {
    /// Loose on the pan, as sludge.
    pub loose: f64,
    /// Held on the pan.
    pub held: f64,
    /// In solution; under nothing where the pan took of what was dissolved before.
    pub solution: f64,
}

impl Silver {
    /// On the pan, loose or held.
    pub fn down(&self) -> f64 {
        self.loose + self.held
    }
}

/// Extremes on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes {
    /// Highest current, A.
    pub current_a: f64,
    /// Lowest cell voltage, V; infinite without cells.
    pub cell_v: f64,
    /// Highest cathode load.
    pub cathode_load: f64,
    /// Highest concentration of the main metal at the sheet, mol/m3.
    pub surface_mol_per_m3: f64,
    /// Highest bath temperature, K.
    pub bath_k: f64,
    /// Dissolved plating metals at the end, mol/m3, in the setup's order.
    pub metals_end: [f64; METALS],
    /// When so much silver lay on the pan that it shows as a dark bloom, s; none if it never did.
    pub bloom_s: Option<f64>,
    /// Whether a supply's current limit held at the start, and at the end.
    pub limited: (bool, bool),
}

impl Extremes {
    /// Before anything was seen.
    pub(super) const NONE: Self = Self {
        current_a: 0.0,
        cell_v: f64::INFINITY,
        cathode_load: 0.0,
        surface_mol_per_m3: 0.0,
        bath_k: f64::NEG_INFINITY,
        metals_end: [0.0; METALS],
        bloom_s: None,
        limited: (false, false),
    };
}

/// The work that a run took; a test keeps an eye on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Work {
    /// Steps taken.
    pub steps: u64,
    /// Steps tried and rejected.
    pub rejected: u64,
    /// Evaluations of the rates.
    pub evaluations: u64,
    /// Trial potentials of the operating point.
    pub trials: u64,
}
