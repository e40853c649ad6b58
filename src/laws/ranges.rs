//! The ranges of all laws together, for whoever asks which one a run left.

use super::range::Range;
use super::{
    brine, conductivity, constriction, convection, core_area, density, elliptic, ends, film,
    free_convection, loose, slab, walls,
};

/// Every range that a law here states.
pub const ALL: [Range; 16] = [
    brine::CHLORIDE,
    conductivity::WARMTH,
    constriction::PITCH,
    convection::RAYLEIGH,
    core_area::GAP,
    density::WATER,
    elliptic::PARAMETER,
    ends::IONS,
    film::SILVER,
    film::WARMTH,
    free_convection::RAYLEIGH,
    free_convection::SCHMIDT,
    loose::LOAD,
    slab::GAP,
    slab::ASPECT,
    walls::UNDERCUT,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_range_is_one_and_says_whose() {
        for (n, r) in ALL.iter().enumerate() {
            assert!(r.low < r.high && r.low.is_finite(), "{r:?}");
            assert!(!r.law.is_empty() && !r.of.is_empty() && !r.source.is_empty(), "{r:?}");
            assert!(r.holds(r.low) && r.holds(r.high) && !r.holds(f64::NAN), "{r:?}");
            let step = 1e-9 * (1.0 + r.low.abs());
            assert!(!r.holds(r.low - step), "{r:?}");
            let twin = ALL[..n].iter().any(|o| (o.law, o.of) == (r.law, r.of));
            assert!(!twin, "stated twice: {r:?}");
        }
    }
}
