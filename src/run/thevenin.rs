//! A source as its terminals show it at one state.

use super::setup::{Pack, Setup, Source};
use super::state::{CORE, Segments, State, U, shares};
use crate::laws::cell;

/// A source seen from its terminals, its Thevenin equivalent: V = `open_v` - I `ohm`, I up to
/// `limit`.
pub(super) struct Thevenin {
    pub(super) open_v: f64,
    pub(super) ohm: f64,
    pub(super) limit: f64,
    /// Cell voltage without current, and its resistance; cells in series, in parallel.
    pub(super) cell_open_v: f64,
    pub(super) cell_ohm: f64,
    pub(super) parallel: f64,
    pub(super) mean_open_v: f64,
}

/// Open-circuit voltage of a cell less its polarisation, V.
pub(super) fn cell_open_v(pack: &Pack, y: &State, segments: Segments) -> f64 {
    pack.cell.ocv.on(segments.ocv, shares(pack, y).0) - y[U]
}

pub(super) fn thevenin(setup: &Setup, y: &State, segments: Segments) -> Thevenin {
    let plain = |open_v, ohm, limit| Thevenin {
        open_v,
        ohm,
        limit,
        cell_open_v: 0.0,
        cell_ohm: 0.0,
        parallel: 1.0,
        mean_open_v: 0.0,
    };
    match &setup.source {
        Source::Supply { set_v, out_ohm, limit_a, .. } => {
            plain(*set_v, *out_ohm, limit_a.unwrap_or(f64::INFINITY))
        }
        Source::Adapter { open_v, series_ohm, .. } => plain(*open_v, *series_ohm, f64::INFINITY),
        Source::Pack(pack) => {
            let c = &pack.cell;
            let (s, total) = shares(pack, y);
            let cell_open_v = self::cell_open_v(pack, y, segments);
            let cell_ohm = c.r0_ohm
                * c.r0_curve.on(segments.r0, s)
                * cell::resistance_factor(c.r0_temp_k, y[CORE]);
            Thevenin {
                open_v: pack.series * cell_open_v,
                ohm: pack.series * (cell_ohm + pack.contact_ohm) / pack.parallel,
                limit: f64::INFINITY,
                cell_open_v,
                cell_ohm,
                parallel: pack.parallel,
                mean_open_v: c.ocv.on(segments.total, total),
            }
        }
    }
}
