//! Films at the sheet and at the pan in a bath that its own heavier and lighter liquid stirs.
//!
//! The sheet hangs face down and sheds metal-rich, heavy liquid, the pan lies below and sheds
//! spent, light liquid: both films are unstable and turbulent, so k = k1 (dc / 1 mol/m3)^(1/3),
//! whatever the size of the face (`free_convection.rs`). A stir of kf adds to it by cubes:
//! k^3 = k1^3 dc + kf^3.
//!
//! - Sheet: N = x_a i/(n F) = k dc, so N^3 = dc^3 (k1^3 dc + kf^3). Still: dc = (N/k1)^(3/4);
//!   without free convection: dc = N/kf. Surface concentration c_s = c_a + dc.
//! - Pan: k = (k1^3 S + kf^3)^(1/3), S the sum of c over all plating metals.
//! - Warmth: k1 times 1 + 0.024 (T - 298.15 K), held within the bracket of `conductivity.rs`.
//!
//! N in mol/(m2 s), dc and c in mol/m3, k1 in m/s at a difference of 1 mol/m3, kf in m/s.
//! Sum by cubes: turbulent free and forced transfer that help each other (Churchill 1977 class,
//! from memory; judgement). Silver's k1 was set on a film of three ions and follows it within
//! 7 % from 0.1 to 2 A/cm2 (computed); other coefficients are good to 20 to 30 % (computed).
//! 0.024 /K: D by 2.4 % and viscosity by 2 % a kelvin, k with D^(2/3) and viscosity^(-1/3)
//! (judgement).

use super::conductivity::{self, temperature_factor};
use super::range::Range;

/// Current density at which silver's free coefficient was compared with a film of three ions.
pub const SILVER: Range = Range {
    law: "film",
    of: "current density at a silver face",
    low: 1e3,
    high: 2e4,
    unit: "A/m2",
    source: "film of three ions, computed, within 7 %",
};

/// Temperature factor before it is held within its bracket.
pub const WARMTH: Range = Range {
    law: "film",
    of: "temperature factor",
    source: "judgement: linear about 25 degC",
    ..conductivity::WARMTH
};

/// How fast a face sheds or takes up metal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Film {
    /// k1, m/s at 25 degC and a difference of 1 mol/m3.
    pub free: f64,
    /// kf, m/s; 0 where nobody stirs.
    pub forced: f64,
}

/// What stands in front of a face over what stands in the bath.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Excess {
    /// dc, mol/m3.
    pub dc: f64,
    /// N d(dc)/dN over dc: 3/4 where the film stirs itself, 1 where it is stirred.
    pub power: f64,
}

/// How the plating metals in front of the pan stir it by their weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stirring {
    /// All of them, mol/m3.
    sum: f64,
    /// Its cube root.
    root: f64,
}

impl Stirring {
    /// By so many mol/m3 of plating metals.
    pub fn by(sum: f64) -> Self {
        let sum = sum.max(0.0);
        Self { sum, root: libm::cbrt(sum) }
    }
}

impl Film {
    /// At the bath's temperature `t_k`, the free coefficient rising by `per_k` (1/K, of its
    /// value at 25 degC).
    #[must_use]
    pub fn at(&self, per_k: f64, t_k: f64) -> Self {
        Self { free: self.free * temperature_factor(per_k, t_k), ..*self }
    }

    /// What a flux `n` >= 0 (mol/(m2 s)) builds up; infinite where nothing carries it off.
    #[must_use]
    pub fn excess(&self, n: f64) -> Excess {
        if n <= 0.0 {
            let power = if self.free > 0.0 { 0.75 } else { 1.0 };
            return Excess { dc: 0.0, power };
        }
        // Each way alone would leave more; the one that leaves less is the scale.
        let root = (n / self.free).sqrt();
        let (free, forced) = (root * root.sqrt(), n / self.forced);
        let least = free.min(forced);
        if least.is_infinite() {
            return Excess { dc: least, power: 1.0 };
        }
        // y = dc/least in (0.8, 1], convex in both cases, so Newton's method falls on it from 1.
        let a = if free < forced { (free / forced).powi(3) } else { (forced / free).powi(4) };
        // Its first step is known.
        let mut y = 1.0 - if free < forced { a / (4.0 + 3.0 * a) } else { a / (4.0 * a + 3.0) };
        for _ in 0..6 {
            let (value, slope) = if free < forced {
                (y * y * y * (y + a), y * y * (4.0 * y + 3.0 * a))
            } else {
                (y * y * y * (a * y + 1.0), y * y * (4.0 * a * y + 3.0))
            };
            let step = (value - 1.0) / slope;
            y -= step;
            if step < 1e-9 {
                break; // its square is gone
            }
        }
        let dc = least * y;
        let share = dc / forced; // kf/k
        Excess { dc, power: 3.0 / (4.0 - share * share * share) }
    }

    /// Transfer coefficient at the pan, m/s.
    #[must_use]
    pub fn to_pan(&self, by: Stirring) -> f64 {
        let (free, forced) = (self.free, self.forced);
        if forced == 0.0 {
            return free * by.root;
        }
        libm::cbrt(free * free * free * by.sum + forced * forced * forced)
    }
}

impl Excess {
    /// d(dc)/dN at the flux `n` (mol/(m2 s)) that built it up, s/m. Without flux it is infinite
    /// where the film stirs itself: ask for [`Excess::power`] there.
    #[must_use]
    pub fn slope(&self, n: f64) -> f64 {
        self.power * self.dc / n
    }

    /// d ln(c + dc)/d ln N for `c` mol/m3 in the bath: finite everywhere, `power` without any
    /// metal in the bath and 0 without a flux into one that has some.
    #[must_use]
    pub fn log_slope(&self, c: f64) -> f64 {
        if c > 0.0 { self.power * self.dc / (c + self.dc) } else { self.power }
    }
}

#[cfg(test)]
mod tests {
    use super::super::constants::{FARADAY, REFERENCE_K};
    use super::*;

    fn residual(film: &Film, n: f64) -> f64 {
        // (k dc/N)^3 - 1, in an order that neither over- nor underflows.
        let dc = film.excess(n).dc;
        let free = film.free * dc / n;
        let forced = film.forced * dc / n;
        free * free * free * dc + forced * forced * forced - 1.0
    }

    #[test]
    fn both_limits_are_closed_forms() {
        for n in [1e-18, 1e-9, 1e-4, 1.0, 1e6] {
            let still = Film { free: 2.4e-6, forced: 0.0 }.excess(n);
            assert!((still.dc / (n / 2.4e-6f64).powf(0.75) - 1.0).abs() < 1e-13, "{n}");
            assert_eq!(still.power, 0.75);
            let stirred = Film { free: 0.0, forced: 2.8e-5 }.excess(n);
            assert_eq!((stirred.dc, stirred.power), (n / 2.8e-5, 1.0));
        }
    }

    #[test]
    fn solves_its_equation_over_every_size() {
        for a in -12..=2 {
            for b in -14..=2 {
                for c in -30..=8 {
                    let power = |e: i32| 10f64.powi(e);
                    let film = Film { free: power(a), forced: power(b) };
                    let n = power(c);
                    let e = film.excess(n);
                    // The cube's error is three to four times dc's own.
                    assert!(residual(&film, n).abs() < 3e-12, "{film:?} {n} {e:?}");
                    assert!((0.75..=1.0).contains(&e.power), "{film:?} {n} {e:?}");
                }
            }
        }
    }

    #[test]
    fn nothing_is_not_a_number() {
        for film in [
            Film { free: 0.0, forced: 0.0 },
            Film { free: 1e-6, forced: 0.0 },
            Film { free: 0.0, forced: 1e-6 },
            Film { free: 1e-300, forced: 1e-300 },
            Film { free: 1e-6, forced: 1e-5 },
        ] {
            assert_eq!(film.excess(0.0).dc, 0.0);
            for n in [f64::MIN_POSITIVE, 1e-100, 1e-12, 1.0, 1e100] {
                let e = film.excess(n);
                assert!(e.dc > 0.0 && !e.power.is_nan(), "{film:?} {n} {e:?}");
                assert!(!e.log_slope(0.0).is_nan() && !film.to_pan(Stirring::by(0.0)).is_nan());
            }
        }
        assert_eq!(Film { free: 0.0, forced: 0.0 }.excess(1e-3).dc, f64::INFINITY);
    }

    #[test]
    fn slopes_are_derivatives() {
        for (free, forced) in [(2.4e-6, 0.0), (2.4e-6, 2.8e-5), (1e-7, 1e-6), (0.0, 7e-6)] {
            let film = Film { free, forced };
            for n in [1e-10, 1e-5, 8e-3, 0.3] {
                let d = 1e-5 * n;
                let (up, down) = (film.excess(n + d).dc, film.excess(n - d).dc);
                let e = film.excess(n);
                let want = (up - down) / (2.0 * d);
                assert!((e.slope(n) / want - 1.0).abs() < 1e-8, "{film:?} {n}");
                let c = 0.7 * e.dc;
                let want = ((c + up).ln() - (c + down).ln()) * n / (2.0 * d);
                assert!((e.log_slope(c) / want - 1.0).abs() < 1e-6, "{film:?} {n}");
            }
        }
    }

    #[test]
    fn pan_and_face_are_one_film() {
        // At the pan S is what the film lacks at the limit: k as at a face with that excess.
        let film = Film { free: 3.3e-6, forced: 1.2e-5 };
        let k = film.to_pan(Stirring::by(500.0));
        assert!((film.excess(k * 500.0).dc / 500.0 - 1.0).abs() < 1e-12);
        assert_eq!(Film { forced: 0.0, ..film }.to_pan(Stirring::by(0.0)), 0.0);
        assert!((film.to_pan(Stirring::by(0.0)) / 1.2e-5 - 1.0).abs() < 1e-15);
    }

    #[test]
    fn warmth_is_held() {
        let film = Film { free: 1.0, forced: 2.0 };
        for (t, factor) in [(0.0, 1.0), (-5.0, 0.88), (40.0, 1.96), (-60.0, 0.4), (90.0, 2.5)] {
            let warm = film.at(0.024, REFERENCE_K + t);
            assert!((warm.free - factor).abs() < 1e-12 && warm.forced == 2.0, "{t}");
        }
        // 0.5 A/cm2 on sterling at 25 degC, by hand: N = 0.04084, dc = (0.04084/2.4e-6)^(3/4).
        let n = 0.788 * 5000.0 / FARADAY;
        let dc = Film { free: 2.4e-6, forced: 0.0 }.excess(n).dc;
        assert!((dc / 1489.0 - 1.0).abs() < 2e-3, "{dc}");
    }
}
