//! The resolved setup: every number that a run uses, in SI, and nothing else.

use crate::laws::anode::Anode;
use crate::laws::cathode::{Hydrogen, Plating};
pub use crate::laws::cell::CutoffOn;
use crate::laws::curve::Curve;
use crate::laws::faraday::Constituent;
use crate::laws::film::Film;
use crate::laws::loose::Thresholds;
use crate::laws::walls::Walls;
use crate::laws::wells::Wells;

/// All that a run needs to know.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// The sheet.
    pub piece: Piece,
    /// The bath and both electrodes.
    pub bath: Bath,
    /// What pushes the current.
    pub source: Source,
    /// The leads.
    pub leads: Leads,
    /// What comes after this source, where others follow.
    pub then: Option<Box<Then>>,
    /// Air around bath and cells, K.
    pub ambient_k: f64,
    /// Longest run, s.
    pub time_limit_s: f64,
}

/// What comes after a source.
#[derive(Debug, Clone, PartialEq)]
pub struct Then {
    /// When the source before it has done its part.
    pub after: After,
    /// The setup with the next source.
    pub setup: Setup,
}

/// When a source has done its part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum After {
    /// With the current on for so long, s.
    Time(f64),
    /// With the floor so deep, m.
    Depth(f64),
}

impl Setup {
    /// The setups of all its stages, this one first.
    pub fn stages(&self) -> impl Iterator<Item = &Self> {
        std::iter::successors(Some(self), |setup| setup.then.as_ref().map(|then| &then.setup))
    }

    /// That of a stage, from 0; the last where there are not so many.
    pub fn stage(&self, n: usize) -> &Self {
        self.stages().take(n + 1).last().unwrap_or(self)
    }

    /// Changes every stage alike.
    pub fn in_every_stage(&mut self, change: &dyn Fn(&mut Self)) {
        change(self);
        if let Some(then) = &mut self.then {
            then.setup.in_every_stage(change);
        }
    }

    /// The same piece with no depth to stop at, whatever the stage.
    pub fn go_on_for_ever(&mut self) {
        self.in_every_stage(&|setup| {
            setup.piece.depth = f64::INFINITY;
            setup.piece.floor = None;
        });
    }

    /// Depth at which it is done with this source, m.
    pub fn done_at(&self) -> f64 {
        match self.then.as_ref().map(|then| then.after) {
            Some(After::Depth(depth)) => depth,
            _ => self.piece.depth,
        }
    }

    /// Cells of a stage, the first that has any.
    pub fn cells(&self) -> Option<&Pack> {
        self.stages().find_map(|setup| setup.source.pack())
    }

    /// Share of the time with the current on while it is switched on: 1 where it does not pulse.
    pub fn duty(&self) -> f64 {
        match self.source {
            Source::Supply { duty, .. } => duty,
            _ => 1.0,
        }
    }
}

/// The sheet being etched.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// The alloy, with each constituent's symbol.
    pub parts: Vec<(String, Constituent)>,
    /// Equivalent weight, kg/mol.
    pub equivalent_weight: f64,
    /// Density, kg/m3.
    pub density: f64,
    /// Bare area of all pieces hung together, m2.
    pub exposed_area: f64,
    /// Current efficiency, 0..=1.
    pub efficiency: f64,
    /// Target depth of the floor, m.
    pub depth: f64,
    /// Depth of the floor that it has already at the start, m.
    pub begun: f64,
    /// Sheet thickness, m.
    pub thickness: f64,
    /// Least metal left under the recess, m; none when not watched.
    pub floor: Option<f64>,
    /// Charge through each bare area at which the resist begins to lift, and has, C/m2.
    pub resist_lifts: (f64, f64),
    /// The edges of the drawing, and depth over undercut.
    pub walls: Walls,
}

impl Piece {
    /// What a charge would have to be worth over the bare area for the floor to be as deep as it
    /// is at the start, m.
    pub fn begun_worth(&self) -> f64 {
        self.walls.charge_depth(self.begun)
    }
}

/// A metal that the pan takes up.
#[derive(Debug, Clone, PartialEq)]
pub struct PlatingMetal {
    /// Chemical symbol.
    pub symbol: String,
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
    /// Kinetics.
    pub law: Plating,
    /// The film at the pan.
    pub film: Film,
    /// Whether it is the bath's own, there in all of the bath, or comes of the piece alone and
    /// stays under it while the current is on.
    pub of_bath: bool,
    /// Concentration at the start, mol/m3.
    pub c0: f64,
    /// Rate at which a coulomb through the sheet brings it into the bath, mol/C.
    pub mol_per_coulomb: f64,
}

/// The bath.
#[derive(Debug, Clone, PartialEq)]
pub struct Bath {
    /// Conductivity at 25 degC, S/m.
    pub kappa25: f64,
    /// Its temperature coefficient, 1/K.
    pub kappa_beta: f64,
    /// Shape factor, 1/m.
    pub shape_factor: f64,
    /// Chemical symbol of the alloy's main metal.
    pub anode_species: String,
    /// Its kinetics.
    pub anode: Anode,
    /// Which of `plating` the anode's metal is.
    pub anode_index: usize,
    /// Metals that plate: at most [`super::METALS`].
    pub plating: Vec<PlatingMetal>,
    /// Hydrogen at the pan.
    pub hydrogen: Hydrogen,
    /// pH, fixed.
    pub ph: f64,
    /// Rise of the films' free coefficients with temperature, 1/K.
    pub transfer_beta: f64,
    /// Wetted area of the pan, m2.
    pub cathode_area: f64,
    /// Area of it that the bath's own metals and hydrogen take, m2.
    pub core_area: f64,
    /// Area of it that the piece's metals take, m2.
    pub spread_area: f64,
    /// Loads of the pan between which silver turns loose.
    pub loose: Thresholds,
    /// Film of silver that falls on copper: m/s at 1 mol/m3.
    pub rest_transfer: f64,
    /// Whether the pan itself is of copper, so that silver falls on all of it, at any time.
    pub pan_is_copper: bool,
    /// Volume, m3.
    pub volume: f64,
    /// Volume that what leaves the piece stays in while the current is on, m3.
    pub reach: f64,
    /// Dissolved main metal at which a salt film forms, mol/m3; none where stock knows none.
    pub solubility: Option<f64>,
    /// Heat capacity, J/K.
    pub heat_capacity: f64,
    /// Heat loss, W/K.
    pub heat_loss: f64,
    /// Temperature at the start, K.
    pub temperature_k: f64,
    /// Temperature at which it boils, K.
    pub boil_k: f64,
    /// Temperature at which it freezes, K.
    pub freeze_k: f64,
}

impl Bath {
    /// Area of the pan on which a metal comes down, m2.
    pub fn area_of(&self, metal: &PlatingMetal) -> f64 {
        if metal.of_bath { self.core_area } else { self.spread_area }
    }

    /// Volume in which a metal is there while the current is on, m3.
    pub fn volume_of(&self, metal: &PlatingMetal) -> f64 {
        if metal.of_bath { self.volume } else { self.reach }
    }

    /// Where a metal stands among those that plate.
    pub fn index_of(&self, symbol: &str) -> Option<usize> {
        self.plating.iter().position(|m| m.symbol == symbol)
    }
}

/// The leads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leads {
    /// Both ways with clips, ohm.
    pub resistance: f64,
    /// The resistor that is put into one of them, ohm.
    pub resistor: f64,
}

impl Leads {
    /// All that lies between the source and the bath, ohm.
    pub fn ohm(&self) -> f64 {
        self.resistance + self.resistor
    }
}

/// What pushes the current.
#[derive(Debug, Clone, PartialEq)]
pub enum Source {
    /// Cells in series and parallel.
    Pack(Box<Pack>),
    /// A regulated bench supply.
    Supply {
        /// Voltage set, V.
        set_v: f64,
        /// Output resistance, ohm.
        out_ohm: f64,
        /// Share of the time with the current on, 0..=1.
        duty: f64,
        /// Current limit, A.
        limit_a: Option<f64>,
    },
    /// An unregulated plug-in adapter.
    Adapter {
        /// No-load voltage, V.
        open_v: f64,
        /// Its slope, ohm.
        series_ohm: f64,
        /// Rated current, A.
        rated_a: Option<f64>,
    },
}

impl Source {
    /// The pack, when it is one.
    pub fn pack(&self) -> Option<&Pack> {
        match self {
            Self::Pack(pack) => Some(pack),
            _ => None,
        }
    }
}

/// Cells, all alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Pack {
    /// In series.
    pub series: f64,
    /// In parallel.
    pub parallel: f64,
    /// Charge left at the start, 0..=1.
    pub charge_left: f64,
    /// Contact resistance of a cell, both ends together, ohm.
    pub contact_ohm: f64,
    /// Share of the worst-placed cell's surface that air reaches.
    pub exposed_share: f64,
    /// Factor on natural convection.
    pub convection_factor: f64,
    /// Hot spot at which the run stops, K.
    pub temperature_limit_k: f64,
    /// The cell.
    pub cell: Cell,
}

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// Its charge.
    pub wells: Wells,
    /// Open-circuit voltage against available share, V.
    pub ocv: Curve,
    /// Resistance factor against available share.
    pub r0_curve: Curve,
    /// Resistance at 25 degC, ohm.
    pub r0_ohm: f64,
    /// Its temperature constant B, K.
    pub r0_temp_k: f64,
    /// Polarisation resistance, ohm.
    pub r1_ohm: f64,
    /// Polarisation capacitance, F.
    pub c1_f: f64,
    /// Cut-off, V.
    pub cutoff_v: f64,
    /// What the cut-off is compared with.
    pub cutoff_on: CutoffOn,
    /// dU/dT, V/K.
    pub entropy: f64,
    /// Heat capacity of the core, J/K.
    pub core_j_per_k: f64,
    /// Heat capacity of the surface, J/K.
    pub surface_j_per_k: f64,
    /// Core to surface, K/W.
    pub core_to_surface: f64,
    /// Surface, m2.
    pub surface_m2: f64,
    /// Emissivity.
    pub emissivity: f64,
    /// Diameter, m.
    pub diameter: f64,
}
