//! Where a bath boils and where it freezes, K, from the molality of its ions.
//!
//! T_boil = 373.15 + K_b m, T_freeze = 273.15 - K_f m, m in mol of ions a kg of water, all salt
//! taken as ions; K_b = 0.512, K_f = 1.86 K kg/mol, water's ebullioscopic and cryoscopic constants
//! (from memory). At standard pressure; altitude is not in it. The depression comes out within
//! 12 % for sodium chloride up to 5 mol/kg (computed from tables recalled).

use super::range::Range;

/// Boiling point of water, K (1 atm).
const BOIL_K: f64 = 373.15;
/// Freezing point of water, K.
const FREEZE_K: f64 = 273.15;
/// Ebullioscopic constant of water, K kg/mol.
const EBULLIOSCOPIC: f64 = 0.512;
/// Cryoscopic constant of water, K kg/mol.
const CRYOSCOPIC: f64 = 1.86;

/// Molality of ions up to which a salt's own figures bear it out.
pub const IONS: Range = Range {
    law: "boiling and freezing",
    of: "molality of ions",
    low: 0.0,
    high: 10.0,
    unit: "mol/kg",
    source: "sodium chloride's freezing points to 5 mol/kg, within 12 %; from memory",
};

/// Boiling point at this molality of ions (mol/kg), K.
#[must_use]
pub fn boil_k(ions: f64) -> f64 {
    BOIL_K + EBULLIOSCOPIC * ions
}

/// Freezing point at this molality of ions (mol/kg), K.
#[must_use]
pub fn freeze_k(ions: f64) -> f64 {
    FREEZE_K - CRYOSCOPIC * ions
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn constants_of_water() {
        // R T^2 M/dH (any physical chemistry text): fusion 6.010 kJ/mol at 273.15 K, vaporisation
        // 40.66 kJ/mol at 373.15 K, 18.015 g/mol.
        let constant = |t: f64, heat: f64| super::super::constants::GAS * t * t * 18.015e-3 / heat;
        assert!((CRYOSCOPIC / constant(FREEZE_K, 6010.0) - 1.0).abs() < 2e-3);
        assert!((EBULLIOSCOPIC / constant(BOIL_K, 40_660.0) - 1.0).abs() < 3e-3);
    }

    #[test]
    fn freezing_of_salt_water() {
        // CRC, concentrative properties, NaCl (from memory): 1 mol/kg freezes at -3.37 degC,
        // saturated (5.17 mol/kg) at -21.1 degC.
        for (m, below) in [(1.0, 3.37), (5.17, 21.1)] {
            let got = FREEZE_K - freeze_k(2.0 * m);
            assert!((got / below - 1.0).abs() < 0.12, "{m}: {got}");
            assert!(IONS.holds(m));
        }
        assert_eq!((boil_k(0.0), freeze_k(0.0)), (BOIL_K, FREEZE_K));
    }
}
