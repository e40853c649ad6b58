//! Where the driving voltage goes.

use crate::run::{Run, Setup, Source};

/// What takes a part of the voltage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Taker {
    /// The supply's current limit.
    Limit,
    /// The source's own resistance.
    Source,
    /// Wire and clips.
    Leads,
    /// The bath's resistance.
    Bath,
    /// The electrodes: equilibrium potentials, films, overpotentials.
    Electrodes,
}

/// One taker of the driving voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// What takes it.
    pub of: Taker,
    /// Its part, 0..=1.
    pub share: f64,
}

/// Where the source's open-circuit voltage goes at the start of a run, the largest taker first;
/// none where no current flows.
pub fn voltage_shares(setup: &Setup, run: &Run) -> Option<Vec<Share>> {
    let i = run.start_current_a;
    if i <= 0.0 {
        return None;
    }
    let inside = match setup.source {
        Source::Supply { set_v, .. } => set_v - run.start_source_v,
        _ => i * run.source_resistance_ohm,
    };
    let leads = i * run.lead_resistance_ohm;
    let ohmic = i * run.bath_resistance_ohm;
    let all = inside + leads + run.start_bath_v;
    let source = if run.extremes.limited.0 { Taker::Limit } else { Taker::Source };
    let mut list: Vec<Share> = [
        (source, inside),
        (Taker::Leads, leads),
        (Taker::Bath, ohmic),
        (Taker::Electrodes, run.start_bath_v - ohmic),
    ]
    .map(|(of, volts)| Share { of, share: volts / all })
    .to_vec();
    list.sort_by(|a, b| b.share.total_cmp(&a.share));
    Some(list)
}
