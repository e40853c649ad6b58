//! Cells by IEC designation.

use super::sourced::{Number, Pairs, Sourced};
use super::{Named, sourced::Certainty};
use crate::units::{
    Capacitance, Charge, Current, Length, Mass, RateConstant, Resistance, Share,
    SpecificHeatCapacity, Temperature, TemperatureInterval, ThermalConductivity, Voltage,
    VoltsPerKelvin,
};
use serde::{Deserialize, Serialize};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Catalogue {
    pub cell: Vec<Cell>,
}

/// One kind of cell, or a block counted as one. Resistances at 25 degC.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Cell {
    /// IEC designation.
    pub name: String,
    /// In plain words.
    pub title: String,
    /// What is inside.
    pub chemistry: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// Whether it may be charged.
    pub rechargeable: bool,
    /// What the cut-off is compared with.
    pub cutoff_on: CutoffOn,
    /// Nominal voltage.
    pub nominal: Sourced<Voltage>,
    /// Capacity Q of both wells.
    pub capacity: Sourced<Charge>,
    /// Share c of it in the available well.
    pub available_share: Sourced<Number>,
    /// Rate k between the wells.
    pub well_rate: Sourced<RateConstant>,
    /// Resistance of the full cell.
    pub r0: Sourced<Resistance>,
    /// Its temperature constant B.
    pub r0_temperature: Sourced<TemperatureInterval>,
    /// Its factor against available share.
    pub r0_curve_factor: Sourced<Pairs>,
    /// Polarisation resistance.
    pub r1: Sourced<Resistance>,
    /// Polarisation capacitance.
    pub c1: Sourced<Capacitance>,
    /// Rest voltage against available share, V.
    pub ocv_curve_v: Sourced<Pairs>,
    /// Cut-off voltage.
    pub cutoff: Sourced<Voltage>,
    /// Mass.
    pub mass: Sourced<Mass>,
    /// Specific heat.
    pub specific_heat: Sourced<SpecificHeatCapacity>,
    /// Diameter.
    pub diameter: Sourced<Length>,
    /// Length.
    pub length: Sourced<Length>,
    /// Thermal conductivity across the wound or pressed body.
    pub radial_conductivity: Sourced<ThermalConductivity>,
    /// Emissivity of the jacket.
    pub emissivity: Sourced<Number>,
    /// dU/dT.
    pub entropy: Sourced<VoltsPerKelvin>,
    /// Highest temperature in discharge.
    pub max_temperature: Sourced<Temperature>,
    /// Current it stands for long.
    pub continuous_current: Sourced<Current>,
    /// Spread of the capacity between like cells.
    pub capacity_spread: Sourced<Share>,
    /// Spread of the resistance between like cells.
    pub resistance_spread: Sourced<Share>,
}

/// What a cell's cut-off is compared with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CutoffOn {
    /// Its terminal voltage.
    Terminal,
    /// Its rest voltage less polarisation.
    Rested,
}

impl Named for Cell {
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
    fn call(&mut self, name: &str, aliases: Vec<String>) {
        (self.name, self.aliases) = (name.into(), aliases);
    }
    fn forget(&mut self, alias: &str) {
        self.aliases.retain(|a| !a.eq_ignore_ascii_case(alias.trim()));
    }
}

impl Cell {
    /// Whether the numbers that rule a run are recalled or judged rather than read.
    pub fn mostly_recalled(&self) -> bool {
        let weak = |c: Certainty| matches!(c, Certainty::Memory | Certainty::Judgement);
        weak(self.r0.certainty) && weak(self.ocv_curve_v.certainty)
    }
}
