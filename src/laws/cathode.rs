//! Current densities at the pan against its potential, V vs SHE; A/m2, cathodic > 0.
//!
//! Metals plate by Butler-Volmer kinetics in series with a limiting current (Newman and
//! Thomas-Alyea, Electrochemical Systems, ch. 8): i = L/(1 + L/b); hydrogen by
//! Butler-Volmer alone.

use super::constants::{Dissolved, FARADAY};
use std::f64::consts::LN_10;

/// A metal that plates from water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plating {
    /// Standard potential, V.
    pub e0_v: f64,
    /// Electrons.
    pub n: f64,
    /// Total cathodic transfer coefficient.
    pub alpha: f64,
    /// Exchange current density, A/m2.
    pub i0: f64,
}

/// Hydrogen evolution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hydrogen {
    /// Exchange current density, A/m2, above zero.
    pub i0: f64,
    /// Cathodic transfer coefficient.
    pub alpha: f64,
}

/// A current density and its derivative by the potential.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Partial {
    /// A/m2.
    pub i: f64,
    /// A/(m2 V), never positive.
    pub slope: f64,
    /// Its own slope, A/(m2 V2).
    pub bend: f64,
}

/// (exp(-alpha x), exp(beta x)): where beta is alpha or three times that, as it is for the
/// usual coefficients of one and two electrons, the second costs next to nothing.
fn both_ways(x: f64, alpha: f64, beta: f64) -> (f64, f64) {
    let down = libm::exp(-alpha * x);
    let up = match beta / alpha {
        1.0 => 1.0 / down,
        3.0 => 1.0 / (down * down * down),
        _ => libm::exp(beta * x),
    };
    (down, up)
}

impl Plating {
    /// Equilibrium potential at concentration `c` (mol/m3).
    pub fn equilibrium_v(&self, bulk: Dissolved, f: f64) -> f64 {
        self.e0_v + bulk.ln / (self.n * f)
    }

    /// Limiting current density at concentration `c` (mol/m3) where the film lets through `k`
    /// (m/s), A/m2.
    pub fn limit(&self, k: f64, c: f64) -> f64 {
        self.n * FARADAY * k * c
    }

    /// At potential `e`, for an equilibrium potential and a limiting current density (A/m2)
    /// already worked out.
    pub fn at(&self, e: f64, equilibrium: f64, limit: f64, f: f64) -> Partial {
        if e >= equilibrium || limit <= 0.0 {
            return Partial::default();
        }
        let (down, up) = both_ways(f * (e - equilibrium), self.alpha, self.n - self.alpha);
        let b = self.i0 * (down - up);
        if b.is_infinite() {
            return Partial { i: limit, slope: 0.0, bend: 0.0 };
        }
        let beta = self.n - self.alpha;
        let db = -self.i0 * f * (self.alpha * down + beta * up);
        let ddb = self.i0 * f * f * (self.alpha * self.alpha * down - beta * beta * up);
        let share = limit / (limit + b);
        let square = share * share;
        Partial {
            i: share * b,
            slope: square * db,
            bend: square * (ddb - 2.0 * db * db / (limit + b)),
        }
    }
}

impl Hydrogen {
    /// Equilibrium potential at this pH.
    pub fn equilibrium_v(ph: f64, f: f64) -> f64 {
        -LN_10 * ph / f
    }

    /// How far below equilibrium it carries at least `i` (A/m2), V: a bound, close for large `i`.
    pub fn below_equilibrium_v(&self, i: f64, f: f64) -> f64 {
        libm::log1p(i / self.i0) / (self.alpha * f)
    }

    /// At potential `e` for an equilibrium potential already worked out.
    pub fn at(&self, e: f64, equilibrium: f64, f: f64) -> Partial {
        if e >= equilibrium {
            return Partial::default();
        }
        let (down, up) = both_ways(f * (e - equilibrium), self.alpha, 1.0 - self.alpha);
        let beta = 1.0 - self.alpha;
        Partial {
            i: self.i0 * (down - up),
            slope: -self.i0 * f * (self.alpha * down + beta * up),
            bend: self.i0 * f * f * (self.alpha * self.alpha * down - beta * beta * up),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::constants::{REFERENCE_K, inverse_thermal_voltage};
    use super::*;

    const COPPER: Plating = Plating { e0_v: 0.34, n: 2.0, alpha: 0.5, i0: 10.0 };
    const H2: Hydrogen = Hydrogen { i0: 1e-3, alpha: 0.5 };

    #[test]
    fn limits() {
        let f = inverse_thermal_voltage(REFERENCE_K);
        let equilibrium = COPPER.equilibrium_v(Dissolved::of(500.0), f);
        // Far below equilibrium: the limiting current n F k c.
        let limit = COPPER.limit(3e-6, 500.0);
        let far = COPPER.at(equilibrium - 2.0, equilibrium, limit, f).i;
        assert!((far / (2.0 * FARADAY * 3e-6 * 500.0) - 1.0).abs() < 1e-9);
        // Just below: linear, i = i0 n f (equilibrium - e).
        let near = COPPER.at(equilibrium - 1e-6, equilibrium, limit, f).i;
        assert!((near / (10.0 * 2.0 * f * 1e-6) - 1.0).abs() < 1e-4);
        assert_eq!(COPPER.at(equilibrium + 0.1, equilibrium, limit, f).i, 0.0);
        assert_eq!(COPPER.at(equilibrium - 100.0, equilibrium, limit, f).i, limit);
        // Hydrogen equilibrium: 59.16 mV a pH unit at 25 degC (any text).
        assert!((Hydrogen::equilibrium_v(3.5, f) + 3.5 * 0.059_16).abs() < 1e-5);
    }

    #[test]
    fn slopes_are_derivatives() {
        let f = inverse_thermal_voltage(REFERENCE_K);
        let (equilibrium, h) =
            (COPPER.equilibrium_v(Dissolved::of(500.0), f), Hydrogen::equilibrium_v(3.5, f));
        for below in [0.001, 0.05, 0.3, 0.8] {
            let d = 1e-7;
            let limit = COPPER.limit(3e-6, 500.0);
            let metal = |e: f64| COPPER.at(e, equilibrium, limit, f).i;
            let gas = |e: f64| H2.at(e, h, f).i;
            let (e, g) = (equilibrium - below, h - below);
            let want = (metal(e + d) - metal(e - d)) / (2.0 * d);
            assert!(
                (COPPER.at(e, equilibrium, limit, f).slope - want).abs() < 1e-5 * want.abs() + 1e-4
            );
            let want = (gas(g + d) - gas(g - d)) / (2.0 * d);
            assert!((H2.at(g, h, f).slope / want - 1.0).abs() < 1e-5);
            let bend = |at: &dyn Fn(f64) -> Partial, e: f64| {
                (at(e + d).slope - at(e - d).slope) / (2.0 * d)
            };
            let metal = |e: f64| COPPER.at(e, equilibrium, limit, f);
            let want = bend(&metal, e);
            assert!((metal(e).bend - want).abs() < 1e-5 * want.abs() + 1e-2, "{below}");
            let gas = |e: f64| H2.at(e, h, f);
            assert!((gas(g).bend / bend(&gas, g) - 1.0).abs() < 1e-5, "{below}");
        }
        for i in [1e-6, 1.0, 1e4] {
            let down = H2.below_equilibrium_v(i, f);
            assert!(H2.at(h - down, h, f).i >= i);
            assert!(H2.at(h - 0.9 * down, h, f).i < i || i < 1e-3);
        }
    }
}
