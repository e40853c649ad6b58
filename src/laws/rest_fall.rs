//! Silver that falls on copper while the current is off: Cu + 2 Ag+ -> Cu2+ + 2 Ag.
//!
//! First order, carried by the film (Sulka and Jaskula, Hydrometallurgy 2003, 70, read), and the
//! film stirs itself, so k = k_e c^(1/3) and the rate is A_e k_e c^(4/3) mol/s:
//! W c' = -A_e k_e c^(4/3), c(t) = c0/(1 + s)^3, s = c0^(1/3) A_e k_e t/(3 W);
//! fallen W (c0 - c) = W c0 s (3 + 3 s + s^2)/(1 + s)^3. It takes half as many moles of copper
//! and ends with it, or never: after 3 W/(A_e k_e) (c^(-1/3) - c0^(-1/3)), c = c0 - 2 n_Cu/W.
//!
//! c in mol/m3, A_e in m2, W in m3, k_e in m/s at 1 mol/m3, about 1.9e-6 in copper nitrate at
//! 25 degC (computed). Good where silver is scarce beside the bath's other salts.

/// Moles of copper that a mole of falling silver dissolves.
pub const COPPER_PER_SILVER: f64 = 0.5;

/// The bath and the copper in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fall {
    /// A_e, m2.
    pub area: f64,
    /// k_e, m/s at a concentration of 1 mol/m3.
    pub transfer: f64,
    /// W, m3.
    pub volume: f64,
}

/// What a rest comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rested {
    /// Silver left in the bath, mol/m3.
    pub silver: f64,
    /// Silver fallen, mol.
    pub fallen: f64,
    /// Copper gone into the bath, mol.
    pub copper: f64,
}

impl Fall {
    /// Silver falling at concentration `c`, mol/s.
    #[must_use]
    pub fn rate(&self, c: f64) -> f64 {
        let c = c.max(0.0);
        self.area * self.transfer * c * libm::cbrt(c)
    }

    /// After `t` s from `c0` mol/m3 on, with `copper` mol to fall on.
    #[must_use]
    pub fn after(&self, c0: f64, copper: f64, t: f64) -> Rested {
        let (c0, copper) = (c0.max(0.0), copper.max(0.0));
        let s = libm::cbrt(c0) * self.area * self.transfer * t / (3.0 * self.volume);
        let cube = (1.0 + s).powi(3);
        let all = self.volume * c0;
        let fallen = all * (s * (3.0 + s * (3.0 + s)) / cube);
        let most = copper / COPPER_PER_SILVER;
        if fallen < most {
            return Rested { silver: c0 / cube, fallen, copper: COPPER_PER_SILVER * fallen };
        }
        Rested { silver: c0 - most / self.volume, fallen: most, copper }
    }

    /// How long `copper` mol last from `c0` mol/m3 on, s; none where the silver is used up first,
    /// which it never quite is.
    #[must_use]
    pub fn copper_lasts(&self, c0: f64, copper: f64) -> Option<f64> {
        let drop = copper / COPPER_PER_SILVER / self.volume;
        let end = c0 - drop;
        if end <= 0.0 {
            return None;
        }
        // end^(-1/3) - c0^(-1/3) without a difference of two near numbers.
        let (a, b) = (libm::cbrt(c0), libm::cbrt(end));
        let roots = drop / (a * b * (a * a + a * b + b * b));
        Some(3.0 * self.volume / (self.area * self.transfer) * roots)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FALL: Fall = Fall { area: 4.5e-3, transfer: 1.9e-6, volume: 5e-4 };

    #[test]
    fn closed_form_against_fine_steps() {
        // Midpoint steps of W c' = -rate; their error goes with the square of the step.
        let (mut c, t, steps) = (28.0, 43_200.0, 40_000);
        let dt = t / f64::from(steps);
        for _ in 0..steps {
            let half = c - 0.5 * dt * FALL.rate(c) / FALL.volume;
            c -= dt * FALL.rate(half) / FALL.volume;
        }
        let got = FALL.after(28.0, 1.0, t);
        assert!((got.silver / c - 1.0).abs() < 1e-8, "{got:?} {c}");
        // Two rests one after the other are one.
        let first = FALL.after(28.0, 1.0, 0.3 * t);
        let second = FALL.after(first.silver, 1.0, 0.7 * t);
        assert!((second.silver / got.silver - 1.0).abs() < 1e-13);
    }

    #[test]
    fn mass_and_charge_balance() {
        for c0 in [0.0, 1e-9, 1e-3, 28.0, 9000.0] {
            for copper in [0.0, 1e-6, 1.0] {
                for t in [0.0, 1e-3, 60.0, 1e5, 1e9] {
                    let r = FALL.after(c0, copper, t);
                    let all = FALL.volume * c0;
                    let left = FALL.volume * r.silver + r.fallen - all;
                    assert!(left.abs() <= 1e-14 * all, "{c0} {copper} {t} {r:?}");
                    assert_eq!(r.copper, COPPER_PER_SILVER * r.fallen);
                    assert!(r.silver >= 0.0 && r.copper <= copper);
                }
            }
        }
        // A second's fall is rate times time, to the last digits.
        let r = FALL.after(28.0, 1.0, 1e-6);
        assert!((r.fallen / (1e-6 * FALL.rate(28.0)) - 1.0).abs() < 1e-10);
    }

    #[test]
    fn ends_with_the_copper() {
        for copper in [1e-12, 1e-3, 6.9e-3] {
            let t = FALL.copper_lasts(28.0, copper).unwrap();
            let r = FALL.after(28.0, 1.0, t);
            assert!((r.copper / copper - 1.0).abs() < 1e-9, "{copper} {r:?}");
            assert_eq!(FALL.after(28.0, copper, 2.0 * t + 1.0).copper, copper);
        }
        // 14 mmol of silver want 7 mmol of copper.
        assert_eq!(FALL.copper_lasts(28.0, 8e-3), None);
    }
}
