//! Faraday's law for an alloy whose constituents all dissolve.
//!
//! Equivalent weight after ASTM G102: EW = 1 / sum(w v / M); the standard leaves out
//! what is under 1 % by mass, here everything counts.

use super::constants::FARADAY;

/// One constituent of an alloy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constituent {
    /// Mass share, 0..=1.
    pub mass_share: f64,
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
    /// Electrons given up on dissolving.
    pub valence: f64,
}

impl Constituent {
    fn equivalents_per_kg(&self) -> f64 {
        self.mass_share * self.valence / self.molar_mass
    }
}

/// Equivalent weight, kg/mol of electrons (ASTM G102).
pub fn equivalent_weight(parts: &[Constituent]) -> f64 {
    1.0 / parts.iter().map(Constituent::equivalents_per_kg).sum::<f64>()
}

/// The share of the charge that a constituent carries.
pub fn charge_share(part: &Constituent, equivalent_weight: f64) -> f64 {
    part.equivalents_per_kg() * equivalent_weight
}

/// Metal dissolved by a charge, kg; `efficiency` 0..=1.
pub fn mass_kg(charge_c: f64, equivalent_weight: f64, efficiency: f64) -> f64 {
    efficiency * charge_c * equivalent_weight / FARADAY
}

/// Depth gained for each coulomb over a bare area, m/C.
pub fn depth_per_coulomb(equivalent_weight: f64, efficiency: f64, density: f64, area: f64) -> f64 {
    efficiency * equivalent_weight / (FARADAY * density * area)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(mass_share: f64, molar_mass: f64, valence: f64) -> Constituent {
        Constituent { mass_share, molar_mass, valence }
    }

    #[test]
    fn equivalent_weights_of_the_standard() {
        // ASTM G102-89 table 1 as remembered (from memory): C11000 31.77, C26000 32.04
        // g/equivalent to its printed digits; C26000 is rounded there from nominal 70/30.
        let copper = [part(1.0, 0.063_546, 2.0)];
        assert!((equivalent_weight(&copper) - 31.77e-3).abs() < 0.01e-3);
        let brass = [part(0.7, 0.063_546, 2.0), part(0.3, 0.065_38, 2.0)];
        assert!((equivalent_weight(&brass) - 32.04e-3).abs() < 0.02e-3);
        let shares: f64 = brass.iter().map(|p| charge_share(p, equivalent_weight(&brass))).sum();
        assert!((shares - 1.0).abs() < 1e-15);
    }

    #[test]
    fn penetration_rate_of_the_standard() {
        // ASTM G102: CR = K1 i EW/rho, K1 = 3.27e-3 mm g/(uA cm yr) (three digits, so
        // 0.1 %): 10 mA/cm2 on copper, EW 31.77, 8.94 g/cm3 -> 116.2 mm/yr.
        let rate = depth_per_coulomb(31.77e-3, 1.0, 8940.0, 1.0) * 100.0;
        let mm_per_year = rate * 1e3 * 365.25 * 86_400.0;
        assert!((mm_per_year / 116.2 - 1.0).abs() < 1e-3, "{mm_per_year}");
    }
}
