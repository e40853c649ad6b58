//! Conductivity of the bath: concentration curve and temperature, S/m.
//!
//! Casteel and Amis, J. Chem. Eng. Data 1972, 17, 55:
//! kappa = k_max (m/m_max)^a exp(-b (m - m_max)^2 - a (m/m_max - 1)), m in mol/kg.
//! Two sign conventions of b are in print; this is the one of the stock's fits.
//! Temperature: linear about 25 degC, the bracket held within 0.4..2.5.

use super::constants::REFERENCE_K;
use super::range::Range;

/// Coefficients of the curve at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CasteelAmis {
    /// Molality of the maximum, mol/kg.
    pub m_max: f64,
    /// Conductivity at the maximum, S/m.
    pub kappa_max: f64,
    /// Exponent a.
    pub a: f64,
    /// Coefficient b, kg2/mol2.
    pub b: f64,
}

impl CasteelAmis {
    /// Conductivity in S/m at molality `m` > 0; the range is the fit's, kept with it.
    pub fn kappa(&self, m: f64) -> f64 {
        let x = m / self.m_max;
        let dm = m - self.m_max;
        self.kappa_max * libm::pow(x, self.a) * libm::exp(-self.b * dm * dm - self.a * (x - 1.0))
    }
}

/// Lowest and highest factor by which temperature may change the 25 degC value.
pub const BRACKET: (f64, f64) = (0.4, 2.5);

/// Temperature factor before it is held within [`BRACKET`].
pub const WARMTH: Range = Range {
    law: "conductivity",
    of: "temperature factor",
    low: BRACKET.0,
    high: BRACKET.1,
    unit: "",
    source: "judgement: linear about 25 degC",
};

/// 1 + beta (T - 298.15 K), held within [`BRACKET`].
pub fn temperature_factor(beta_per_k: f64, t_k: f64) -> f64 {
    (1.0 + beta_per_k * (t_k - REFERENCE_K)).clamp(BRACKET.0, BRACKET.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sodium_chloride_as_published() {
        // Dorn et al., J. Chem. Eng. Data 2024, 69, 1493: 1 mol/kg NaCl, 25 degC, by its
        // own fit 84.39 mS/cm; CRC 1.0 mol/kg class 84-85: the fit reproduces itself.
        let fit = CasteelAmis { m_max: 6.696_73, kappa_max: 25.164, a: 0.923_81, b: 0.003_75 };
        assert!((fit.kappa(1.0) - 8.439).abs() < 0.005, "{}", fit.kappa(1.0));
        assert!((fit.kappa(fit.m_max) - fit.kappa_max).abs() < 1e-12);
    }

    #[test]
    fn bracket_holds() {
        assert_eq!(temperature_factor(0.02, REFERENCE_K), 1.0);
        assert_eq!(temperature_factor(0.02, 150.0), 0.4);
        assert_eq!(temperature_factor(0.02, 400.0), 2.5);
        assert!((temperature_factor(0.02, 308.15) - 1.2).abs() < 1e-12);
    }
}
