//! What a run shows that its user should know, from the same numbers as the run.

use super::limits::{Bounds, LEADS_RISE_K, VoltageShares};
use crate::job::resolve::Geometry;
use crate::job::{Job, Profile, Refused, Source};
use crate::laws::slab::{CHECKED_ASPECT, CHECKED_GAP};
use crate::laws::{conductivity, wire};
use crate::run::{Run, Setup, Stop};
use crate::stock::{Certainty, Stock};
use crate::units::{Quantity, Wire};

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// Good to know.
    Note,
    /// Take care.
    Caution,
    /// Do not go on like this.
    Stop,
}

impl Level {
    /// The word for programs.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Stop => "stop",
        }
    }
}

/// A finding with its numbers, SI, each field named for what it is. The words are made
/// where it is drawn.
#[allow(missing_docs)] // a line on each field would only say its name again
#[derive(Debug, Clone, PartialEq)]
pub enum Finding {
    /// Metal and bath do not go together, or the metal may not be etched.
    Refused(Refused),
    /// The cells are empty before the depth is reached.
    Empty { depth: f64, target: f64, time: f64 },
    /// A cell's hot spot comes to its limit first.
    Hot { limit: f64, depth: f64, target: f64, time: f64 },
    /// The time is over first; `needed` is what the last rate would take in all.
    OutOfTime { depth: f64, target: f64, needed: Option<f64>, held: Option<&'static str> },
    /// The floor comes first.
    Floor { depth: f64, target: f64 },
    /// The source cannot push against the back voltage.
    NoCurrent { open: f64, back: f64 },
    /// A cell is driven below zero volts.
    Reversed { volts: f64 },
    /// A primary cell etches on below its cut-off.
    Sags { volts: f64, cutoff: f64 },
    /// More than a cell stands for long.
    CellCurrent { current: f64, bears: f64, cell: String },
    /// An adapter gives more than it is rated for.
    Overloaded { current: f64, rated: f64 },
    /// Cells too hot to hold.
    TooHotToTouch { surface: f64, limit: f64 },
    /// Current density over what the resist bears.
    ResistDensity { density: f64, bears: f64, resist: Option<String> },
    /// Bath warmer than the resist bears.
    ResistTemperature { bath: f64, bears: f64, resist: Option<String> },
    /// Current density over the user's own limit.
    OwnDensity { density: f64, limit: f64 },
    /// A salt film at the sheet.
    SaltFilm { surface: f64, film: f64, metal: String },
    /// Metal falls as powder; with `gas`, hydrogen besides.
    Powder { load: f64, gas: bool },
    /// Primary cells side by side.
    PrimaryParallel { parallel: u32 },
    /// Primary cells that are not fresh.
    PrimaryUsed { left: f64 },
    /// Lines undermined from both sides.
    Undermined { undercut: f64, resist: f64 },
    /// The wire warms.
    WireWarm { rise: f64, hot: bool, needs: Option<String> },
    /// Pattern too coarse for the constriction's formula.
    CoarsePattern { pitch: f64, gap: f64 },
    /// Gap or outline outside the checked range of the shape factor.
    ShapeUnchecked { ratio: f64, aspect: f64 },
    /// The sheet is larger than the pan.
    PanSmall { outline: f64, pan: f64 },
    /// The bath's temperature is outside the conductivity's range.
    ConductivityHeld,
    /// A supply's current limit rules.
    AtCurrentLimit { limit: f64 },
    /// Weaker or stronger than the data behind the conductivity.
    BeyondData { concentration: f64 },
    /// The catalogue's conductivity is recalled, not read.
    KappaRecalled { kappa25: f64 },
    /// No floor asked for, and little metal left.
    ThinLeft { left: f64 },
    /// Depth tolerance finer than looks can hold.
    FineTolerance { tolerance: f64, gain: f64 },
    /// What a workshop profile has learned is in the numbers: so many of its factors.
    Learned { file: String, runs: usize, holding: usize },
}

/// Rise of the wire over the air above which it is said, K.
const WIRE_RISE_K: f64 = 20.0;
const POWDER_LOAD: f64 = 0.6;
const GAS_LOAD: f64 = 1.0;
/// Share of the thickness under the recess below which it is said.
const THIN: f64 = 0.3;

/// Everything that a run shows, the gravest first.
pub fn findings(
    job: &Job,
    source: &Source,
    stock: &Stock,
    setup: &Setup,
    run: &Run,
    bounds: &Bounds,
) -> Vec<Finding> {
    let mut list = Vec::new();
    list.extend(not_reached(setup, run));
    source_findings(source, setup, run, bounds, &mut list);
    piece_findings(job, &Geometry::of(job, source), setup, run, bounds, &mut list);
    bath_findings(job, source, setup, run, bounds, &mut list);
    list.extend(wire_warm(job, stock, setup, run));
    list.extend(learned(job, source));
    sort(&mut list);
    list
}

/// What the job's profile has to say of this job and source.
fn learned(job: &Job, source: &Source) -> Option<Finding> {
    let profile = job.profile.as_ref()?;
    let rows = job.spread.0.iter().filter(|row| !row.own);
    let holding = rows.filter(|row| profile.index(&row.key, job, source).is_some()).count();
    Some(Finding::Learned { file: profile.file.clone(), runs: profile.runs, holding })
}

/// The gravest first, otherwise as they were.
pub fn sort(list: &mut [Finding]) {
    list.sort_by_key(|f| std::cmp::Reverse(f.level()));
}

fn not_reached(setup: &Setup, run: &Run) -> Option<Finding> {
    let (depth, target, time) = (run.depth_m, setup.piece.depth, run.time_s);
    match run.stop {
        Stop::Depth => None,
        Stop::Floor => Some(Finding::Floor { depth, target }),
        Stop::Empty => Some(Finding::Empty { depth, target, time }),
        Stop::Hot => {
            let limit = setup.source.pack().map_or(f64::NAN, |p| p.temperature_limit_k);
            Some(Finding::Hot { limit, depth, target, time })
        }
        Stop::Time => {
            let end_rate = if run.end_current_a > 0.0 && run.charge_c > 0.0 {
                run.end_current_a * depth / run.charge_c
            } else {
                0.0
            };
            let needed = (end_rate > 0.0).then(|| time + (target - depth) / end_rate);
            let shares = VoltageShares::at_start(setup, run);
            let held = shares.and_then(|s| s.0.first().map(|first| first.name));
            Some(Finding::OutOfTime { depth, target, needed, held })
        }
        Stop::NoCurrent => {
            Some(Finding::NoCurrent { open: run.start_source_v, back: run.start_back_emf_v })
        }
    }
}

fn source_findings(
    source: &Source,
    setup: &Setup,
    run: &Run,
    bounds: &Bounds,
    list: &mut Vec<Finding>,
) {
    let most = run.extremes.current_a;
    if let (Source::Pack(job), Some(pack)) = (source, setup.source.pack()) {
        let volts = run.extremes.cell_v;
        if volts < 0.0 {
            list.push(Finding::Reversed { volts });
        } else if !job.cell.rechargeable && volts < pack.cell.cutoff_v {
            list.push(Finding::Sags { volts, cutoff: pack.cell.cutoff_v });
        }
        let each = most / pack.parallel;
        if let Some(bears) = bounds.cell_current.filter(|b| each > *b) {
            let cell = job.cell.name.clone();
            list.push(Finding::CellCurrent { current: each, bears, cell });
        }
        if let Some(surface) = run.peak_surface_k.filter(|s| *s > bounds.touch_k) {
            list.push(Finding::TooHotToTouch { surface, limit: bounds.touch_k });
        }
        if !job.cell.rechargeable {
            if job.parallel > 1 {
                list.push(Finding::PrimaryParallel { parallel: job.parallel });
            }
            let left = job.charge_left.si();
            if left < 1.0 {
                list.push(Finding::PrimaryUsed { left });
            }
        }
    }
    if let Some(rated) = bounds.rated_current.filter(|r| most > *r) {
        list.push(Finding::Overloaded { current: most, rated });
    }
    if let crate::run::Source::Supply { limit_a: Some(limit), .. } = setup.source
        && run.extremes.limited.0
    {
        list.push(Finding::AtCurrentLimit { limit });
    }
}

fn piece_findings(
    job: &Job,
    geometry: &Geometry,
    setup: &Setup,
    run: &Run,
    bounds: &Bounds,
    list: &mut Vec<Finding>,
) {
    let density = run.extremes.current_a / setup.piece.exposed_area;
    if let Some(limit) = bounds.own_density.filter(|l| density > *l) {
        list.push(Finding::OwnDensity { density, limit });
    }
    if density > bounds.resist_density {
        let (bears, resist) = (bounds.resist_density, bounds.resist.clone());
        list.push(Finding::ResistDensity { density, bears, resist });
    }
    let bath = run.extremes.bath_k;
    if bath > bounds.resist_k {
        let (bears, resist) = (bounds.resist_k, bounds.resist.clone());
        list.push(Finding::ResistTemperature { bath, bears, resist });
    }
    let line = job.piece.pitch.si() * (1.0 - geometry.share);
    if geometry.share < 1.0 && 2.0 * run.undercut_m > 0.5 * line {
        list.push(Finding::Undermined { undercut: run.undercut_m, resist: line });
    }
    let left = setup.piece.thickness - setup.piece.depth;
    if setup.piece.floor.is_none() && left < THIN * setup.piece.thickness {
        list.push(Finding::ThinLeft { left });
    }
    let p = &job.piece;
    if geometry.share < 1.0 && p.pitch.si() > 2.0 * geometry.gap {
        list.push(Finding::CoarsePattern { pitch: p.pitch.si(), gap: geometry.gap });
    }
    let ratio = geometry.gap / geometry.face.equal_area_radius();
    let aspect = geometry.face.aspect();
    if !(CHECKED_GAP.0..=CHECKED_GAP.1).contains(&ratio) || aspect > CHECKED_ASPECT {
        list.push(Finding::ShapeUnchecked { ratio, aspect });
    }
    let (outline, pan) = (f64::from(p.count) * p.outline_m2(), job.bath.pan.is.area_m2());
    if outline > pan {
        list.push(Finding::PanSmall { outline, pan });
    }
}

fn bath_findings(
    job: &Job,
    source: &Source,
    setup: &Setup,
    run: &Run,
    bounds: &Bounds,
    list: &mut Vec<Finding>,
) {
    let surface = run.extremes.surface_mol_per_m3;
    if let Some(film) = bounds.film.filter(|film| surface > *film) {
        let metal = job.piece.alloy.name_of(&setup.bath.anode_species).to_string();
        list.push(Finding::SaltFilm { surface, film, metal });
    }
    let load = run.extremes.cathode_load;
    if load > POWDER_LOAD {
        list.push(Finding::Powder { load, gas: load > GAS_LOAD });
    }
    let bracket = |t: f64| 1.0 + setup.bath.kappa_beta * (t - crate::laws::constants::REFERENCE_K);
    let (low, high) = conductivity::BRACKET;
    if bracket(setup.bath.temperature_k) < low || bracket(run.extremes.bath_k) > high {
        list.push(Finding::ConductivityHeld);
    }
    let concentration = job.bath.concentration.is.si();
    let known = |p: &Profile| p.index("conductivity", job, source).is_some();
    if job.bath.reading.is_some() || job.profile.as_ref().is_some_and(known) {
        return;
    }
    if !job.bath.stock.within_data(concentration) {
        list.push(Finding::BeyondData { concentration });
    }
    if job.bath.stock.curve.certainty() == Certainty::Memory {
        list.push(Finding::KappaRecalled { kappa25: setup.bath.kappa25 });
    }
}

/// Steady rise of a wire over the air at a current, K; none for a wire not in stock.
fn rise_of(wire_is: Wire, current: f64, ambient_k: f64, stock: &Stock) -> Option<f64> {
    let per_metre = stock.leads.per_metre(wire_is)?;
    let outer = stock.leads.outer_diameter(wire_is)?;
    let emissivity = stock.leads.insulation.emissivity.is.0;
    Some(wire::rise(current, per_metre, outer, ambient_k, emissivity))
}

/// Rise of the job's leads at the run's highest current, K.
pub fn leads_rise(job: &Job, stock: &Stock, setup: &Setup, run: &Run) -> Option<f64> {
    rise_of(job.leads.wire.is, run.extremes.current_a, setup.ambient_k, stock)
}

/// The thinnest wire by gauge that stays within a rise at the run's highest current.
pub fn wire_that_does(stock: &Stock, setup: &Setup, run: &Run, limit: f64) -> Option<String> {
    let current = run.extremes.current_a;
    let cool = |n: &u32| {
        rise_of(Wire::Awg(*n), current, setup.ambient_k, stock).is_some_and(|rise| rise <= limit)
    };
    (0..=40).rev().find(cool).map(|n| format!("AWG {n} or thicker"))
}

fn wire_warm(job: &Job, stock: &Stock, setup: &Setup, run: &Run) -> Option<Finding> {
    let rise = leads_rise(job, stock, setup, run).filter(|rise| *rise > WIRE_RISE_K)?;
    let needs = wire_that_does(stock, setup, run, WIRE_RISE_K);
    Some(Finding::WireWarm { rise, hot: rise > LEADS_RISE_K, needs })
}
