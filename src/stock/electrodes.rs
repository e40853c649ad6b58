//! Kinetics of the electrodes, V against the standard hydrogen electrode at 25 degC.

use super::sourced::{Number, Sourced};
use crate::units::{CurrentDensity, Velocity, Voltage};
use serde::{Deserialize, Serialize};

/// All electrode data.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Electrodes {
    /// Dissolving metals.
    pub anode: Vec<AnodeData>,
    /// Plating metals.
    pub cathode: Vec<CathodeData>,
    /// Hydrogen at the pan.
    pub hydrogen: HydrogenData,
}

/// A dissolving metal.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct AnodeData {
    /// Chemical symbol.
    pub species: String,
    /// Standard potential.
    pub e0: Sourced<Voltage>,
    /// Electrons.
    pub n: Sourced<Number>,
    /// Total transfer coefficient.
    pub alpha: Sourced<Number>,
    /// Exchange current density.
    pub i0: Sourced<CurrentDensity>,
    /// Mass transfer coefficient in a still bath.
    pub mass_transfer_still: Sourced<Velocity>,
    /// The same in a stirred one.
    pub mass_transfer_stirred: Sourced<Velocity>,
}

/// A plating metal; the same numbers, the transfer coefficient being the cathodic one.
pub type CathodeData = AnodeData;

/// Hydrogen evolution.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct HydrogenData {
    /// Exchange current density.
    pub i0: Sourced<CurrentDensity>,
    /// Cathodic transfer coefficient.
    pub alpha: Sourced<Number>,
}
