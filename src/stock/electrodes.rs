//! Kinetics of the electrodes, V against the standard hydrogen electrode at 25 degC.

use super::rows::rows;
use super::sourced::{Number, Sourced, takes, within};
use crate::units::{CurrentDensity, Velocity, Voltage};

/// All electrode data.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Electrodes {
    /// Dissolving metals.
    pub anode: Vec<AnodeData>,
    /// Plating metals.
    pub cathode: Vec<CathodeData>,
    /// Hydrogen at the pan.
    pub hydrogen: HydrogenData,
}

rows! {
    /// A dissolving metal.
    AnodeData {
        /// Chemical symbol.
        species: String = "", takes("a chemical symbol");
        e0: Sourced<Voltage> = "standard potential", within("-3 V", "3 V");
        n: Sourced<Number> = "electrons", within("1", "7");
        alpha: Sourced<Number> = "transfer coefficient", within("0.05", "3");
        i0: Sourced<CurrentDensity> = "exchange current density", within("1e-9 A/m2", "1000000 A/m2");
        mass_transfer_still: Sourced<Velocity> = "to and from the face, still", within("0.01 um/s", "1000 um/s");
        mass_transfer_stirred: Sourced<Velocity> = "the same, stirred", within("0.01 um/s", "1000 um/s");
    }
}

/// A plating metal; the same numbers, the transfer coefficient being the cathodic one.
pub type CathodeData = AnodeData;

rows! {
    /// Hydrogen evolution.
    HydrogenData {
        i0: Sourced<CurrentDensity> = "exchange current density", within("1e-9 A/m2", "1000000 A/m2");
        /// Cathodic transfer coefficient.
        alpha: Sourced<Number> = "transfer coefficient", within("0.05", "2");
    }
}
