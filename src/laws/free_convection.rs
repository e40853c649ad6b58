//! Free convection of mass at a horizontal face whose film is unstable and turbulent.
//!
//! Sh = C Ra^(1/3), Sh = k L/D, Ra = g (rho_c dc) L^3/(mu D): L drops out, so
//! k = C (g rho_c D^2/mu)^(1/3) dc^(1/3) = k1 dc^(1/3).
//!
//! rho_c the density that a mole of salt adds (kg/mol), dc in mol/m3, D its diffusivity (m2/s),
//! mu the viscosity (Pa s), k in m/s. Sources of C differ:
//! - 0.15: Lloyd and Moran, J. Heat Transfer 1974, 96, 443; 1e7 < Ra < 1e11 as handbooks of heat
//!   transfer quote it, with L the area over the perimeter (read second-hand);
//! - 0.16: Wragg, Electrochim. Acta 1968, 13, 2159, acid copper sulphate, Sh = 0.16 Ra^0.33
//!   (from memory);
//! - 0.19: Fenech and Tobias, Electrochim. Acta 1960, 2, 311, the same (from memory).

use super::constants::GRAVITY;
use super::range::Range;

/// C after Lloyd and Moran 1974.
pub const LLOYD_MORAN: f64 = 0.15;
/// C after Wragg 1968.
pub const WRAGG: f64 = 0.16;
/// C after Fenech and Tobias 1960.
pub const FENECH_TOBIAS: f64 = 0.19;

/// Rayleigh number over which the film is turbulent.
pub const RAYLEIGH: Range = Range {
    law: "free convection",
    of: "Rayleigh number by area over perimeter",
    low: 1e7,
    high: 1e11,
    unit: "",
    source: "Lloyd and Moran 1974, as handbooks of heat transfer quote it",
};

/// Schmidt number of the salts that it was measured with.
pub const SCHMIDT: Range = Range {
    law: "free convection",
    of: "Schmidt number",
    low: 500.0,
    high: 5000.0,
    unit: "",
    source: "judgement, about the 2000 of the copper sulphate that it was measured with (from memory)",
};

/// What carries the salt off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Salt {
    /// Density that a mole adds, kg/mol.
    pub density_per_mol: f64,
    /// Diffusivity, m2/s.
    pub diffusivity: f64,
    /// Viscosity of the bath, Pa s.
    pub viscosity: f64,
}

impl Salt {
    /// k1 in m/s at a difference of 1 mol/m3, for the constant `c` of a correlation.
    #[must_use]
    pub fn coefficient(&self, c: f64) -> f64 {
        let d = self.diffusivity;
        c * libm::cbrt(GRAVITY * self.density_per_mol * d * d / self.viscosity)
    }

    /// Rayleigh number for a difference of `dc` mol/m3 and a length (m).
    #[must_use]
    pub fn rayleigh(&self, dc: f64, length: f64) -> f64 {
        GRAVITY * self.density_per_mol * dc * length.powi(3) / (self.viscosity * self.diffusivity)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SALT: Salt = Salt { density_per_mol: 0.15, diffusivity: 1e-9, viscosity: 1e-3 };

    #[test]
    fn size_drops_out() {
        // k = Sh D/L from the Rayleigh number of any length.
        let dc = 300.0;
        for length in [1e-3, 1e-2, 0.1] {
            let sherwood = WRAGG * SALT.rayleigh(dc, length).cbrt();
            let k = sherwood * SALT.diffusivity / length;
            assert!((k / (SALT.coefficient(WRAGG) * dc.cbrt()) - 1.0).abs() < 1e-12, "{length}");
        }
    }

    #[test]
    fn by_hand() {
        // (9.80665 x 0.15 x 1e-18/1e-3)^(1/3) = (1.4710e-15)^(1/3) = 1.1373e-5.
        assert!((SALT.coefficient(1.0) / 1.1373e-5 - 1.0).abs() < 1e-4);
        // 1 mol/L over a face of 5 mm: 9.80665 x 150 x 1.25e-7/1e-12 = 1.839e8, turbulent.
        let ra = SALT.rayleigh(1000.0, 5e-3);
        assert!((ra / 1.839e8 - 1.0).abs() < 1e-3 && RAYLEIGH.holds(ra));
    }
}
