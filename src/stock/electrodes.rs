//! Kinetics of the electrodes, V against the standard hydrogen electrode at 25 degC.

use super::rows::rows;
use super::sourced::{Number, Sourced, takes, within};
use crate::units::{CurrentDensity, TemperatureCoefficient, Velocity, Voltage};

/// All electrode data.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Electrodes {
    /// Dissolving metals.
    pub anode: Vec<AnodeData>,
    /// Plating metals.
    pub cathode: Vec<CathodeData>,
    /// Hydrogen at the pan.
    pub hydrogen: HydrogenData,
    /// What falls on the pan, and how.
    pub pan: PanData,
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
    /// What falls on the pan: how loose, and what falls by itself.
    PanData {
        loose_from: Sourced<Number> = "load of the pan at which silver begins to be loose", within("0", "1");
        loose_all: Sourced<Number> = "load at which all of it is", within("0", "10");
        loose_from_acid: Sourced<Number> = "the same at which it begins, with acid", within("0", "1");
        loose_all_acid: Sourced<Number> = "the same at which all is, with acid", within("0", "10");
        rest_transfer: Sourced<Velocity> = "silver that falls on copper by itself, at 1 mol/m3", within("0.0001 um/s", "1000 um/s");
        transfer_beta: Sourced<TemperatureCoefficient> = "rise of what films carry that stir themselves", within("0 %/K", "10 %/K");
    }
}

rows! {
    /// Hydrogen evolution.
    HydrogenData {
        i0: Sourced<CurrentDensity> = "exchange current density", within("1e-9 A/m2", "1000000 A/m2");
        /// Cathodic transfer coefficient.
        alpha: Sourced<Number> = "transfer coefficient", within("0.05", "2");
    }
}
