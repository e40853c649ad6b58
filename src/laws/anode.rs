//! Potential of the dissolving sheet, V against the standard hydrogen electrode.
//!
//! Nernst equation at the surface concentration behind a diffusion layer, and an
//! activation overpotential asinh(i/(2 i0))/(alpha f) (Butler-Volmer with equal
//! transfer coefficients; Newman and Thomas-Alyea, Electrochemical Systems, ch. 8).

use super::constants::{FARADAY, LOG_FLOOR_MOL_PER_L, MOL_PER_LITRE, ln_molar};

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
    /// Mass transfer coefficient, m/s.
    pub mass_transfer: f64,
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
    /// State at current density `i` >= 0 (A/m2), bulk concentration `c` (mol/m3) and
    /// f = F/(RT) (1/V).
    pub fn at(&self, i: f64, c: f64, f: f64) -> AnodeState {
        let surface = c + i / (self.n * FARADAY * self.mass_transfer);
        let (bulk, ln_s) = (ln_molar(c), ln_molar(surface));
        let nf = self.n * f;
        let activation_v = asinh(i / (2.0 * self.i0)) / (self.alpha * f);
        let concentration_v = (ln_s - bulk) / nf;
        let potential_v = self.e0_v + ln_s / nf + activation_v;
        AnodeState { potential_v, activation_v, concentration_v, surface }
    }

    /// Potential and its slope by the current density, as [`Anode::at`] and [`Anode::slope`].
    pub fn potential(&self, i: f64, c: f64, f: f64) -> (f64, f64) {
        let surface = c + i / (self.n * FARADAY * self.mass_transfer);
        let activation = asinh(i / (2.0 * self.i0)) / (self.alpha * f);
        let potential = self.e0_v + ln_molar(surface) / (self.n * f) + activation;
        (potential, self.slope(i, surface, f))
    }

    /// Equilibrium potential at bulk concentration `c`, V.
    pub fn equilibrium_v(&self, c: f64, f: f64) -> f64 {
        self.e0_v + ln_molar(c) / (self.n * f)
    }

    /// d(potential)/di, V m2/A (zero slope of the logarithm below its floor).
    pub fn slope(&self, i: f64, surface: f64, f: f64) -> f64 {
        let two = 2.0 * self.i0;
        let activation = 1.0 / (self.alpha * f * (two * two + i * i).sqrt());
        let above = surface > LOG_FLOOR_MOL_PER_L * MOL_PER_LITRE;
        let film = self.n * FARADAY * self.mass_transfer;
        if above { activation + 1.0 / (self.n * f * surface * film) } else { activation }
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

    const SILVER: Anode =
        Anode { e0_v: 0.7996, n: 1.0, alpha: 0.5, i0: 5000.0, mass_transfer: 6e-6 };

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
        for (i, c) in [(3.0, 0.0), (300.0, 20.0), (5e4, 500.0)] {
            let d = 1e-5 * i;
            let slope = (SILVER.at(i + d, c, f).potential_v - SILVER.at(i - d, c, f).potential_v)
                / (2.0 * d);
            let got = SILVER.slope(i, SILVER.at(i, c, f).surface, f);
            assert!((got / slope - 1.0).abs() < 1e-6, "{i} {c}");
        }
    }
}
