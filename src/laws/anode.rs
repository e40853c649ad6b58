//! Potential of the dissolving sheet, V against the standard hydrogen electrode.
//!
//! Nernst equation at the surface concentration behind a film (`film.rs`), and an
//! activation overpotential asinh(i/(2 i0))/(alpha f) (Butler-Volmer with equal
//! transfer coefficients; Newman and Thomas-Alyea, Electrochemical Systems, ch. 8).

use super::constants::{FARADAY, LOG_FLOOR_MOL_PER_L, MOL_PER_LITRE, ln_molar};
use super::film::{Excess, Film};

/// The alloy's main metal as an electrode.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Anode {
    /// Standard potential, V.
    pub e0_v: f64,
    /// Electrons.
    pub n: f64,
    /// Total transfer coefficient.
    pub alpha: f64,
    /// Exchange current density, A/m2.
    pub i0: f64,
    /// Share of the current that dissolves this metal.
    pub charge_share: f64,
    /// The film in front of it.
    pub film: Film,
}

/// What the potential is made of at one current density.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AnodeState {
    /// Potential, V.
    pub potential_v: f64,
    /// Activation overpotential, V.
    pub activation_v: f64,
    /// Concentration overpotential, V.
    pub concentration_v: f64,
    /// Surface concentration, mol/m3.
    pub surface: f64,
}

impl Anode {
    /// What stands in front of the face beyond the bath's own, at current density `i` (A/m2).
    fn excess(&self, i: f64) -> Excess {
        self.film.excess(self.charge_share * i / (self.n * FARADAY))
    }

    /// State at current density `i` >= 0 (A/m2), bulk concentration `c` (mol/m3) and
    /// f = F/(RT) (1/V).
    pub fn at(&self, i: f64, c: f64, f: f64) -> AnodeState {
        let surface = c + self.excess(i).dc;
        let (bulk, ln_s) = (ln_molar(c), ln_molar(surface));
        let nf = self.n * f;
        let activation_v = asinh(i / (2.0 * self.i0)) / (self.alpha * f);
        let concentration_v = (ln_s - bulk) / nf;
        let potential_v = self.e0_v + ln_s / nf + activation_v;
        AnodeState { potential_v, activation_v, concentration_v, surface }
    }

    /// Potential as [`Anode::at`], and i times its slope by the current density, V: that stays
    /// finite without a current, where the slope itself does not (the film's goes with i^-1/4).
    pub fn potential(&self, i: f64, c: f64, f: f64) -> (f64, f64) {
        let excess = self.excess(i);
        let surface = c + excess.dc;
        let activation = asinh(i / (2.0 * self.i0)) / (self.alpha * f);
        let potential = self.e0_v + ln_molar(surface) / (self.n * f) + activation;
        let two = 2.0 * self.i0;
        let log_slope = i / (self.alpha * f * (two * two + i * i).sqrt());
        // The logarithm's floor has no slope.
        let above = surface > LOG_FLOOR_MOL_PER_L * MOL_PER_LITRE;
        let film = if above { excess.log_slope(c) / (self.n * f) } else { 0.0 };
        (potential, log_slope + film)
    }

    /// Equilibrium potential at bulk concentration `c`, V.
    pub fn equilibrium_v(&self, c: f64, f: f64) -> f64 {
        self.e0_v + ln_molar(c) / (self.n * f)
    }
}

/// Inverse hyperbolic sine for x >= 0, good to 1e-16 absolutely, which is all that a voltage
/// needs; the library's, good relatively too, takes four times as long, and a run asks a
/// thousand times.
fn asinh(x: f64) -> f64 {
    libm::log(x + (x * x + 1.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::super::constants::{REFERENCE_K, inverse_thermal_voltage};
    use super::*;

    #[test]
    fn own_asinh_is_the_librarys() {
        for x in [0.0, 1e-12, 1e-6, 1e-3, 0.1, 0.5, 1.0, 3.0, 100.0, 1e6] {
            assert!((asinh(x) - f64::asinh(x)).abs() < 3e-16 * (1.0 + f64::asinh(x)), "{x}");
        }
    }

    const SILVER: Anode = Anode {
        e0_v: 0.7996,
        n: 1.0,
        alpha: 0.5,
        i0: 5000.0,
        charge_share: 0.788,
        film: Film { free: 2.4e-6, forced: 0.0 },
    };

    #[test]
    fn nernst_slope_and_activation() {
        let f = inverse_thermal_voltage(REFERENCE_K);
        // Nernst: 59.16 mV a decade for one electron at 25 degC (any text).
        let decade = SILVER.equilibrium_v(1000.0, f) - SILVER.equilibrium_v(100.0, f);
        assert!((decade - 0.059_16).abs() < 1e-5);
        // Small currents: eta = i/(2 alpha f i0), the linear limit.
        let eta = SILVER.at(1.0, 100.0, f).activation_v;
        assert!((eta * 2.0 * SILVER.alpha * f * SILVER.i0 - 1.0).abs() < 1e-6);
    }

    #[test]
    fn slope_is_the_derivative() {
        let f = inverse_thermal_voltage(REFERENCE_K);
        let stirred = Anode { film: Film { forced: 2.8e-5, ..SILVER.film }, ..SILVER };
        for sheet in [SILVER, stirred] {
            for (i, c) in [(3.0, 0.0), (300.0, 20.0), (5e4, 500.0)] {
                let d = 1e-5 * i;
                let slope = (sheet.at(i + d, c, f).potential_v - sheet.at(i - d, c, f).potential_v)
                    / (2.0 * d);
                let (potential, got) = sheet.potential(i, c, f);
                assert!((got / (i * slope) - 1.0).abs() < 1e-6, "{i} {c}");
                assert_eq!(potential, sheet.at(i, c, f).potential_v);
            }
            assert_eq!(sheet.potential(0.0, 20.0, f).1, 0.0);
            assert!(sheet.potential(0.0, 0.0, f).1.is_finite());
        }
    }

    #[test]
    fn what_stands_at_the_face() {
        // Table of 20 degC, charge share 0.788, from a second implementation: A/m2 and mol/m3.
        let cold = Anode { film: SILVER.film.at(0.024, REFERENCE_K - 5.0), ..SILVER };
        for (i, want) in
            [(1e3, 490.0), (2.5e3, 980.0), (5e3, 1640.0), (8.2e3, 2380.0), (1e4, 2760.0)]
        {
            let got = cold.at(i, 0.0, 38.9).surface;
            assert!((got / want - 1.0).abs() < 0.01, "{i}: {got}");
        }
    }
}
