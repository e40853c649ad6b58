//! Density of a salt solution, kg/m3, and from it molality from molarity.
//!
//! Laliberte, J. Chem. Eng. Data 2009, 54, 1725 (first as Laliberte and Cooper 2004):
//! the solution's volume is water's plus the salt's apparent one,
//! v_salt = (w + c2 + c3 t) / ((c0 w + c1) exp(1e-6 (t + c4)^2)), t in degC, m3/kg.
//! Water: the same paper's fraction of polynomials.

use super::range::Range;

/// Temperature over which water's own density holds; the salts' mass shares stand with their
/// coefficients.
pub const WATER: Range = Range {
    law: "density",
    of: "temperature of the water",
    low: 0.0,
    high: 100.0,
    unit: "degC",
    source: "Laliberte 2009, after Kell 1975",
};

/// The salt's five coefficients.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laliberte(pub [f64; 5]);

/// Density of water, kg/m3, 0..=100 degC (Laliberte 2009, after Kell 1975).
pub fn water(t_c: f64) -> f64 {
    let poly =
        ((((-2.8054253e-10 * t_c + 1.0556302e-7) * t_c - 4.6170461e-5) * t_c - 0.0079870401) * t_c
            + 16.945176)
            * t_c
            + 999.83952;
    poly / (1.0 + 0.01687985 * t_c)
}

impl Laliberte {
    /// Density at mass share `w` of salt and `t_c` degC, kg/m3.
    pub fn density(&self, w: f64, t_c: f64) -> f64 {
        let [c0, c1, c2, c3, c4] = self.0;
        let apparent = (w + c2 + c3 * t_c) / ((c0 * w + c1) * libm::exp(1e-6 * (t_c + c4).powi(2)));
        1.0 / ((1.0 - w) / water(t_c) + w * apparent)
    }

    /// Molality (mol per kg of water) of a solution of `c` mol/m3 at `t_c` degC;
    /// `molar_mass` in kg/mol. None when the solution would be stronger than the mass
    /// share `w_max` up to which the coefficients were fitted.
    pub fn molality(&self, c: f64, molar_mass: f64, t_c: f64, w_max: f64) -> Option<f64> {
        // w rho(w) grows with w, so bisection on the mass share cannot miss.
        let grams = |w: f64| w * self.density(w, t_c);
        let target = c * molar_mass;
        let (mut low, mut high) = (0.0, w_max);
        if grams(high) < target {
            return None;
        }
        for _ in 0..60 {
            let mid = 0.5 * (low + high);
            if grams(mid) < target { low = mid } else { high = mid }
        }
        let w = 0.5 * (low + high);
        Some(w / (1.0 - w) / molar_mass)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Coefficients: a general-purpose chemistry library's table of Laliberte 2009.
    const NACL: Laliberte = Laliberte([
        -0.003_241_122_236_551_49,
        0.063_635_433_590_661_6,
        1.013_713_994_673_65,
        0.014_595_101_521_015_9,
        3_317.348_544_265_37,
    ]);

    #[test]
    fn check_value_of_the_equation() {
        // Library documentation: w = 0.0037838838 NaCl at 0 degC -> 1002.62501201 kg/m3.
        let got = NACL.density(0.003_783_883_8, 0.0);
        assert!((got - 1_002.625_012).abs() < 1e-3, "{got}");
    }

    #[test]
    fn handbook_densities() {
        // CRC, concentrative properties, 20 degC: water 998.2; NaCl 5 % 1.0340,
        // 0.885 mol/L; 10 % 1.0707 g/cm3 (the equation's own error 0.04 %).
        assert!((water(20.0) - 998.2).abs() < 0.05);
        assert!((NACL.density(0.05, 20.0) / 1034.0 - 1.0).abs() < 1e-3);
        assert!((NACL.density(0.10, 20.0) / 1070.7 - 1.0).abs() < 1e-3);
        let m = NACL.molality(885.0, 0.058_44, 20.0, 0.2659).unwrap();
        assert!((m / (0.05 / 0.95 / 0.058_44) - 1.0).abs() < 2e-3, "{m}");
    }
}
