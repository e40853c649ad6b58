//! Why a source does not do the job, in a few words.

use super::often::times;
use super::{ends, limits};
use crate::advice::Limit;
use crate::advice::size::Reason;
use crate::units::say::System;

/// One reason.
pub fn reason(reason: &Reason, u: System) -> String {
    match reason {
        Reason::Over(held) => limits::reason(held, u),
        Reason::Ends(end) => ends::reason(end, u),
        Reason::Warm { held, tried } => {
            let helps = match (tried, held.limit) {
                (true, _) => ", and no rest helps in the time",
                (false, Limit::Hot) => " in one go",
                (false, _) => " in one go, without a rest",
            };
            format!("{}{helps}", limits::reason(held, u))
        }
        Reason::Mostly { limit, share } => {
            format!("fails {} in ten, mostly for {}", times(10.0 * share), limits::name(*limit))
        }
        Reason::Pieces { pieces, asked } => format!("{pieces} pieces a charge, {asked} asked for"),
    }
}

/// All of them, as one clause.
pub fn reasons(list: &[Reason], u: System) -> String {
    list.iter().map(|r| reason(r, u)).collect::<Vec<_>>().join("; ")
}
