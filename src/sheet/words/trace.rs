//! The columns of a trace, as JSON and CSV name them.

use crate::run::Trace;

/// The columns of a trace under their names, in order; none where the source has none.
pub fn columns(t: &Trace) -> [(&'static str, Option<&Vec<f64>>); 12] {
    [
        ("t_s", Some(&t.t_s)),
        ("current_a", Some(&t.current_a)),
        ("source_v", Some(&t.source_v)),
        ("bath_v", Some(&t.bath_v)),
        ("depth_m", Some(&t.depth_m)),
        ("charge_depth_m", Some(&t.charge_depth_m)),
        ("charge_c", Some(&t.charge_c)),
        ("hot_spot_k", t.hot_spot_k.as_ref()),
        ("surface_k", t.surface_k.as_ref()),
        ("bath_k", Some(&t.bath_k)),
        ("available", t.available.as_ref()),
        ("total", t.total.as_ref()),
    ]
}
