//! Findings in words: what was found and what to do about it.

use super::findings::{Finding, Level};
use super::limits::{HELD_BY_BATH, HELD_BY_LEADS, HELD_BY_LIMIT, HELD_BY_SOURCE};
use crate::laws::constants::REFERENCE_K;
use crate::units::say::{self, System};

impl Finding {
    /// How grave.
    pub fn level(&self) -> Level {
        use Finding::*;
        match self {
            WireWarm { hot: true, .. }
            | Refused(_)
            | Empty { .. }
            | Hot { .. }
            | OutOfTime { .. }
            | Floor { .. }
            | NoCurrent { .. }
            | Reversed { .. } => Level::Stop,
            Sags { .. }
            | CellCurrent { .. }
            | Overloaded { .. }
            | TooHotToTouch { .. }
            | ResistDensity { .. }
            | ResistTemperature { .. }
            | OwnDensity { .. }
            | SaltFilm { .. }
            | Powder { gas: true, .. }
            | PrimaryParallel { .. }
            | Undermined { .. }
            | WireWarm { .. }
            | PanSmall { .. } => Level::Caution,
            Powder { .. }
            | PrimaryUsed { .. }
            | CoarsePattern { .. }
            | ShapeUnchecked { .. }
            | ConductivityHeld
            | AtCurrentLimit { .. }
            | BeyondData { .. }
            | KappaRecalled { .. }
            | ThinLeft { .. }
            | FineTolerance { .. }
            | Learned { .. } => Level::Note,
        }
    }

    /// Its word for programs.
    pub fn code(&self) -> &'static str {
        use Finding::*;
        match self {
            Refused(refused) => refused.code,
            Empty { .. } => "empty",
            Hot { .. } => "hot",
            OutOfTime { .. } => "time",
            Floor { .. } => "floor",
            NoCurrent { .. } => "no current",
            Reversed { .. } => "reversed cell",
            Sags { .. } => "sags",
            CellCurrent { .. } => "cell current",
            Overloaded { .. } => "adapter overloaded",
            TooHotToTouch { .. } => "too hot to touch",
            ResistDensity { .. } => "resist current density",
            ResistTemperature { .. } => "resist temperature",
            OwnDensity { .. } => "current density",
            SaltFilm { .. } => "salt film",
            Powder { gas: false, .. } => "powder",
            Powder { gas: true, .. } => "powder and gas",
            PrimaryParallel { .. } => "primary cells in parallel",
            PrimaryUsed { .. } => "used primary cells",
            Undermined { .. } => "undercut",
            WireWarm { .. } => "warm wire",
            CoarsePattern { .. } => "coarse pattern",
            ShapeUnchecked { .. } => "shape unchecked",
            PanSmall { .. } => "pan too small",
            ConductivityHeld => "conductivity held",
            AtCurrentLimit { .. } => "current limit",
            BeyondData { .. } => "conductivity beyond data",
            KappaRecalled { .. } => "conductivity recalled",
            ThinLeft { .. } => "thin left",
            FineTolerance { .. } => "fine tolerance",
            Learned { .. } => "learned",
        }
    }
}

/// A finding in one or two sentences.
pub fn word(finding: &Finding, units: System) -> String {
    use Finding::*;
    match finding {
        Refused(refused) => refused.text.clone(),
        Empty { .. } | Hot { .. } | OutOfTime { .. } | Floor { .. } | NoCurrent { .. } => {
            word_stop(finding, units)
        }
        Reversed { .. }
        | Sags { .. }
        | CellCurrent { .. }
        | Overloaded { .. }
        | TooHotToTouch { .. }
        | PrimaryParallel { .. }
        | PrimaryUsed { .. }
        | WireWarm { .. }
        | AtCurrentLimit { .. } => word_source(finding, units),
        _ => word_piece_and_bath(finding, units),
    }
}

fn word_stop(finding: &Finding, u: System) -> String {
    use Finding::*;
    match finding {
        Empty { depth, target, time } => format!(
            "The cells are empty after {}, at {} of {}: take a fresh charge, larger cells or more \
             side by side, or etch less bare area at a time.",
            say::time(*time),
            u.depth(*depth),
            u.depth(*target)
        ),
        Hot { limit, depth, target, time } => format!(
            "A cell's core comes to its limit of {} after {}, at {} of {}: switch off and let the \
             cells cool, or share the current among more or larger cells, or widen the gap.",
            u.temperature(*limit),
            say::time(*time),
            u.depth(*depth),
            u.depth(*target)
        ),
        OutOfTime { depth, target, needed, held } => {
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
        Floor { depth, target } => format!(
            "The metal is down to the floor at {} of {}: aim less deep or use thicker sheet.",
            u.depth(*depth),
            u.depth(*target)
        ),
        NoCurrent { open, back } => format!(
            "No current flows: the source's {} is not above the {} that the metals push back. Put \
             more cells in series or set more volts.",
            say::voltage(*open),
            say::voltage(*back)
        ),
        _ => String::new(),
    }
}

/// What makes it faster, by what takes the most of the voltage.
fn faster(held: Option<&'static str>) -> &'static str {
    match held {
        Some(HELD_BY_LIMIT) => "raise the supply's current limit",
        Some(HELD_BY_SOURCE) => "take a stronger source, more cells side by side for one",
        Some(HELD_BY_LEADS) => "use thicker, shorter leads and clean clips",
        Some(HELD_BY_BATH) => "set a smaller gap or make a stronger bath",
        _ => "set more volts or put more cells in series",
    }
}

fn word_source(finding: &Finding, u: System) -> String {
    use Finding::*;
    match finding {
        Reversed { volts } => format!(
            "A cell is driven backwards, to {}: it may leak or burst. Do not run this; use fresher \
             or larger cells, or fewer in series.",
            say::voltage(*volts)
        ),
        Sags { volts, cutoff } => format!(
            "The cells sag to {} each under load, below the {} at which they count as spent: they \
             still etch, only slower. Larger cells or more side by side hold up better.",
            say::voltage(*volts),
            say::voltage(*cutoff)
        ),
        CellCurrent { current, bears, cell } => {
            let (gives, bears) = say::apart(*current, *bears, say::current_to);
            format!(
                "Each cell gives {gives}; {cell} bears about {bears} for long. Feel the cells \
                 often, and rest them when they are warm."
            )
        }
        Overloaded { current, rated } => {
            let (gives, rated) = say::apart(*current, *rated, say::current_to);
            format!(
                "The adapter gives {gives} but is rated for {rated}: it may overheat. Widen the \
                 gap or use a stronger one."
            )
        }
        TooHotToTouch { surface, limit } => {
            let (comes, bears) = say::apart(*surface, *limit, |k, d| u.temperature_to(k, d));
            format!(
                "The cells' surface comes to {comes}, over the {bears} that skin bears: let them \
                 cool before you handle them."
            )
        }
        PrimaryParallel { parallel } => format!(
            "{parallel} primary cells side by side: a weak one is charged by its neighbours and \
             may leak or burst. Use cells of one kind and age only, and take them apart when done."
        ),
        PrimaryUsed { left } => format!(
            "Used primary cells, {} left: never mix old and new, and never charge them.",
            say::share(*left)
        ),
        WireWarm { rise, needs, .. } => format!(
            "The leads warm by {} over the air: use {}.",
            u.rise(*rise),
            needs.as_deref().unwrap_or("thicker wire than there is in stock")
        ),
        AtCurrentLimit { limit } => format!(
            "The supply is at its current limit of {}: more volts would not make it faster.",
            say::current(*limit)
        ),
        _ => String::new(),
    }
}

fn word_piece_and_bath(finding: &Finding, u: System) -> String {
    use Finding::*;
    let resisted = |resist: &Option<String>| match resist {
        Some(name) => name.clone(),
        None => "a usual resist (the job names none)".to_string(),
    };
    match finding {
        ResistDensity { density, bears, resist } => {
            let (density, bears) = say::apart(*density, *bears, |x, d| u.density_to(x, d));
            format!(
                "{density} on the bare metal is more than the {bears} that {} bears (common \
                 practice): edges may lift. Use fewer volts or a wider gap.",
                resisted(resist)
            )
        }
        ResistTemperature { bath, bears, resist } => {
            let (comes, bears) = say::apart(*bath, *bears, |k, d| u.temperature_to(k, d));
            format!(
                "The bath comes to {comes}, over the {bears} that {} bears (common practice): \
                 rest it or use more bath.",
                resisted(resist)
            )
        }
        OwnDensity { density, limit } => {
            let (density, limit) = say::apart(*density, *limit, |x, d| u.density_to(x, d));
            format!(
                "{density} on the bare metal is over your limit of {limit}: use fewer volts or a \
                 wider gap."
            )
        }
        SaltFilm { surface, film, metal } => {
            let (surface, film) = say::apart(*surface, *film, say::molar_to);
            format!(
                "Dissolved {metal} at the sheet's face would come to {surface}, past the {film} \
                 that dissolve: a salt film forms, the metal polishes or stalls, and these \
                 numbers no longer hold. Stir, or use less current."
            )
        }
        Powder { load, gas } => {
            let more = if *gas { ", and hydrogen besides: air the room, no flames" } else { "" };
            let loaded = if *load > 5.0 {
                "The bath has next to no metal to plate".to_string()
            } else {
                format!("The pan is loaded to {} of what it can plate", say::share(*load))
            };
            format!(
                "{loaded}: what metal comes down falls as powder{more}. A black bloom on the pan \
                 is that powder, not plate."
            )
        }
        Undermined { undercut, resist } => format!(
            "Undercut of {} from both sides leaves little under resist lines about {} wide: fine \
             ones will float off. Draw them bolder or etch less deep.",
            u.depth(*undercut),
            u.depth(*resist)
        ),
        CoarsePattern { pitch, gap } => format!(
            "Lines {} apart are coarse for a gap of {}: the constriction is only roughly known.",
            u.length(*pitch),
            u.length(*gap)
        ),
        ShapeUnchecked { ratio, aspect } => format!(
            "The gap is {} times the sheet's half width, sides {} to 1: outside the range in which \
             the bath's resistance was checked (0.05 to 10 times, up to 4 to 1).",
            say::figures(*ratio, 2),
            say::figures(*aspect, 2)
        ),
        PanSmall { outline, pan } => format!(
            "The sheet's {} is more than the pan's {}: the edges etch slower than said. Use a \
             larger pan.",
            u.area(*outline),
            u.area(*pan)
        ),
        ConductivityHeld => "The bath is colder or hotter than its conductivity is known for; the \
             nearest known value is used."
            .to_string(),
        BeyondData { concentration } => format!(
            "{} lies beyond the data behind the bath's conductivity: the curve is carried on, \
             and may be a tenth or more off. A reading of your own (bath.conductivity) beats it.",
            say::molar(*concentration)
        ),
        KappaRecalled { kappa25 } => format!(
            "The bath's conductivity, {} mS/cm at {}, is from recalled tables, good to about \
             10 %: a reading of your own (bath.conductivity) beats it.",
            say::figures(*kappa25 * 10.0, 2),
            u.temperature(REFERENCE_K)
        ),
        ThinLeft { left } => format!(
            "Only {} of metal stays under the recess, and no floor is set: look often near the end.",
            u.depth(*left)
        ),
        FineTolerance { tolerance, gain } => format!(
            "A tolerance of {} is finer than looking can hold: up to {} is gained between two \
             looks.",
            u.depth(*tolerance),
            u.depth(*gain)
        ),
        Learned { file, holding: 0, .. } => format!(
            "Nothing that {file} has learned holds for this piece, bath and source: the numbers \
             are the usual ones."
        ),
        Learned { file, runs, holding } => format!(
            "The numbers are this bench's own so far as {file} knows it: {holding} {} learned \
             from {}.",
            if *holding == 1 { "factor" } else { "factors" },
            if *runs == 1 { "one run".into() } else { format!("{runs} runs") }
        ),
        _ => String::new(),
    }
}
