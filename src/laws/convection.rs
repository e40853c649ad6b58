//! Heat given off by a warm horizontal cylinder to still air, W/(m2 K).
//!
//! Churchill and Chu, Int. J. Heat Mass Transfer 1975, 18, 1049 (1e-5 < Ra < 1e12); air
//! by power laws about 300 K fitted to Incropera et al. table A.4. Radiation after
//! Stefan and Boltzmann.

use super::constants::{GRAVITY, STEFAN_BOLTZMANN};
use super::range::Range;
use std::sync::LazyLock;

/// Rayleigh number for which the correlation was made.
pub const RAYLEIGH: Range = Range {
    law: "convection",
    of: "Rayleigh number by diameter",
    low: 1e-5,
    high: 1e12,
    unit: "",
    source: "Churchill and Chu 1975",
};

/// Prandtl number of air, taken as constant.
pub const PRANDTL: f64 = 0.707;

/// Nusselt number of a horizontal cylinder.
pub fn nusselt(rayleigh: f64, prandtl: f64) -> f64 {
    let root = 0.60 + slope(prandtl) * libm::cbrt(rayleigh.sqrt());
    root * root
}

/// What stands before Ra^(1/6).
fn slope(prandtl: f64) -> f64 {
    0.387 / libm::pow(1.0 + libm::pow(0.559 / prandtl, 9.0 / 16.0), 8.0 / 27.0)
}

/// The slope of air, worked out once.
static AIR_SLOPE: LazyLock<f64> = LazyLock::new(|| slope(PRANDTL));

/// Air at film temperature `t_f` (K): conductivity W/(m K), kinematic viscosity m2/s.
fn air(t_f: f64) -> (f64, f64) {
    // Both powers of one logarithm: close to 1, as good as `pow` and three times as fast.
    let ln = libm::log(t_f / 300.0);
    (0.02624 * libm::exp(0.8646 * ln), 15.89e-6 * libm::exp(1.70 * ln))
}

/// Heat transfer coefficient of a cylinder of diameter `d` (m) at `surface_k` in air at
/// `ambient_k`, without radiation.
pub fn coefficient(surface_k: f64, ambient_k: f64, d: f64) -> f64 {
    let t_f = 0.5 * (surface_k + ambient_k);
    let (k, nu) = air(t_f);
    let ra = GRAVITY * (surface_k - ambient_k).abs() * d * d * d * PRANDTL / (t_f * nu * nu);
    let root = 0.60 + *AIR_SLOPE * libm::cbrt(ra.sqrt());
    root * root * k / d
}

/// Heat flux lost by convection (times `factor`) and radiation, W/m2.
pub fn flux(surface_k: f64, ambient_k: f64, d: f64, factor: f64, emissivity: f64) -> f64 {
    let h = factor * coefficient(surface_k, ambient_k, d);
    h * (surface_k - ambient_k)
        + emissivity * STEFAN_BOLTZMANN * (surface_k.powi(4) - ambient_k.powi(4))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_checks() {
        // Documentation of a general-purpose heat-transfer library: Pr 0.69,
        // Gr 2.63e9 -> Nu 139.13494.
        let nu = nusselt(2.63e9 * 0.69, 0.69);
        assert!((nu - 139.134_94).abs() < 1e-4, "{nu}");
        // Incropera et al. example 9.4 (inputs from memory): pipe 0.1 m, 165 degC in
        // 23 degC: h 7.23 W/(m2 K); 2 % for the power laws of the air.
        let h = coefficient(438.15, 296.15, 0.1);
        assert!((h / 7.23 - 1.0).abs() < 0.02, "{h}");
    }

    #[test]
    fn nothing_flows_without_a_difference() {
        assert_eq!(flux(293.15, 293.15, 0.0145, 1.0, 0.9), 0.0);
        assert!(flux(303.15, 293.15, 0.0145, 1.0, 0.9) > 0.0);
        assert!(flux(283.15, 293.15, 0.0145, 1.0, 0.9) < 0.0);
    }
}
