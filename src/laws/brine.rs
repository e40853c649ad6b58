//! Copper(I) that brine holds in solution, mol/m3, over solid copper(I) chloride.
//!
//! CuCl(s) + Cl- = CuCl2-, CuCl(s) + 2 Cl- = CuCl3(2-), concentrations for activities:
//! S = K2 c + K3 c^2, c the bath's chloride in mol/L (anions move to the sheet, so its face is
//! no poorer in chloride than the bath).
//!
//! S/c is 0.060 in dilute chloride and 0.076 at 1 mol/L (Noyes and Chow 1918, Fritz 1980; from
//! memory; which of them stands for which strength is judgement): K2 = 0.060, K3 = 0.016 L/mol.
//! Without activities the database wateq4f.dat (read: log K -6.76 for CuCl, 5.50 for CuCl2-,
//! 5.70 for CuCl3(2-)) has 0.055 and 0.087 L/mol: the same in weak brine, twice as much at
//! 1 mol/L, three times at 5. So the second figure is known to a factor of about three.

use super::constants::MOL_PER_LITRE;
use super::range::Range;

/// Share of the chloride that CuCl2- takes, CuCl(s) + Cl- = CuCl2-.
const K2: f64 = 0.060;
/// CuCl(s) + 2 Cl- = CuCl3(2-), L/mol.
const K3: f64 = 0.016;

/// Chloride for which there are figures.
pub const CHLORIDE: Range = Range {
    law: "copper(I) in brine",
    of: "chloride",
    low: 0.1 * MOL_PER_LITRE,
    high: 5.0 * MOL_PER_LITRE,
    unit: "mol/m3",
    source: "from memory: measured to 1 mol/L, carried on to saturated brine",
};

/// Solubility of copper(I), mol/m3, for `chloride` mol/m3.
#[must_use]
pub fn solubility(chloride: f64) -> f64 {
    chloride * (K2 + K3 * chloride / MOL_PER_LITRE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn share_of_the_chloride() {
        let share = |c: f64| solubility(c) / c;
        // From memory: 0.060 to 0.076 up to 1 mol/L, more above 2 mol/L.
        for c in [1.0, 100.0, 500.0, 1000.0] {
            assert!((0.060..=0.076 + 1e-12).contains(&share(c)), "{c}");
        }
        assert!(share(2000.0) > 0.08 && share(5000.0) > 1.6 * share(1000.0));
        assert_eq!(solubility(0.0), 0.0);
    }

    #[test]
    fn within_the_databases_factor() {
        // wateq4f.dat, read: K = Ksp beta, no activities.
        let (ksp, beta2, beta3) = (-6.76, 5.50, 5.70);
        let power = |x: f64| 10f64.powf(x);
        let database = |c: f64| power(ksp + beta2) * c + power(ksp + beta3) * c * c;
        for (molar, low, high) in [(0.1, 0.9, 1.1), (1.0, 0.5, 1.0), (5.0, 0.28, 1.0)] {
            let ratio = 1e-3 * solubility(1e3 * molar) / database(molar);
            assert!((low..high).contains(&ratio), "{molar}: {ratio}");
        }
    }
}
