//! Why a source does not do the job, with the number.

use crate::job::Source;
use crate::run::Stop;
use crate::units::Quantity;
use crate::units::say::{self, System};

/// A reason; SI. True of the option's own run.
#[allow(missing_docs)] // each field is named for what it is
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// An end other than the depth comes first.
    NotReached { stop: Stop, depth: f64, target: f64, time: f64 },
    /// No rest keeps it cool enough in the time.
    TooHot { hot_spot: f64, limit: f64 },
    /// The surface is too hot to touch, and no rest helps.
    TooHotToTouch { surface: f64, limit: f64 },
    /// More than the resist bears.
    ResistDensity { density: f64, bears: f64 },
    /// More than the user allows.
    OwnDensity { density: f64, limit: f64 },
    /// More than a cell bears.
    CellCurrent { current: f64, bears: f64, cell: String },
    /// The bath gets warmer than the resist bears.
    BathTooWarm { bath: f64, bears: f64 },
    /// The leads get too warm; which wire would do.
    LeadsTooWarm { rise: f64, limit: f64, needs: Option<String> },
    /// A salt film would form at the sheet.
    SaltFilm { surface: f64, film: f64 },
    /// A cell is driven backwards.
    Reversed { volts: f64 },
    /// Fewer pieces a charge than asked.
    Pieces { pieces: usize, asked: u32 },
}

impl Reason {
    /// Its word for programs.
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotReached { stop, .. } => match stop {
                Stop::Depth | Stop::Floor => "floor",
                Stop::Empty => "empty",
                Stop::Hot => "hot",
                Stop::Time => "time",
                Stop::NoCurrent => "no current",
            },
            Self::TooHot { .. } => "hot",
            Self::TooHotToTouch { .. } => "too hot to touch",
            Self::ResistDensity { .. } => "resist current density",
            Self::OwnDensity { .. } => "current density",
            Self::CellCurrent { .. } => "cell current",
            Self::BathTooWarm { .. } => "resist temperature",
            Self::LeadsTooWarm { .. } => "warm wire",
            Self::SaltFilm { .. } => "salt film",
            Self::Reversed { .. } => "reversed cell",
            Self::Pieces { .. } => "pieces per charge",
        }
    }

    /// By how many times the limit is missed; infinite where nothing near would do.
    pub fn excess(&self) -> f64 {
        match self {
            Self::NotReached { depth, target, .. } => target / depth,
            Self::TooHot { .. } | Self::Reversed { .. } => f64::INFINITY,
            Self::TooHotToTouch { surface, limit } => surface / limit,
            Self::ResistDensity { density, bears } => density / bears,
            Self::OwnDensity { density, limit } => density / limit,
            Self::CellCurrent { current, bears, .. } => current / bears,
            Self::BathTooWarm { bath, bears } => bath / bears,
            Self::LeadsTooWarm { rise, limit, .. } => rise / limit,
            Self::SaltFilm { surface, film } => surface / film,
            Self::Pieces { pieces, asked } => f64::from(*asked) / (*pieces as f64),
        }
    }

    /// In a few words.
    pub fn text(&self, u: System) -> String {
        match self {
            Self::NotReached { stop, depth, target, time } => {
                let (depth, target, time) = (u.depth(*depth), u.depth(*target), say::time(*time));
                match stop {
                    Stop::Empty => format!("empty after {time}, at {depth} of {target}"),
                    Stop::Hot => format!("too hot inside after {time}, at {depth} of {target}"),
                    Stop::NoCurrent => "no current: too few volts".into(),
                    Stop::Floor | Stop::Depth => format!("down to the floor at {depth}"),
                    Stop::Time => format!("only {depth} of {target} in {time}"),
                }
            }
            Self::TooHot { limit, .. } => format!(
                "a cell comes to its limit of {} inside, and no rest helps in the time",
                u.temperature(*limit)
            ),
            Self::TooHotToTouch { surface, limit } => {
                let (hot, limit) = apart_k(*surface, *limit, u);
                format!("{hot} at a cell's surface, limit {limit}, and no rest helps in the time")
            }
            Self::ResistDensity { density, bears } => {
                let (density, bears) = say::apart(*density, *bears, |x, d| u.density_to(x, d));
                format!("{density} on the bare metal, the resist bears {bears}")
            }
            Self::OwnDensity { density, limit } => {
                let (density, limit) = say::apart(*density, *limit, |x, d| u.density_to(x, d));
                format!("{density} on the bare metal, your limit is {limit}")
            }
            Self::CellCurrent { current, bears, cell } => {
                let (needs, bears) = say::apart(*current, *bears, say::current_to);
                format!("needs {needs} a cell, {cell} bears {bears}")
            }
            Self::BathTooWarm { bath, bears } => {
                let (bath, bears) = apart_k(*bath, *bears, u);
                format!("the bath comes to {bath}, the resist bears {bears}")
            }
            Self::LeadsTooWarm { rise, needs, .. } => {
                let needs = needs.as_ref().map(|w| format!("; needs {w}")).unwrap_or_default();
                format!("the leads warm by {}{needs}", u.rise(*rise))
            }
            Self::SaltFilm { surface, film } => {
                let (surface, film) = say::apart(*surface, *film, say::molar_to);
                format!(
                    "a salt film: {surface} of metal at the sheet's face, {film} dissolve \
                     (stirring or less current keeps it off)"
                )
            }
            Self::Reversed { volts } => {
                format!("a cell is driven backwards, to {}", say::voltage(*volts))
            }
            Self::Pieces { pieces, asked } => {
                format!("{pieces} pieces a charge, {asked} asked for")
            }
        }
    }
}

fn apart_k(a: f64, b: f64, u: System) -> (String, String) {
    say::apart(a, b, |k, d| u.temperature_to(k, d))
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
            let limit = s.current_limit.map(|a| format!(", at most {}", figure(a.si(), "A")));
            format!(
                "a bench supply at {}{}",
                figure(s.voltage.si(), "V"),
                limit.unwrap_or_default()
            )
        }
        Source::Adapter(a) => format!("the adapter of {}", figure(a.open_voltage.si(), "V")),
    }
}

/// A setting as it is set.
fn figure(value: f64, unit: &str) -> String {
    format!("{} {unit}", say::figures(value, 3))
}
