//! Ends before the depth, in words.

use crate::advice::{End, Taker};
use crate::units::say::{self, System};

/// What takes the voltage, in plain words.
pub fn taker(of: Taker) -> &'static str {
    match of {
        Taker::Limit => "the supply's current limit",
        Taker::Source => "the source itself",
        Taker::Leads => "the leads and clips",
        Taker::Bath => "the bath between sheet and pan",
        Taker::Electrodes => "the metals and their films",
    }
}

/// What makes it faster, by what takes the most of the voltage.
fn faster(held: Option<Taker>) -> &'static str {
    match held {
        Some(Taker::Limit) => "raise the supply's current limit",
        Some(Taker::Source) => "take a stronger source, more cells side by side for one",
        Some(Taker::Leads) => "use thicker, shorter leads and clean clips",
        Some(Taker::Bath) => "set a smaller gap or make a stronger bath",
        Some(Taker::Electrodes) | None => "set more volts or put more cells in series",
    }
}

/// What happened and what to do about it, in one or two sentences.
pub fn finding(end: &End, u: System) -> String {
    match end {
        End::Empty { depth, target, time } => format!(
            "The cells are empty after {}, at {} of {}: take a fresh charge, larger cells or more \
             side by side, or etch less bare area at a time.",
            say::time(*time),
            u.depth(*depth),
            u.depth(*target)
        ),
        End::Hot { limit, depth, target, time } => format!(
            "A cell's core comes to its limit of {} after {}, at {} of {}: switch off and let the \
             cells cool, or share the current among more or larger cells, or widen the gap.",
            u.temperature(*limit),
            say::time(*time),
            u.depth(*depth),
            u.depth(*target)
        ),
        End::Time { depth, target, needed, held, .. } => {
            let needs = match needed {
                Some(t) => format!("at its last rate it needs {} in all", say::time(*t)),
                None => "it has stopped etching".to_string(),
            };
            format!(
                "Out of time at {} of {}: {needs}. Allow that, or {}.",
                u.depth(*depth),
                u.depth(*target),
                faster(*held)
            )
        }
        End::Floor { depth, target } => format!(
            "The metal is down to the floor at {} of {}: aim less deep or use thicker sheet.",
            u.depth(*depth),
            u.depth(*target)
        ),
        End::Boil { limit, depth, target, time } => format!(
            "The bath boils, at {}, after {}, at {} of {}: use far less current or far more bath.",
            u.temperature(*limit),
            say::time(*time),
            u.depth(*depth),
            u.depth(*target)
        ),
        End::Freeze { limit, depth, target, time } => format!(
            "The bath freezes, at {}, after {}, at {} of {}: warm the room.",
            u.temperature(*limit),
            say::time(*time),
            u.depth(*depth),
            u.depth(*target)
        ),
        End::NoCurrent { open, back } => format!(
            "No current flows: the source's {} is not above the {} that the metals push back. Put \
             more cells in series or set more volts.",
            say::voltage(*open),
            say::voltage(*back)
        ),
    }
}

/// As a reason against a source, in a few words.
pub fn reason(end: &End, u: System) -> String {
    match end {
        End::Empty { depth, target, time } => format!(
            "empty after {}, at {} of {}",
            say::time(*time),
            u.depth(*depth),
            u.depth(*target)
        ),
        End::Hot { depth, target, time, .. } => format!(
            "too hot inside after {}, at {} of {}",
            say::time(*time),
            u.depth(*depth),
            u.depth(*target)
        ),
        End::Time { depth, target, time, .. } => {
            format!("only {} of {} in {}", u.depth(*depth), u.depth(*target), say::time(*time))
        }
        End::Floor { depth, .. } => format!("down to the floor at {}", u.depth(*depth)),
        End::Boil { time, .. } => format!("the bath boils after {}", say::time(*time)),
        End::Freeze { time, .. } => format!("the bath freezes after {}", say::time(*time)),
        End::NoCurrent { .. } => "no current: too few volts".into(),
    }
}
