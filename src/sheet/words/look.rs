//! The answer while the current is on, in sentences.

use super::faults::{fault, remedy};
use super::limits;
use super::often::times;
use crate::advice::Limit;
use crate::advice::look::{Against, Look, Stand, Suspect};
use crate::advice::spread::quantile::Quantiles;
use crate::job::log::{Reading, What};
use crate::units::say::{self, System};

/// How deep it is now.
pub fn depth(look: &Look, u: System) -> String {
    let depth = &look.now.depth_now_m;
    span(depth, &|m| u.depth(m)).map_or_else(
        || "no telling how deep".into(),
        |(middle, ends)| format!("{middle} deep ({ends}, eight times in ten)."),
    )
}

/// When it is done.
pub fn done(look: &Look) -> String {
    let time = |s: f64| say::time(s);
    let before = span(&look.before.done_s, &time)
        .map_or_else(|| "less than half of all runs come to it".into(), |(_, ends)| ends);
    match span(&look.now.done_s, &time) {
        Some((middle, ends)) => {
            let left = look.now.left_s.p50.unwrap_or(0.0);
            let first = if left > 0.0 {
                format!("{} from now, at {middle} ({ends})", time(left))
            } else {
                format!("by now, at {middle} ({ends})")
            };
            format!("{first}; without what was read: {before}.")
        }
        None => format!("It does not come to its depth, more often than not; before: {before}."),
    }
}

/// When to look next.
pub fn next(look: &Look, u: System) -> String {
    if let Some(depth) = look.deep_enough {
        return format!(
            "Now: current off. {} was measured, and {} is what it should be: measure again, in \
             several places.",
            u.depth(depth),
            u.depth(look.case.setup.piece.depth)
        );
    }
    match look.now.next_look_s {
        None => "Now: current off, it should be deep enough.".into(),
        Some(at) => {
            let stop = look.now.done_s.p50.is_some_and(|done| (done - at).abs() < 1.0);
            let what = if stop { "and stop, " } else { "" };
            format!("{what}at {}, {} from now.", say::time(at), say::time(at - look.now_s))
        }
    }
}

/// One reading beside what was expected.
pub fn against(of: &Against, u: System) -> String {
    let (middle, low, high) = of.expected;
    let say = |value: f64| said(&of.reading, value, u);
    format!(
        "{} at {}, where {} was expected ({} to {}).",
        say(of.reading.value),
        say::time(of.reading.at_s),
        say(middle),
        say(low),
        say(high)
    )
}

fn said(reading: &Reading, value: f64, u: System) -> String {
    match reading.what {
        What::Amps => super::faults::shows(value),
        What::BathVolts | What::SourceVolts => say::voltage(value),
        What::Depth => u.depth(value),
        What::WeightLoss => say::mass(value),
        What::CellTemperature => u.temperature(value),
    }
}

/// Whether times hold: nothing is wrong.
pub fn holds(look: &Look) -> bool {
    let (off, most) = look.compared.off;
    look.compared.suspect.is_none() && !look.compared.beyond && off <= most
}

/// What the readings say of the set-up.
pub fn fits(look: &Look, u: System) -> String {
    let compared = &look.compared;
    if compared.beyond {
        return "more than this source gives even with sheet and pan shorted: read again. mA for \
                A, or a slipped point?"
            .into();
    }
    match &compared.suspect {
        Some(suspect) => suspected(suspect, u),
        None if holds(look) => "as a set-up that is right.".into(),
        None => "as neither the plan nor any usual fault would: read again, then look at \
                 everything."
            .into(),
    }
}

/// Most faults that are said to read alike.
const ALIKE: usize = 3;

fn suspected(suspect: &Suspect, u: System) -> String {
    let since =
        suspect.since_s.map_or_else(String::new, |at| format!(", since {} at most", say::time(at)));
    if suspect.open {
        return format!(
            "as if nothing flowed{since}: a clip is off, a lead or a joint is open. Current off, \
             find it, clip it on again."
        );
    }
    let mut text = format!("as if {}{since}. {}", fault(suspect.fault, u), remedy(suspect.fault));
    text += &format!(" That is {} as likely as that all is right.", many(suspect.odds));
    let others: Vec<String> = suspect.like.iter().take(ALIKE).map(|f| fault(*f, u)).collect();
    if !others.is_empty() {
        text += &format!(" Much the same would be read if {}.", others.join(", or if "));
    }
    text
}

/// What is said of the times where something is wrong.
pub const NOT_SO: &str = "Times hold only once it is put right: then read, and ask again.";

fn many(odds: f64) -> String {
    if odds >= 1000.0 {
        "a thousand times and more".into()
    } else {
        format!("{} times", say::figures(odds, 2))
    }
}

/// The limits that are in danger; none where none is.
pub fn danger(stand: &Stand) -> Option<String> {
    let firm = |l: &Limit| l.firm() && stand.chances.of_limit(*l) > 0.05;
    let list: Vec<String> = Limit::ALL
        .into_iter()
        .filter(firm)
        .map(|l| {
            let often = times(10.0 * stand.chances.of_limit(l));
            format!("{}: {often} in ten", limits::name(l))
        })
        .collect();
    (!list.is_empty()).then(|| format!("{}.", list.join("; ")))
}

/// The middle, and the ends as one clause; none where the middle is none.
fn span(q: &Quantiles, say: &dyn Fn(f64) -> String) -> Option<(String, String)> {
    let middle = say(q.p50?);
    let ends = match (q.p10, q.p90) {
        (Some(low), Some(high)) => format!("{} to {}", say(low), say(high)),
        (Some(low), None) => format!("{} or never", say(low)),
        _ => "never".into(),
    };
    Some((middle, ends))
}
