//! How warm the leads get, and which wire would stay cool.

use super::case::Case;
use crate::laws::wire;
use crate::units::Wire;

/// Steady rise over the air at the run's highest current, K; none for a wire not in stock.
fn rise_of(case: &Case, is: Wire) -> Option<f64> {
    let leads = &case.stock.leads;
    let per_metre = leads.per_metre(is)?;
    let outer = leads.outer_diameter(is)?;
    let emissivity = leads.insulation.emissivity.is.0;
    let current = case.run.extremes.current_a;
    Some(wire::rise(current, per_metre, outer, case.setup.ambient_k, emissivity))
}

/// Rise of the job's leads at the run's highest current, K.
pub fn leads_rise(case: &Case) -> Option<f64> {
    rise_of(case, case.job.leads.wire.is)
}

/// The thinnest wire by gauge that stays within a rise at the run's highest current.
pub fn wire_that_does(case: &Case, limit: f64) -> Option<String> {
    let cool = |n: &u32| rise_of(case, Wire::Awg(*n)).is_some_and(|rise| rise <= limit);
    (0..=40).rev().find(cool).map(|n| format!("AWG {n} or thicker"))
}
