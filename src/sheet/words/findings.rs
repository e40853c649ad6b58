//! Findings in words: what was found and what to do about it.

use super::{ends, limits};
use crate::advice::Finding;
use crate::laws::constants::REFERENCE_K;
use crate::units::say::{self, System};

/// A finding in one or two sentences.
pub fn word(finding: &Finding, u: System) -> String {
    match finding {
        Finding::Ends(end) | Finding::May(end) => ends::finding(end, u),
        Finding::Over(held) | Finding::MayPass(held) => limits::finding(held, u),
        Finding::Sags { volts, cutoff } => format!(
            "The cells sag to {} each under load, below the {} at which they count as spent: they \
             still etch, only slower. Larger cells or more side by side hold up better.",
            say::voltage(*volts),
            say::voltage(*cutoff)
        ),
        Finding::PrimaryParallel { parallel } => format!(
            "{parallel} primary cells side by side: a weak one is charged by its neighbours and \
             may leak or burst. Use cells of one kind and age only, and take them apart when done."
        ),
        Finding::PrimaryUsed { left } => format!(
            "Used primary cells, {} left: never mix old and new, and never charge them.",
            say::share(*left)
        ),
        Finding::AtCurrentLimit { limit } => format!(
            "The supply is at its current limit of {}: more volts would not make it faster.",
            say::current(*limit)
        ),
        Finding::Undermined { undercut, resist } => format!(
            "Undercut of {} from both sides leaves little under resist lines about {} wide: fine \
             ones will float off. Draw them bolder or etch less deep.",
            u.depth(*undercut),
            u.depth(*resist)
        ),
        Finding::CoarsePattern { pitch, gap } => format!(
            "Lines {} apart are coarse for a gap of {}: the constriction is only roughly known.",
            u.length(*pitch),
            u.length(*gap)
        ),
        Finding::ShapeUnchecked { ratio, aspect } => format!(
            "The gap is {} times the sheet's half width, sides {} to 1: outside the range in which \
             the bath's resistance was checked (0.05 to 10 times, up to 4 to 1).",
            say::figures(*ratio, 2),
            say::figures(*aspect, 2)
        ),
        Finding::PanSmall { outline, pan } => format!(
            "The sheet's {} is more than the pan's {}: the edges etch slower than said. Use a \
             larger pan.",
            u.area(*outline),
            u.area(*pan)
        ),
        Finding::ConductivityHeld => {
            "The bath is colder or hotter than its conductivity is known for; the \
             nearest known value is used."
                .to_string()
        }
        Finding::BeyondData { concentration } => format!(
            "{} lies beyond the data behind the bath's conductivity: the curve is carried on, \
             and may be a tenth or more off. A reading of your own (bath.conductivity) beats it.",
            say::molar(*concentration)
        ),
        Finding::KappaRecalled { kappa25 } => format!(
            "The bath's conductivity, {} mS/cm at {}, is from recalled tables, good to about \
             10 %: a reading of your own (bath.conductivity) beats it.",
            say::figures(*kappa25 * 10.0, 2),
            u.temperature(REFERENCE_K)
        ),
        Finding::ThinLeft { left } => format!(
            "Only {} of metal stays under the recess, and no floor is set: look often near the end.",
            u.depth(*left)
        ),
        Finding::FineTolerance { tolerance, gain } => format!(
            "A tolerance of {} is finer than looking can hold: up to {} is gained between two \
             looks.",
            u.depth(*tolerance),
            u.depth(*gain)
        ),
        Finding::Untried { density, tried } => format!(
            "{} on the bare metal: no experience backs more than {} (common practice).",
            u.density(*density),
            u.density(*tried)
        ),
        Finding::Bloom { after } => {
            format!("The pan darkens after about {}: spongy silver, no fault.", say::time(*after))
        }
        Finding::Beyond { range, value } => format!(
            "The {} was checked for {} of {} to {} {}; here it is {}: what rests on it is less \
             sure.",
            range.law,
            range.of,
            say::figures(range.low, 2),
            say::figures(range.high, 2),
            range.unit,
            say::figures(*value, 2)
        )
        .replace(" ;", ";"),
        Finding::Learned { file, holding: 0, .. } => format!(
            "Nothing that {file} has learned holds for this piece, bath and source: the numbers \
             are the usual ones."
        ),
        Finding::Learned { file, runs, holding } => format!(
            "The numbers are this bench's own so far as {file} knows it: {holding} {} learned \
             from {}.",
            if *holding == 1 { "factor" } else { "factors" },
            if *runs == 1 { "one run".into() } else { format!("{runs} runs") }
        ),
    }
}
