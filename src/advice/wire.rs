//! How warm the leads get, and which wire would stay cool.

use super::weighed::Weighed;
use crate::laws::wire;
use crate::units::Wire;

/// Steady rise over the air at the run's highest current, K; none for a wire not in stock.
fn rise_of(of: &Weighed, is: Wire) -> Option<f64> {
    let leads = &of.stock.leads;
    let per_metre = leads.per_metre(is)?;
    let outer = leads.outer_diameter(is)?;
    let emissivity = leads.insulation.emissivity.is.0;
    // Root mean square, where it pulses.
    let current = of.run.extremes.current_a * of.setup.duty().sqrt();
    Some(wire::rise(current, per_metre, outer, of.setup.ambient_k, emissivity))
}

/// Rise of the job's leads at the run's highest current, K.
pub fn leads_rise(of: &Weighed) -> Option<f64> {
    rise_of(of, of.job.leads.wire.is)
}

/// The thinnest wire by gauge that stays within a rise at the run's highest current.
pub fn wire_that_does(of: &Weighed, limit: f64) -> Option<String> {
    let cool = |n: &u32| rise_of(of, Wire::Awg(*n)).is_some_and(|rise| rise <= limit);
    (0..=40).rev().find(cool).map(|n| format!("AWG {n} or thicker"))
}
