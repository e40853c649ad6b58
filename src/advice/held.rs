//! The one table of limits: for a run, what it is held against, the value, what is borne, and
//! whose number that is. Verdict, findings, reasons of `size`, what is in hand and the charts'
//! shading are read off it; a new limit is a row here and its words in `sheet/words/limits.rs`.

use super::case::Case;
use super::cycle::Cycled;
use super::limit::Limit;
use super::weighed::Weighed;
use super::wire::{leads_rise, wire_that_does};
use crate::job::Source;
use crate::run::Stop;
use crate::units::Quantity;

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
        let compares = !matches!(self.limit, Limit::Freeze | Limit::Reversed | Limit::NoCurrent);
        (compares && value > 0.0 && bears.is_finite()).then(|| bears / value)
    }

    /// By how many times it is missed; infinite where nothing near would do.
    pub fn excess(&self) -> f64 {
        match self.limit {
            Limit::Hot | Limit::Reversed | Limit::NoCurrent | Limit::Freeze => f64::INFINITY,
            _ => self.value / self.bears,
        }
    }
}

/// Load of the pan over which gas comes off: more than its metals can carry.
const GAS_LOAD: f64 = 1.0;
/// Rise of the leads over the air above which it is said, K.
const WARM_LEADS_K: f64 = 20.0;
/// What an adapter stands, over its rating: its maker tests it so far (judgement).
const ADAPTER_STANDS: f64 = 1.2;
/// Shares of a limit from which on a run is driven hard (judgement): of a cell's rise, of an
/// adapter's rating, of what dissolves at the face, of the charge at which the resist begins to
/// lift, of the tolerance in a minute; and the pan's load.
const HARD_WARM: f64 = 0.7;
const HARD_ADAPTER: f64 = 0.9;
const HARD_FILM: f64 = 0.5;
const HARD_RESIST: f64 = 0.9;
const HARD_PACE: f64 = 0.8;
const HARD_PAN: f64 = 0.4;

/// The user's limit of current density, where there is one and it is passed (A/m2): what rests
/// do not mend and a warm cell brings on.
pub fn own_density(own: Option<f64>, density: f64) -> Option<Held> {
    Some(Held::new(Limit::OwnDensity, density, own?, Whose::Job))
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
    let mut list = weigh(&case.weighed(), rest);
    for row in &mut list {
        if matches!(row.limit, Limit::Leads | Limit::WarmLeads) && row.broken {
            row.would_do = wire_that_does(&case.weighed(), row.bears);
        }
    }
    list
}

/// The same of any run of a job, a draw's as well.
pub(super) fn weigh(of: &Weighed, rest: Option<&Cycled>) -> Vec<Held> {
    let Weighed { job, source, setup, run, bounds, .. } = *of;
    let mut list = Vec::with_capacity(Limit::ALL.len());
    let mut put = |limit, value, bears, whose| list.push(Held::new(limit, value, bears, whose));
    let (ambient, bath, piece) = (setup.ambient_k, &setup.bath, &setup.piece);
    let current = run.extremes.current_a;

    put(Limit::NoCurrent, run.start_back_emf_v, f64::INFINITY, Whose::Model);
    let elapsed = rest.map_or(run.time_s, |r| r.elapsed_s);
    put(Limit::Time, elapsed, setup.time_limit_s, Whose::Job);
    let floor = piece.thickness - piece.floor.unwrap_or(0.0);
    put(Limit::Floor, run.depth_m, floor, Whose::Job);
    if let (Some(pack), Some(peaks)) = (setup.cells(), of.peaks()) {
        // With rests the cycle itself holds the limit; there the session's peak counts.
        let (hot, surface) = rest.map_or(peaks, |r| r.session_peak.unwrap_or(r.peak));
        let most = pack.temperature_limit_k;
        put(Limit::Hot, hot, most, Whose::Model);
        put(Limit::Warm, hot, ambient + HARD_WARM * (most - ambient), Whose::Model);
        let own = job.limits.touch_temperature.is_some();
        let (touch, whose) =
            if own { (Limit::OwnTouch, Whose::Job) } else { (Limit::Touch, Whose::Model) };
        put(touch, surface, bounds.touch_k, whose);
        if setup.then.is_some() {
            // Of several sources no one charge is that of all: one that gives out is.
            if run.stop == Stop::Empty {
                put(Limit::Empty, pack.charge_left, pack.charge_left, Whose::Model);
            }
        } else if let Some(wells) = run.wells_end {
            let (left, used) = (pack.charge_left, pack.charge_left - wells.available);
            put(Limit::Empty, used, left, Whose::Model);
        }
        if let Source::Pack(p) = source {
            let cell = || Whose::Stock(p.cell.name.clone());
            put(Limit::Reversed, -run.extremes.cell_v, 0.0, cell());
            if p.cell.is_lithium() {
                let bears = p.cell.continuous_current.is.si();
                put(Limit::CellCurrent, current / pack.parallel, bears, cell());
            }
        }
    }
    put(Limit::Boil, run.extremes.bath_k, bath.boil_k, Whose::Model);
    put(Limit::Freeze, run.end_bath_k.min(bath.temperature_k), bath.freeze_k, Whose::Model);
    if let Some(rise) = leads_rise(of) {
        put(Limit::Leads, rise, bounds.leads_rise, Whose::Model);
        put(Limit::WarmLeads, rise, WARM_LEADS_K, Whose::Model);
    }
    if let Some(rated) = bounds.rated_current {
        put(Limit::Adapter, current, ADAPTER_STANDS * rated, Whose::Job);
        put(Limit::AdapterLoad, current, HARD_ADAPTER * rated, Whose::Job);
    }
    if let Some(own) = bounds.own_density {
        put(Limit::OwnDensity, current / piece.exposed_area, own, Whose::Job);
    }
    put(Limit::PanLoad, run.extremes.cathode_load, HARD_PAN, Whose::Model);
    if bath.index_of("Ag").is_some() {
        put(Limit::Loose, run.extremes.cathode_load, bath.loose.from, Whose::Model);
    }
    put(Limit::Gas, run.extremes.cathode_load, GAS_LOAD, Whose::Model);
    if let Some(film) = bath.solubility {
        let limit = if bounds.sheds { Limit::Sludge } else { Limit::Film };
        let metal = Whose::Stock(bounds.metal.clone());
        put(limit, run.extremes.surface_mol_per_m3, HARD_FILM * film, metal);
    }
    let resist = || bounds.resist.clone().map_or(Whose::Usual, Whose::Stock);
    let dose = run.charge_c / piece.exposed_area;
    put(Limit::Resist, dose, HARD_RESIST * piece.resist_lifts.0, resist());
    put(Limit::ResistWarmth, run.extremes.bath_k, bounds.resist_k, resist());
    put(Limit::Pace, of.minute_m(), HARD_PACE * of.tolerance_m(), Whose::Model);
    for row in &mut list {
        finish(row, of, rest);
    }
    list
}

/// What a row has besides value and limit: its scale's zero, an end that breaks it.
fn finish(row: &mut Held, of: &Weighed, rest: Option<&Cycled>) {
    let ended = |stop| rest.is_none() && of.run.stop == stop;
    match row.limit {
        Limit::ResistWarmth
        | Limit::Hot
        | Limit::Warm
        | Limit::Touch
        | Limit::OwnTouch
        | Limit::Boil => row.zero = of.setup.ambient_k,
        _ => {}
    }
    match row.limit {
        Limit::Hot => row.broken |= ended(Stop::Hot),
        Limit::Time => row.broken |= ended(Stop::Time),
        Limit::Empty => row.broken |= ended(Stop::Empty),
        Limit::Floor => row.broken |= ended(Stop::Floor),
        Limit::Boil => row.broken |= ended(Stop::Boil),
        Limit::Freeze => row.broken = ended(Stop::Freeze),
        Limit::NoCurrent => {
            row.broken = ended(Stop::NoCurrent);
            row.bears = of.run.start_source_v.max(row.value);
            if row.broken {
                row.bears = of.run.start_source_v;
            }
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
