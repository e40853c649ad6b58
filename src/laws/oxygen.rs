//! Oxygen at a pan that by mistake is the anode, and does not itself dissolve.
//!
//! 2 H2O -> O2 + 4 H+ + 4 e-: E0 = 1.229 V against the standard hydrogen electrode (CRC Handbook,
//! electrochemical series), falling by ln(10)/f a pH unit; over it Tafel's law.

use std::f64::consts::LN_10;

/// Standard potential, V.
const E0_V: f64 = 1.229;
/// Exchange current density on steel that is passive, A/m2 (judgement: half a volt and more over
/// equilibrium at a hundred A/m2).
const I0: f64 = 1e-3;
/// Share of the voltage that helps (judgement: 120 mV a decade at room temperature).
const ALPHA: f64 = 0.5;

/// Equilibrium potential at a pH, with f = F/(RT) in 1/V; V.
pub fn equilibrium_v(ph: f64, f: f64) -> f64 {
    E0_V - LN_10 * ph / f
}

/// Potential at a current density `i` >= 0 (A/m2), V.
pub fn potential_v(i: f64, ph: f64, f: f64) -> f64 {
    equilibrium_v(ph, f) + libm::log1p(i / I0) / (ALPHA * f)
}

#[cfg(test)]
mod tests {
    use super::super::constants::{REFERENCE_K, inverse_thermal_voltage};
    use super::*;

    #[test]
    fn the_line_of_water() {
        let f = inverse_thermal_voltage(REFERENCE_K);
        // Pourbaix's line b: 1.229 - 0.0592 pH at 25 degC (any text).
        assert!((equilibrium_v(7.0, f) - (1.229 - 0.0592 * 7.0)).abs() < 1e-3);
        let decade = potential_v(1000.0, 3.0, f) - potential_v(100.0, 3.0, f);
        assert!((decade - 0.1183).abs() < 1e-3, "{decade}");
        assert_eq!(potential_v(0.0, 3.0, f), equilibrium_v(3.0, f));
    }
}
