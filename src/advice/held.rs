//! The one table of limits: for a case, what it is held against, the value, what is borne, and
//! whose number that is. Findings, reasons of `size`, what is in hand and the charts' shading
//! are read off it; a new limit is a row here and its words in `sheet/words/limits.rs`.

use super::case::Case;
use super::cycle::Cycled;
use super::level::Level;
use super::limits::Bounds;
use super::wire::{leads_rise, wire_that_does};
use crate::job::Source;
use crate::run::Stop;
use crate::units::Quantity;

/// What a run is held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Limit {
    /// Current density that the resist bears, A/m2.
    Resist,
    /// Current density that the user allows, A/m2.
    OwnDensity,
    /// Current that a cell stands for long, A.
    CellCurrent,
    /// Concentration at the sheet's face at which a salt film forms, mol/m3.
    Film,
    /// Concentration at the sheet's face past which its metal falls as pale sludge, mol/m3.
    Sludge,
    /// Bath temperature that the resist bears, K.
    ResistWarmth,
    /// Rise of the leads over the air at which they no longer do, K.
    Leads,
    /// Rise of the leads over the air at which it is said, K.
    WarmLeads,
    /// Current that an adapter is rated for, A.
    Adapter,
    /// A cell's voltage may not fall under zero, V.
    Reversed,
    /// Load of the pan over which silver comes down loose.
    Loose,
    /// Load of the pan over which gas comes off besides.
    Gas,
    /// Time in which the piece must come to depth, s.
    Time,
    /// A cell's hot spot, K.
    Heat,
    /// A cell's surface that one touches, K.
    Touch,
    /// Charge at hand, as a share of the available well.
    Charge,
}

impl Limit {
    /// How grave it is when it is broken; none where the end of the run tells of it.
    pub fn level(self) -> Option<Level> {
        match self {
            Self::Leads | Self::Reversed => Some(Level::Stop),
            Self::Resist
            | Self::OwnDensity
            | Self::CellCurrent
            | Self::Film
            | Self::Sludge
            | Self::ResistWarmth
            | Self::WarmLeads
            | Self::Adapter
            | Self::Gas
            | Self::Touch => Some(Level::Caution),
            Self::Loose => Some(Level::Note),
            Self::Time | Self::Heat | Self::Charge => None,
        }
    }

    /// Its word for programs, in findings and reasons.
    pub fn code(self) -> &'static str {
        match self {
            Self::Resist => "resist current density",
            Self::OwnDensity => "current density",
            Self::CellCurrent => "cell current",
            Self::Film => "salt film",
            Self::Sludge => "pale sludge",
            Self::ResistWarmth => "resist temperature",
            Self::Leads | Self::WarmLeads => "warm wire",
            Self::Adapter => "adapter overloaded",
            Self::Reversed => "reversed cell",
            Self::Loose => "loose silver",
            Self::Gas => "gas at the pan",
            Self::Time => "time",
            Self::Heat => "hot",
            Self::Touch => "too hot to touch",
            Self::Charge => "empty",
        }
    }

    /// Whether a source that breaks it does not do the job, rests or not.
    pub fn decides(self) -> bool {
        match self {
            Self::Resist
            | Self::OwnDensity
            | Self::CellCurrent
            | Self::Film
            | Self::ResistWarmth
            | Self::Leads
            | Self::Reversed => true,
            // Said, not judged by; or judged by the end of the run and by rests.
            Self::WarmLeads
            | Self::Adapter
            | Self::Sludge
            | Self::Loose
            | Self::Gas
            | Self::Time
            | Self::Heat
            | Self::Touch
            | Self::Charge => false,
        }
    }

    /// Whether what is left of it counts as in hand.
    fn in_hand(self) -> bool {
        !matches!(
            self,
            Self::WarmLeads
                | Self::Adapter
                | Self::Sludge
                | Self::Reversed
                | Self::Loose
                | Self::Gas
        )
    }

    /// The graver limit on the same value, which speaks for this one where both are broken.
    fn graver(self) -> Option<Self> {
        match self {
            Self::WarmLeads => Some(Self::Leads),
            Self::Loose => Some(Self::Gas),
            _ => None,
        }
    }
}

/// Whose number a limit is.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum Whose {
    /// A thing in stock, by its name: a resist, a cell, a metal.
    Stock(String),
    /// The usual one, where the job names none.
    Usual,
    /// The user's own, from the job.
    Job,
    /// The model's.
    Model,
}

/// A limit with the value that is held against it.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// Which.
    pub limit: Limit,
    /// The value, in the limit's unit.
    pub value: f64,
    /// What is borne, in the same unit.
    pub bears: f64,
    /// Zero of the scale on which the two compare: the air's temperature for a temperature.
    pub zero: f64,
    /// Whose number it is.
    pub whose: Whose,
    /// Whether it is broken.
    pub broken: bool,
    /// What would bear it, where that is known: a wire.
    pub would_do: Option<String>,
}

impl Held {
    fn new(limit: Limit, value: f64, bears: f64, whose: Whose) -> Self {
        Self { limit, value, bears, zero: 0.0, whose, broken: value > bears, would_do: None }
    }

    /// What is borne over the value; over one is in hand. None where nothing weighs on it.
    pub fn times(&self) -> Option<f64> {
        let (value, bears) = (self.value - self.zero, self.bears - self.zero);
        (value > 0.0 && bears.is_finite()).then(|| bears / value)
    }

    /// By how many times it is missed; infinite where nothing near would do.
    pub fn excess(&self) -> f64 {
        match self.limit {
            Limit::Heat | Limit::Reversed => f64::INFINITY,
            _ => self.value / self.bears,
        }
    }
}

/// Load of the pan over which gas comes off: more than its metals can carry.
const GAS_LOAD: f64 = 1.0;
/// Rise of the leads over the air above which it is said, K.
const WARM_LEADS_K: f64 = 20.0;

/// Whose the resist's limits are.
fn resist(bounds: &Bounds) -> Whose {
    bounds.resist.clone().map_or(Whose::Usual, Whose::Stock)
}

/// The limits at the sheet's face, of a current density (A/m2) and a concentration there
/// (mol/m3).
pub fn at_the_face(bounds: &Bounds, density: f64, surface: f64) -> Vec<Held> {
    let mut list = vec![Held::new(Limit::Resist, density, bounds.resist_density, resist(bounds))];
    let own = bounds.own_density;
    list.extend(own.map(|own| Held::new(Limit::OwnDensity, density, own, Whose::Job)));
    let metal = || Whose::Stock(bounds.metal.clone());
    let limit = if bounds.sheds { Limit::Sludge } else { Limit::Film };
    list.extend(bounds.film.map(|film| Held::new(limit, surface, film, metal())));
    list
}

/// Every limit that bears on a case, with its value in the nominal run; heat and time with the
/// rests of `rest`, where it has any.
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// use restbite::advice::{Case, Limit, held};
///
/// let case = Case::of(&job, source, &stock)?;
/// let list = held(&case, None);
/// let time = list.iter().find(|row| row.limit == Limit::Time).ok_or("no row")?;
/// assert!(!time.broken && time.bears == 2700.0); // s
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn held(case: &Case, rest: Option<&Cycled>) -> Vec<Held> {
    let (setup, run, bounds) = (&case.setup, &case.run, &case.bounds);
    let mut list = at_the_face(bounds, case.density(), run.extremes.surface_mol_per_m3);
    let mut put = |limit, value, bears, whose| list.push(Held::new(limit, value, bears, whose));

    if let (Source::Pack(p), Some(pack)) = (&case.source, setup.source.pack()) {
        let each = run.extremes.current_a / pack.parallel;
        let bears = p.cell.continuous_current.is.si();
        put(Limit::CellCurrent, each, bears, Whose::Stock(p.cell.name.clone()));
    }
    put(Limit::ResistWarmth, run.extremes.bath_k, bounds.resist_k, resist(bounds));
    if let Some(rise) = leads_rise(case) {
        put(Limit::Leads, rise, bounds.leads_rise, Whose::Model);
        put(Limit::WarmLeads, rise, WARM_LEADS_K, Whose::Model);
    }
    if let Some(rated) = bounds.rated_current {
        put(Limit::Adapter, run.extremes.current_a, rated, Whose::Job);
    }
    if let (Source::Pack(p), Some(_)) = (&case.source, setup.source.pack()) {
        let cell = Whose::Stock(p.cell.name.clone());
        put(Limit::Reversed, -run.extremes.cell_v, 0.0, cell);
    }
    if setup.bath.index_of("Ag").is_some() {
        put(Limit::Loose, run.extremes.cathode_load, setup.bath.loose.from, Whose::Model);
    }
    put(Limit::Gas, run.extremes.cathode_load, GAS_LOAD, Whose::Model);
    let elapsed = rest.map_or(run.time_s, |r| r.elapsed_s);
    put(Limit::Time, elapsed, setup.time_limit_s, Whose::Job);
    if let (Some(pack), Some(peaks)) = (setup.source.pack(), case.peaks()) {
        // With rests the cycle itself holds the limit; there the session's peak counts.
        let (hot, surface) = rest.map_or(peaks, |r| r.session_peak.unwrap_or(r.peak));
        put(Limit::Heat, hot, pack.temperature_limit_k, Whose::Model);
        put(Limit::Touch, surface, bounds.touch_k, Whose::Model);
        if let Some(wells) = run.wells_end {
            let (left, used) = (pack.charge_left, pack.charge_left - wells.available);
            put(Limit::Charge, used, left, Whose::Model);
        }
    }
    for row in &mut list {
        finish(row, case, rest);
    }
    list
}

/// What a row has besides value and limit: its scale's zero, an end that breaks it, a remedy.
fn finish(row: &mut Held, case: &Case, rest: Option<&Cycled>) {
    let ended = |stop| rest.is_none() && case.run.stop == stop;
    match row.limit {
        Limit::ResistWarmth | Limit::Heat | Limit::Touch => row.zero = case.setup.ambient_k,
        _ => {}
    }
    match row.limit {
        Limit::Heat => row.broken |= ended(Stop::Hot),
        Limit::Time => row.broken |= ended(Stop::Time),
        Limit::Charge => row.broken |= ended(Stop::Empty),
        Limit::Leads | Limit::WarmLeads if row.broken => {
            row.would_do = wire_that_does(case, row.bears);
        }
        _ => {}
    }
}

/// What is broken, each value spoken for by its gravest limit only.
pub fn broken(list: &[Held]) -> impl Iterator<Item = &Held> {
    let spoken_for = |row: &Held| {
        row.limit.graver().is_some_and(|g| list.iter().any(|h| h.limit == g && h.broken))
    };
    list.iter().filter(move |row| row.broken && !spoken_for(row))
}

/// What is in hand of each limit, the least first: the limit, and how many times the value is
/// borne.
pub fn in_hand(list: &[Held]) -> Vec<(Limit, f64)> {
    let counted = list.iter().filter(|row| row.limit.in_hand());
    let mut hand: Vec<(Limit, f64)> =
        counted.filter_map(|row| Some((row.limit, row.times()?))).collect();
    hand.sort_by(|a, b| a.1.total_cmp(&b.1));
    hand
}
