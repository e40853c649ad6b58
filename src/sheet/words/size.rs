//! How a source stands, in sentences.

use crate::advice::cycle::Cycle;
use crate::advice::size::{Judged, Reason};
use crate::units::say::{self, System};

/// Why a source does not do.
pub fn why_not(reasons: &[Reason], u: System) -> String {
    reasons.iter().map(|r| r.text(u)).collect::<Vec<_>>().join("; ")
}

/// "6 min on and 2 min off in turn".
pub fn in_turn(cycle: &Cycle) -> String {
    format!("{} on and {} off in turn", say::time(cycle.on_s), say::time(cycle.off_s))
}

/// The limit with the least in hand, in a sentence.
pub fn tightest(o: &Judged) -> String {
    o.margins.first().map_or_else(String::new, |m| {
        format!("Tightest limit: {}, {} in hand.", m.of, in_hand(m.times))
    })
}

/// What of a limit is left: "4 %", or "3.8 times" what is used.
pub fn in_hand(times: f64) -> String {
    if times < 3.0 {
        format!("{} %", ((times - 1.0) * 100.0).round())
    } else {
        format!("{} times", say::figures(times, 2))
    }
}
