//! Resistance and warming of the leads.
//!
//! By gauge: ASTM B258 diameter and the IACS resistivity of copper at 20 degC; by nominal
//! section: the class 5 maximum of IEC 60228 (stock). Temperature coefficient of copper
//! 0.00393 /K at 20 degC (IEC 60028).

use super::convection;
use std::f64::consts::PI;

/// Temperature coefficient of copper at 20 degC, 1/K.
pub const COPPER_PER_K: f64 = 0.00393;
/// 20 degC in kelvin.
pub const WIRE_REFERENCE_K: f64 = 293.15;

/// Resistance per metre of a round wire, ohm/m; `diameter` in m, `resistivity` in ohm m.
pub fn per_metre(diameter: f64, resistivity: f64) -> f64 {
    resistivity / (PI * diameter * diameter / 4.0)
}

/// Both leads of one-way `length` (m) and `clips` clips, ohm.
pub fn leads(per_metre: f64, length: f64, ambient_k: f64, clips: f64, clip_ohm: f64) -> f64 {
    let warm = 1.0 + COPPER_PER_K * (ambient_k - WIRE_REFERENCE_K);
    2.0 * length * per_metre * warm + clips * clip_ohm
}

/// Steady rise of a wire over the air around it, K, at current `i`; `outer` diameter of
/// the insulation in m. The heat of a metre leaves by convection and radiation.
pub fn rise(i: f64, per_metre: f64, outer: f64, ambient_k: f64, emissivity: f64) -> f64 {
    let heat = i * i * per_metre;
    let lost = |rise: f64| {
        PI * outer * convection::flux(ambient_k + rise, ambient_k, outer, 1.0, emissivity)
    };
    let (mut low, mut high) = (0.0, 1.0);
    while lost(high) < heat && high < 1000.0 {
        high *= 2.0;
    }
    for _ in 0..50 {
        let mid = 0.5 * (low + high);
        if lost(mid) < heat { low = mid } else { high = mid }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn handbook_resistance() {
        // NBS Handbook 100 (from memory): 20 AWG, d 0.8118 mm, 10.15 ohm/1000 ft =
        // 33.31 mohm/m.
        let r = per_metre(0.8118e-3, 1.7241e-8);
        assert!((r / 33.31e-3 - 1.0).abs() < 5e-4, "{r}");
        let both = leads(r, 0.5, 293.15, 2.0, 0.015);
        assert!((both - (r + 0.03)).abs() < 1e-12);
        // +10 K: 1.0393.
        let warm = leads(r, 0.5, 303.15, 0.0, 0.0);
        assert!((warm / r - 1.0393).abs() < 1e-6);
    }

    #[test]
    fn rise_balances_the_heat() {
        let t = rise(10.0, 33.31e-3, 1.8e-3, 293.15, 0.9);
        let lost = PI * 1.8e-3 * convection::flux(293.15 + t, 293.15, 1.8e-3, 1.0, 0.9);
        assert!((lost / (100.0 * 33.31e-3) - 1.0).abs() < 1e-6, "{t}");
        assert!(rise(0.0, 33.31e-3, 1.8e-3, 293.15, 0.9) < 1e-9);
    }
}
