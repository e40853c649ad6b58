//! How a source stands, in sentences.

use super::limits;
use crate::advice::cycle::Cycle;
use crate::advice::size::{Change, Goal, Judged, Knob};
use crate::job::Source;
use crate::units::Quantity;
use crate::units::say::{self, System};

/// "6 min on and 2 min off in turn".
pub fn in_turn(cycle: &Cycle) -> String {
    format!("{} on and {} off in turn", say::time(cycle.on_s), say::time(cycle.off_s))
}

/// The limit with the least in hand, in a sentence.
pub fn tightest(o: &Judged) -> String {
    o.in_hand().first().map_or_else(String::new, |(limit, times)| {
        format!("Tightest limit: {}, {} in hand.", limits::name(*limit), in_hand(*times))
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

/// A source in a few words: "4 LR20 in series, open tray".
pub fn source_words(source: &Source) -> String {
    match source {
        Source::Pack(p) => {
            let (series, parallel, name) = (p.series.is, p.parallel, &p.cell.name);
            let wired = match (series, parallel) {
                (1, 1) => format!("one {name}"),
                (_, 1) => format!("{series} {name} in series"),
                (1, _) => format!("{parallel} {name} side by side"),
                _ => format!("{parallel} strings of {series} {name} in series"),
            };
            format!("{wired}, {}", p.holder.name)
        }
        Source::Supply(s) => {
            let limit = s.current_limit.map(|a| format!(", at most {}", setting(a.si(), "A")));
            format!(
                "a bench supply at {}{}",
                setting(s.voltage.si(), "V"),
                limit.unwrap_or_default()
            )
        }
        Source::Adapter(a) => format!("the adapter of {}", setting(a.open_voltage.si(), "V")),
    }
}

/// A setting as it is set.
fn setting(value: f64, unit: &str) -> String {
    format!("{} {unit}", say::figures(value, 3))
}

/// Ratings that resistors are sold with, W.
const RATINGS_W: [f64; 9] = [0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 25.0, 50.0, 100.0];

/// Rating of a resistor for so much heat: it is used at half of what it bears (common practice,
/// no published source).
fn rating_w(heat_w: f64) -> f64 {
    let bears = |rating: &f64| *rating >= 2.0 * heat_w;
    RATINGS_W.into_iter().find(bears).unwrap_or(2.0 * heat_w)
}

/// A change that would do, in a sentence.
pub fn change(change: &Change, u: System) -> String {
    let (from, to) = change.values;
    let with = source_words(&change.source);
    let does = match change.goal {
        Goal::Done => "then does it, more often than not",
        Goal::WithRoom => "then does it with room",
    };
    match change.knob {
        Knob::Time => {
            format!("Allow {} instead of {}: {with} {does}.", say::time(to), say::time(from))
        }
        Knob::Gap => {
            format!("Set the gap to {} instead of {}: {with} {does}.", u.length(to), u.length(from))
        }
        Knob::Strength => format!(
            "Make the bath {} instead of {}: {with} {does}.",
            say::molar(to),
            say::molar(from)
        ),
        Knob::Stirring => format!("Stir the bath: {with} {does}."),
        Knob::Cells => {
            format!("Allow {to} cells instead of {from}: {with} {does}.")
        }
        Knob::Resistor => {
            let watts = change.resistor_w.map_or(0.0, rating_w);
            format!(
                "Put a resistor of {} and {} W into one lead: {with} {does}.",
                say::resistance(to),
                say::figures(watts, 3)
            )
        }
        Knob::Bare => format!(
            "Etch it in {} goes, stopping out the rest: {} of what is bare at a time; {with} {does}.",
            (from / to).ceil(),
            say::share(to / from)
        ),
    }
}
