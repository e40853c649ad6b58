//! Limits in words: what was found and what to do about it; a reason in a few words; a name.

use crate::advice::{Held, Limit, Whose};
use crate::units::say::{self, System};

/// What a limit is called.
pub fn name(limit: Limit) -> &'static str {
    match limit {
        Limit::NoCurrent => "the source's voltage",
        Limit::Empty => "charge",
        Limit::Time => "time",
        Limit::Floor => "the metal that is left",
        Limit::Hot => "the cell's heat",
        Limit::Boil => "the bath's boiling point",
        Limit::Freeze => "the bath's freezing point",
        Limit::Reversed => "a cell driven backwards",
        Limit::Leads | Limit::WarmLeads => "warmth of the leads",
        Limit::Adapter | Limit::AdapterLoad => "the adapter's rating",
        Limit::CellCurrent => "the cell's current",
        Limit::OwnDensity => "your current density",
        Limit::OwnTouch => "your limit of the cells' surface",
        Limit::Warm => "warm cells",
        Limit::PanLoad => "the load of the pan",
        Limit::Film => "a salt film at the sheet",
        Limit::Sludge => "pale sludge at the sheet",
        Limit::Resist => "the resist",
        Limit::Pace => "the pace near the end",
        Limit::Touch => "heat to the touch",
        Limit::ResistWarmth => "the resist's warmth",
        Limit::Loose => "loose silver at the pan",
        Limit::Gas => "gas at the pan",
    }
}

/// Value and limit to as many figures as tell them apart.
fn apart(held: &Held, u: System) -> (String, String) {
    let (a, b) = (held.value, held.bears);
    match held.limit {
        Limit::OwnDensity => say::apart(a, b, |x, d| u.density_to(x, d)),
        Limit::CellCurrent | Limit::Adapter | Limit::AdapterLoad => {
            say::apart(a, b, say::current_to)
        }
        Limit::Film | Limit::Sludge => say::apart(a, b, say::molar_to),
        Limit::ResistWarmth
        | Limit::Hot
        | Limit::Warm
        | Limit::Touch
        | Limit::OwnTouch
        | Limit::Boil
        | Limit::Freeze => say::apart(a, b, |k, d| u.temperature_to(k, d)),
        Limit::Leads | Limit::WarmLeads => (u.rise(a), u.rise(b)),
        Limit::Time => (say::time(a), say::time(b)),
        Limit::PanLoad | Limit::Loose | Limit::Gas | Limit::Empty => (say::share(a), say::share(b)),
        Limit::Reversed => (say::voltage(-a), say::voltage(b)),
        Limit::NoCurrent => (say::voltage(a), say::voltage(b)),
        Limit::Floor | Limit::Pace => (u.depth(a), u.depth(b)),
        Limit::Resist => (u.dose(a), u.dose(b)),
    }
}

/// Who bears it, by name.
fn bearer(held: &Held) -> &str {
    match &held.whose {
        Whose::Stock(name) => name,
        Whose::Usual => "a usual resist (the job names none)",
        Whose::Job => "you",
        Whose::Model => "it",
    }
}

/// A broken limit in one or two sentences.
pub fn finding(held: &Held, u: System) -> String {
    let ((value, bears), who) = (apart(held, u), bearer(held));
    match held.limit {
        Limit::Resist => format!(
            "{value} passes through the bare metal, and {who} begins to lift not far from there \
             (common practice): rub its edges down, look at them at every look, and stop when one \
             lifts."
        ),
        Limit::OwnDensity => format!(
            "{value} on the bare metal is over your limit of {bears}: use fewer volts or a wider \
             gap."
        ),
        Limit::CellCurrent => format!(
            "Each cell gives {value}; {who} bears {bears} and no more: it may vent and burn. Put \
             more side by side or use fewer volts."
        ),
        Limit::Film => format!(
            "Dissolved {who} at the sheet's face comes to {value}, over half of what dissolves: \
             stir, or a salt film may form, under which the metal polishes or stalls and these \
             numbers no longer hold."
        ),
        Limit::Sludge => format!(
            "Stir. Dissolved {who} at the sheet's face would come to {value}, and the brine holds \
             little of it: the rest falls as much pale sludge, the sheet goes on dissolving \
             beneath it, its floor comes out rough, and times are good to a third at best. Brush \
             the face at every look."
        ),
        Limit::ResistWarmth => format!(
            "The bath comes to {value}, over the {bears} that {who} bears (common practice): rest \
             it or use more bath."
        ),
        Limit::Leads | Limit::WarmLeads => format!(
            "The leads warm by {value} over the air: use {}.",
            held.would_do.as_deref().unwrap_or("thicker wire than there is in stock")
        ),
        Limit::Adapter => format!(
            "The adapter gives {value}, far over its rating: it will overheat. Widen the gap or \
             use a stronger one."
        ),
        Limit::AdapterLoad => format!(
            "The adapter gives {value}, about all that it is rated for or more: feel it, and \
             widen the gap if it gets hot."
        ),
        Limit::Reversed => format!(
            "A cell is driven backwards, to {value}: it may leak or burst. Do not run this; use \
             fresher or larger cells, or fewer in series."
        ),
        Limit::PanLoad => format!("{}: silver comes down as dark sludge.", loaded(held.value)),
        Limit::Loose => format!(
            "{}: part of the silver comes down loose. Brush the face and keep the gap clear of it.",
            loaded(held.value)
        ),
        Limit::Gas => format!(
            "{}: hydrogen comes off besides, and what metal comes down is loose. Air the room, no \
             flames.",
            loaded(held.value)
        ),
        Limit::Pace => format!(
            "Near the end a minute is {value} of depth: look often, and stop a little early."
        ),
        Limit::Touch | Limit::OwnTouch => format!(
            "The cells' surface comes to {value}, over the {bears} that skin bears: let them cool \
             before you handle them."
        ),
        Limit::Warm => {
            format!("A cell comes to {value} inside: warm. Let the cells cool after it.")
        }
        Limit::Time => format!("It takes {value}, over the {bears} allowed."),
        Limit::Hot => format!("A cell comes to {value} inside, over its limit of {bears}."),
        Limit::Empty => format!("It takes {value} of the charge at hand, of {bears} left."),
        Limit::Floor => format!("The floor comes to {value}; {bears} is all there is."),
        Limit::Boil => format!("The bath comes to {value} and boils at {bears}."),
        Limit::Freeze => format!("The bath comes to {value} and freezes at {bears}."),
        Limit::NoCurrent => format!("The metals push back {value}, the source has {bears}."),
    }
}

/// How hard the pan is driven.
fn loaded(load: f64) -> String {
    if load > 5.0 {
        "The bath has next to no metal to plate".to_string()
    } else {
        format!("The pan is loaded to {} of what it can plate", say::share(load))
    }
}

/// A broken limit as a reason, in a few words.
pub fn reason(held: &Held, u: System) -> String {
    let ((value, bears), who) = (apart(held, u), bearer(held));
    match held.limit {
        Limit::Resist => format!("{value} through the bare metal, where {who} begins to lift"),
        Limit::OwnDensity => format!("{value} on the bare metal, your limit is {bears}"),
        Limit::CellCurrent => format!("needs {value} a cell, {who} bears {bears}"),
        Limit::Film => format!("{value} of metal at the sheet's face, near a salt film"),
        Limit::Sludge => format!("pale sludge: {value} of metal at the sheet's face"),
        Limit::ResistWarmth => format!("the bath comes to {value}, the resist bears {bears}"),
        Limit::Leads | Limit::WarmLeads => {
            let needs = held.would_do.as_ref().map(|w| format!("; needs {w}")).unwrap_or_default();
            format!("the leads warm by {value}{needs}")
        }
        Limit::Adapter | Limit::AdapterLoad => format!("the adapter gives {value}"),
        Limit::Reversed => format!("a cell is driven backwards, to {value}"),
        Limit::PanLoad | Limit::Loose | Limit::Gas => {
            format!("the pan is loaded to {value} of what it can plate")
        }
        Limit::Pace => format!("{value} of depth in a minute near the end"),
        Limit::Touch | Limit::OwnTouch => format!("{value} at a cell's surface, limit {bears}"),
        Limit::Warm => format!("{value} inside the cells"),
        Limit::Time => format!("takes {value}, allowed are {bears}"),
        Limit::Hot => format!("a cell comes to its limit of {bears} inside"),
        Limit::Empty => format!("takes {value} of the charge at hand, of {bears} left"),
        Limit::Floor => format!("down to {value}"),
        Limit::Boil => "the bath boils".into(),
        Limit::Freeze => "the bath freezes".into(),
        Limit::NoCurrent => "no current: too few volts".into(),
    }
}
