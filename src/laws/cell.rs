//! Voltage and heat of one cell.
//!
//! Resistance R0 = R_ref r(s) exp(B (1/T - 1/298.15)): an Arrhenius law about 25 degC.
//! Heat q = I (U - V) - I T dU/dT (Bernardi, Pawlikowski and Newman, J. Electrochem.
//! Soc. 1985, 132, 5). Core and surface joined by 1/(8 pi k l): the mean of a cylinder
//! with uniform heat lies q/(8 pi k l) above its surface, its axis twice that
//! (Incropera et al., Fundamentals of Heat and Mass Transfer, 3.5).

use super::constants::REFERENCE_K;
use std::f64::consts::PI;

/// What a cell's cut-off is compared with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CutoffOn {
    /// Its terminal voltage (cells that are charged).
    #[default]
    Terminal,
    /// Its open-circuit voltage less polarisation (primary cells).
    Rested,
}

/// Share of a cell's heat capacity that its core has; the surface has the rest.
pub const CORE_SHARE: f64 = 0.85;

/// Factor of the resistance at `t_k`, with B in kelvin.
pub fn resistance_factor(b_k: f64, t_k: f64) -> f64 {
    libm::exp(b_k * (1.0 / t_k - 1.0 / REFERENCE_K))
}

/// Heat set free in a cell, W: `u_v` the open-circuit voltage at its mean charge, `v_v` the
/// terminal voltage, `entropy` dU/dT in V/K.
pub fn heat_w(i: f64, u_v: f64, v_v: f64, t_k: f64, entropy: f64) -> f64 {
    i * (u_v - v_v) - i * t_k * entropy
}

/// Thermal resistance from mean core to surface, K/W; `k_r` in W/(m K), length in m.
pub fn core_to_surface(k_r: f64, length: f64) -> f64 {
    1.0 / (8.0 * PI * k_r * length)
}

/// The hottest spot inside, from mean core and surface, K.
pub fn hot_spot(core_k: f64, surface_k: f64) -> f64 {
    surface_k.max(surface_k + 2.0 * (core_k - surface_k))
}

/// Surface of a cylinder with both ends, m2.
pub fn surface_area(diameter: f64, length: f64) -> f64 {
    PI * diameter * length + PI * diameter * diameter / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn handbook_figures() {
        // Axis over surface of a cylinder with uniform heat: P/(4 pi k l); 18650 at
        // 0.3 W/(m K): 4.1 K a watt (Incropera et al.; own arithmetic in two digits).
        let rise = 2.0 * core_to_surface(0.3, 0.065);
        assert!((rise - 4.1).abs() < 0.05, "{rise}");
        assert_eq!(resistance_factor(1500.0, REFERENCE_K), 1.0);
        assert!((hot_spot(310.0, 305.0) - 315.0).abs() < 1e-12);
        assert_eq!(hot_spot(300.0, 305.0), 305.0);
        // Joule heat of a plain resistor when there is no entropy: I (U - V).
        assert!((heat_w(2.0, 1.5, 1.2, 300.0, 0.0) - 0.6).abs() < 1e-12);
    }
}
