//! Limits in words: what was found and what to do about it; a reason in a few words; a name.

use crate::advice::{Held, Limit, Whose};
use crate::units::say::{self, System};

/// What a limit is called.
pub fn name(limit: Limit) -> &'static str {
    match limit {
        Limit::Resist => "the resist's current density",
        Limit::OwnDensity => "your current density",
        Limit::CellCurrent => "the cell's current",
        Limit::Film => "a salt film at the sheet",
        Limit::ResistWarmth => "the resist's warmth",
        Limit::Leads | Limit::WarmLeads => "warmth of the leads",
        Limit::Adapter => "the adapter's rating",
        Limit::Reversed => "a cell driven backwards",
        Limit::Sludge => "pale sludge at the sheet",
        Limit::Loose => "loose silver at the pan",
        Limit::Gas => "gas at the pan",
        Limit::Time => "time",
        Limit::Heat => "the cell's heat",
        Limit::Touch => "heat to the touch",
        Limit::Charge => "charge",
    }
}

/// Value and limit to as many figures as tell them apart.
fn apart(held: &Held, u: System) -> (String, String) {
    let (a, b) = (held.value, held.bears);
    match held.limit {
        Limit::Resist | Limit::OwnDensity => say::apart(a, b, |x, d| u.density_to(x, d)),
        Limit::CellCurrent | Limit::Adapter => say::apart(a, b, say::current_to),
        Limit::Film | Limit::Sludge => say::apart(a, b, say::molar_to),
        Limit::ResistWarmth | Limit::Heat | Limit::Touch => {
            say::apart(a, b, |k, d| u.temperature_to(k, d))
        }
        Limit::Leads | Limit::WarmLeads => (u.rise(a), u.rise(b)),
        Limit::Time => (say::time(a), say::time(b)),
        Limit::Loose | Limit::Gas | Limit::Charge => (say::share(a), say::share(b)),
        Limit::Reversed => (say::voltage(-a), say::voltage(b)),
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
            "{value} on the bare metal is more than the {bears} that {who} bears (common \
             practice): edges may lift. Use fewer volts or a wider gap."
        ),
        Limit::OwnDensity => format!(
            "{value} on the bare metal is over your limit of {bears}: use fewer volts or a wider \
             gap."
        ),
        Limit::CellCurrent => format!(
            "Each cell gives {value}; {who} bears about {bears} for long. Feel the cells often, \
             and rest them when they are warm."
        ),
        Limit::Film => format!(
            "Dissolved {who} at the sheet's face would come to {value}, past the {bears} that \
             dissolve: a salt film forms, the metal polishes or stalls, and these numbers no \
             longer hold. Stir, or use less current."
        ),
        Limit::Sludge => format!(
            "Stir. Dissolved {who} at the sheet's face would come to {value}, and the brine holds \
             {bears}: the rest falls as much pale sludge, the sheet goes on dissolving beneath it, \
             its floor comes out rough, and times are good to a third at best. Brush the face at \
             every look."
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
            "The adapter gives {value} but is rated for {bears}: it may overheat. Widen the gap or \
             use a stronger one."
        ),
        Limit::Reversed => format!(
            "A cell is driven backwards, to {value}: it may leak or burst. Do not run this; use \
             fresher or larger cells, or fewer in series."
        ),
        Limit::Loose => format!(
            "{}: part of the silver comes down loose. Brush the face and keep the gap clear of it.",
            loaded(held.value)
        ),
        Limit::Gas => format!(
            "{}: hydrogen comes off besides, and what metal comes down is loose. Air the room, no \
             flames.",
            loaded(held.value)
        ),
        Limit::Touch => format!(
            "The cells' surface comes to {value}, over the {bears} that skin bears: let them cool \
             before you handle them."
        ),
        Limit::Time => format!("It takes {value}, over the {bears} allowed."),
        Limit::Heat => format!("A cell comes to {value} inside, over its limit of {bears}."),
        Limit::Charge => format!("It takes {value} of the charge at hand, of {bears} left."),
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

/// A broken limit as a reason against a source, in a few words.
pub fn reason(held: &Held, u: System) -> String {
    let ((value, bears), who) = (apart(held, u), bearer(held));
    match held.limit {
        Limit::Resist => format!("{value} on the bare metal, the resist bears {bears}"),
        Limit::OwnDensity => format!("{value} on the bare metal, your limit is {bears}"),
        Limit::CellCurrent => format!("needs {value} a cell, {who} bears {bears}"),
        Limit::Film => format!(
            "a salt film: {value} of metal at the sheet's face, {bears} dissolve (stirring or less \
             current keeps it off)"
        ),
        Limit::Sludge => {
            format!("pale sludge: {value} of metal at the sheet's face, the brine holds {bears}")
        }
        Limit::ResistWarmth => format!("the bath comes to {value}, the resist bears {bears}"),
        Limit::Leads | Limit::WarmLeads => {
            let needs = held.would_do.as_ref().map(|w| format!("; needs {w}")).unwrap_or_default();
            format!("the leads warm by {value}{needs}")
        }
        Limit::Adapter => format!("the adapter gives {value}, it is rated for {bears}"),
        Limit::Reversed => format!("a cell is driven backwards, to {value}"),
        Limit::Loose | Limit::Gas => format!("the pan is loaded to {value} of what it can plate"),
        Limit::Touch => format!("{value} at a cell's surface, limit {bears}"),
        Limit::Time => format!("takes {value}, allowed are {bears}"),
        Limit::Heat => format!("a cell comes to its limit of {bears} inside"),
        Limit::Charge => format!("takes {value} of the charge at hand, of {bears} left"),
    }
}
