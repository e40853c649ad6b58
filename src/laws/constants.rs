//! Physical constants, SI. Source: CODATA 2018 (exact values, digits as printed there).

/// Faraday constant, C/mol.
pub const FARADAY: f64 = 96_485.332_12;
/// Molar gas constant, J/(mol K).
pub const GAS: f64 = 8.314_462_618;
/// Stefan-Boltzmann constant, W/(m2 K4).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// Standard acceleration of free fall, m/s2 (exact by definition).
pub const GRAVITY: f64 = 9.806_65;
/// The reference temperature of kinetic and conductivity data, 25 degC in kelvin.
pub const REFERENCE_K: f64 = 298.15;
/// One mole per litre in mol/m3.
pub const MOL_PER_LITRE: f64 = 1000.0;
/// Concentrations inside logarithms do not fall below this, mol/L.
pub const LOG_FLOOR_MOL_PER_L: f64 = 1e-6;

/// f = F/(R T), 1/V; `t_k` in kelvin, above zero.
pub fn inverse_thermal_voltage(t_k: f64) -> f64 {
    FARADAY / (GAS * t_k)
}

/// ln of a concentration in mol/L, given in mol/m3 and floored.
pub fn ln_molar(c_mol_per_m3: f64) -> f64 {
    libm::log((c_mol_per_m3 / MOL_PER_LITRE).max(LOG_FLOOR_MOL_PER_L))
}

/// A dissolved metal, as the logarithms of Nernst's law want it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Dissolved {
    /// Concentration, mol/m3.
    pub c: f64,
    /// Its logarithm in mol/L, with the floor of [`ln_molar`].
    pub ln: f64,
}

impl Dissolved {
    /// At a concentration, mol/m3.
    pub fn of(c: f64) -> Self {
        Self { c, ln: ln_molar(c) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn constants_hang_together() {
        // CODATA 2018: F = e N_A, R = k N_A from the exact SI values.
        let (e, n_a, k) = (1.602_176_634e-19, 6.022_140_76e23, 1.380_649e-23);
        assert!((FARADAY / (e * n_a) - 1.0).abs() < 1e-9);
        assert!((GAS / (k * n_a) - 1.0).abs() < 1e-9);
        // 25.693 mV at 25 degC, any electrochemistry text.
        assert!((1.0 / inverse_thermal_voltage(REFERENCE_K) - 0.025_693).abs() < 1e-6);
    }
}
