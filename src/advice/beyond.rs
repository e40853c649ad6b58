//! Which laws a run used outside the range that they are known to hold in. (The shape of the
//! bath, its conductivity's warmth and the pitch of the lines have findings of their own; a cell
//! does not leave the range of the air's convection.)

use super::case::Case;
use crate::laws::constants::REFERENCE_K;
use crate::laws::range::Range;
use crate::laws::{brine, core_area, ends, film, walls};
use crate::units::Quantity;

/// The ranges that were left, each with the value that lies outside.
pub fn beyond(case: &Case) -> Vec<(Range, f64)> {
    let (job, setup, run, geometry) = (case.job, &case.setup, &case.run, case.geometry());
    let (bath, salt) = (&setup.bath, job.bath.concentration.is.si());
    let mut list = vec![
        (core_area::GAP, geometry.gap / geometry.face.equal_area_radius()),
        (ends::IONS, job.bath.stock.ions(salt)),
    ];
    if bath.anode_species == "Ag" && bath.anode.film.free > 0.0 && run.charge_c > 0.0 {
        list.push((film::SILVER, run.mean_current_a / setup.piece.exposed_area));
    }
    if bath.anode.film.free > 0.0 {
        let factor = |t: f64| 1.0 + bath.transfer_beta * (t - REFERENCE_K);
        list.push((film::WARMTH, factor(bath.temperature_k)));
        list.push((film::WARMTH, factor(run.extremes.bath_k)));
    }
    if let Some(n) = &job.bath.stock.chloride_per_formula {
        list.push((brine::CHLORIDE, n.is.0 * salt));
    }
    if geometry.share < 1.0 {
        let half = 0.5 * job.piece.pitch.si() * (1.0 - geometry.share);
        list.push((walls::UNDERCUT, run.undercut_m / half));
    }
    list.retain(|(range, value)| !range.holds(*value));
    list.dedup_by_key(|(range, _)| (range.law, range.of));
    list
}
