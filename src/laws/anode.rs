//! Potential of the dissolving sheet, V against the standard hydrogen electrode.
//!
//! Nernst equation at the surface concentration behind a film (`film.rs`), and an
//! activation overpotential asinh(i/(2 i0))/(alpha f) (Butler-Volmer with equal
//! transfer coefficients; Newman and Thomas-Alyea, Electrochemical Systems, ch. 8).

use super::constants::{Dissolved, FARADAY, LOG_FLOOR_MOL_PER_L, MOL_PER_LITRE, ln_molar};
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

/// First and second derivative of a voltage by the logarithm of the current density, V. They
/// stay finite without a current, where the slope by the current itself does not (the film's
/// goes with i^-1/4).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slopes {
    /// First.
    pub first: f64,
    /// Second; for a film that is partly stirred without the change of its power, under a tenth
    /// of it.
    pub second: f64,
}

impl Slopes {
    /// Change of the voltage with the current e^`dln` times what it was, V, for a small `dln`.
    fn over(&self, dln: f64) -> f64 {
        dln * (self.first + 0.5 * dln * self.second)
    }
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
    /// Of the activation overpotential.
    pub activation: Slopes,
    /// Of the concentration overpotential.
    pub film: Slopes,
    excess: Excess,
}

impl AnodeState {
    /// First and second derivative of the potential by the logarithm of the current density, V.
    pub fn slopes(&self) -> (f64, f64) {
        (self.activation.first + self.film.first, self.activation.second + self.film.second)
    }

    /// With the current density e^`dln` times what it was, for a `dln` of a hundredth at most:
    /// what is left out goes with its third power.
    #[must_use]
    pub fn after(&self, dln: f64) -> Self {
        let (activation, film) = (self.activation.over(dln), self.film.over(dln));
        let x = self.excess.power * dln;
        let dc = self.excess.dc * (1.0 + x + 0.5 * x * x);
        Self {
            potential_v: self.potential_v + activation + film,
            activation_v: self.activation_v + activation,
            concentration_v: self.concentration_v + film,
            surface: self.surface + dc - self.excess.dc,
            excess: Excess { dc, ..self.excess },
            ..*self
        }
    }
}

impl Anode {
    /// What stands in front of the face beyond the bath's own, at current density `i` (A/m2).
    fn excess(&self, i: f64) -> Excess {
        self.film.excess(self.charge_share * i / (self.n * FARADAY))
    }

    /// At current density `i` >= 0 (A/m2), what is dissolved in the bulk and f = F/(RT) (1/V).
    pub fn at(&self, i: f64, bulk: Dissolved, f: f64) -> AnodeState {
        let excess = self.excess(i);
        let c = bulk.c;
        let surface = c + excess.dc;
        let ln_s = ln_molar(surface);
        let (nf, af) = (self.n * f, self.alpha * f);
        let activation_v = asinh(i / (2.0 * self.i0)) / af;
        let two_squared = 4.0 * self.i0 * self.i0;
        let both = two_squared + i * i;
        let activation = (i / (af * both.sqrt()), two_squared / both);
        // The logarithm's floor has no slope.
        let above = surface > LOG_FLOOR_MOL_PER_L * MOL_PER_LITRE;
        let film = if above { excess.log_slope(c) / nf } else { 0.0 };
        let bulk_share = if surface > 0.0 { c / surface } else { 0.0 };
        AnodeState {
            potential_v: self.e0_v + ln_s / nf + activation_v,
            activation_v,
            concentration_v: (ln_s - bulk.ln) / nf,
            surface,
            activation: Slopes { first: activation.0, second: activation.0 * activation.1 },
            film: Slopes { first: film, second: film * excess.power * bulk_share },
            excess,
        }
    }

    /// Equilibrium potential over what is dissolved in the bulk, V.
    pub fn equilibrium_v(&self, bulk: Dissolved, f: f64) -> f64 {
        self.e0_v + bulk.ln / (self.n * f)
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
        let decade = SILVER.equilibrium_v(Dissolved::of(1000.0), f)
            - SILVER.equilibrium_v(Dissolved::of(100.0), f);
        assert!((decade - 0.059_16).abs() < 1e-5);
        // Small currents: eta = i/(2 alpha f i0), the linear limit.
        let eta = SILVER.at(1.0, Dissolved::of(100.0), f).activation_v;
        assert!((eta * 2.0 * SILVER.alpha * f * SILVER.i0 - 1.0).abs() < 1e-6);
    }

    #[test]
    fn slope_is_the_derivative() {
        let f = inverse_thermal_voltage(REFERENCE_K);
        let stirred = Anode { film: Film { forced: 2.8e-5, ..SILVER.film }, ..SILVER };
        for sheet in [SILVER, stirred] {
            for (i, c) in [(3.0, 0.0), (300.0, 20.0), (5e4, 500.0)] {
                let (d, c) = (1e-5 * i, Dissolved::of(c));
                let slope = (sheet.at(i + d, c, f).potential_v - sheet.at(i - d, c, f).potential_v)
                    / (2.0 * d);
                let at = sheet.at(i, c, f);
                assert!((at.slopes().0 / (i * slope) - 1.0).abs() < 1e-6, "{i} {c:?}");
                for dln in [-1e-3, 1e-3] {
                    let (near, want) = (at.after(dln), sheet.at(i * dln.exp(), c, f));
                    for (got, want) in [
                        (near.potential_v, want.potential_v),
                        (near.activation_v, want.activation_v),
                        (near.concentration_v, want.concentration_v),
                    ] {
                        assert!((got - want).abs() < 2e-9, "{i} {c:?}: {got} {want}");
                    }
                    assert!((near.surface / want.surface - 1.0).abs() < 1e-7, "{i} {c:?}");
                }
            }
            assert_eq!(sheet.at(0.0, Dissolved::of(20.0), f).slopes().0, 0.0);
            assert!(sheet.at(0.0, Dissolved::of(0.0), f).slopes().0.is_finite());
        }
    }

    #[test]
    fn what_stands_at_the_face() {
        // Table of 20 degC, charge share 0.788, from a second implementation: A/m2 and mol/m3.
        let cold = Anode { film: SILVER.film.at(0.024, REFERENCE_K - 5.0), ..SILVER };
        for (i, want) in
            [(1e3, 490.0), (2.5e3, 980.0), (5e3, 1640.0), (8.2e3, 2380.0), (1e4, 2760.0)]
        {
            let got = cold.at(i, Dissolved::of(0.0), 38.9).surface;
            assert!((got / want - 1.0).abs() < 0.01, "{i}: {got}");
        }
    }
}
