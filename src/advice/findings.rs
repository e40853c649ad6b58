//! What a run shows that its user should know, from the same numbers as the run.

use super::beyond::beyond;
use super::bounds::EXPERIENCE_A_PER_M2;
use super::case::Case;
use super::held::{Held, broken};
use super::level::Level;
use super::shares::{Taker, voltage_shares};
use super::verdict::Verdict;
use crate::job::{Hung, Profile, Source};
use crate::laws::conductivity;
use crate::laws::range::Range;
use crate::laws::slab::{CHECKED_ASPECT, CHECKED_GAP};
use crate::run::Stop;
use crate::stock::Certainty;
use crate::units::Quantity;

/// An end of the run before its depth, with the numbers that tell of it; SI.
#[allow(missing_docs)] // a line on each field would only say its name again
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum End {
    /// The cells are empty before the depth is reached.
    Empty { depth: f64, target: f64, time: f64 },
    /// A cell's hot spot comes to its limit first.
    Hot { limit: f64, depth: f64, target: f64, time: f64 },
    /// The time is over first; `needed` is what the last rate would take in all.
    Time { depth: f64, target: f64, time: f64, needed: Option<f64>, held: Option<Taker> },
    /// The floor comes first.
    Floor { depth: f64, target: f64 },
    /// The bath boils first.
    Boil { limit: f64, depth: f64, target: f64, time: f64 },
    /// The bath freezes first.
    Freeze { limit: f64, depth: f64, target: f64, time: f64 },
    /// The source cannot push against the back voltage.
    NoCurrent { open: f64, back: f64 },
}

/// A finding with its numbers, SI, each field named for what it is. The words are made
/// where it is shown.
#[allow(missing_docs)] // a line on each field would only say its name again
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Finding {
    /// The depth is not reached.
    Ends(End),
    /// A limit is broken.
    Over(Held),
    /// The depth is not reached in the nominal run, and is in most draws.
    May(End),
    /// A firm limit is broken in the nominal run, and not in most draws.
    MayPass(Held),
    /// A primary cell etches on below its cut-off.
    Sags { volts: f64, cutoff: f64 },
    /// Primary cells side by side.
    PrimaryParallel { parallel: u32 },
    /// Primary cells that are not fresh.
    PrimaryUsed { left: f64 },
    /// Lines undermined from both sides.
    Undermined { undercut: f64, resist: f64 },
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
    /// More current on the bare metal than benches have tried.
    Untried { density: f64, tried: f64 },
    /// Enough silver to see lies on the pan after this time.
    Bloom { after: f64 },
    /// A law is used outside the range that it is known to hold in.
    Beyond { range: Range, value: f64 },
    /// What a workshop profile has learned is in the numbers: so many of its factors.
    Learned { file: String, runs: usize, holding: usize },
}

impl Finding {
    /// How grave.
    pub fn level(&self) -> Level {
        match self {
            Self::Ends(_) => Level::Stop,
            Self::Over(held) => held.limit.level().unwrap_or(Level::Stop),
            Self::May(_)
            | Self::MayPass(_)
            | Self::Sags { .. }
            | Self::PrimaryParallel { .. }
            | Self::Undermined { .. }
            | Self::PanSmall { .. } => Level::Caution,
            Self::PrimaryUsed { .. }
            | Self::CoarsePattern { .. }
            | Self::ShapeUnchecked { .. }
            | Self::ConductivityHeld
            | Self::AtCurrentLimit { .. }
            | Self::BeyondData { .. }
            | Self::KappaRecalled { .. }
            | Self::ThinLeft { .. }
            | Self::FineTolerance { .. }
            | Self::Untried { .. }
            | Self::Bloom { .. }
            | Self::Beyond { .. }
            | Self::Learned { .. } => Level::Note,
        }
    }

    /// Its word for programs.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Ends(end) => end.code(),
            Self::Over(held) | Self::MayPass(held) => held.limit.code(),
            Self::May(end) => end.code(),
            Self::Sags { .. } => "sags",
            Self::PrimaryParallel { .. } => "primary cells in parallel",
            Self::PrimaryUsed { .. } => "used primary cells",
            Self::Undermined { .. } => "undercut",
            Self::CoarsePattern { .. } => "coarse pattern",
            Self::ShapeUnchecked { .. } => "shape unchecked",
            Self::PanSmall { .. } => "pan too small",
            Self::ConductivityHeld => "conductivity held",
            Self::AtCurrentLimit { .. } => "current limit",
            Self::BeyondData { .. } => "conductivity beyond data",
            Self::KappaRecalled { .. } => "conductivity recalled",
            Self::ThinLeft { .. } => "thin left",
            Self::FineTolerance { .. } => "fine tolerance",
            Self::Untried { .. } => "untried current density",
            Self::Bloom { .. } => "bloom",
            Self::Beyond { .. } => "beyond range",
            Self::Learned { .. } => "learned",
        }
    }
}

impl End {
    /// How the nominal run of a case ended; none at its depth.
    pub fn of(case: &Case) -> Option<Self> {
        let (setup, run) = (&case.setup, &case.run);
        let (depth, target, time) = (run.depth_m, setup.piece.depth, run.time_s);
        match run.stop {
            Stop::Depth => None,
            Stop::Floor => Some(Self::Floor { depth, target }),
            Stop::Empty => Some(Self::Empty { depth, target, time }),
            Stop::Hot => {
                let limit = case.warmth().hot_spot_k;
                Some(Self::Hot { limit, depth, target, time })
            }
            Stop::Boil => Some(Self::Boil { limit: setup.bath.boil_k, depth, target, time }),
            Stop::Freeze => Some(Self::Freeze { limit: setup.bath.freeze_k, depth, target, time }),
            Stop::Time => {
                // By what the charge is worth: the floor's own pace falls as the walls grow.
                let end_rate = if run.end_current_a > 0.0 && run.charge_c > 0.0 {
                    setup.duty()
                        * run.end_current_a
                        * (run.charge_depth_m - setup.piece.begun_worth())
                        / run.charge_c
                } else {
                    0.0
                };
                let left = setup.piece.walls.charge_depth(target) - run.charge_depth_m;
                let needed = (end_rate > 0.0).then(|| time + left / end_rate);
                let held = voltage_shares(setup, run).and_then(|s| s.first().map(|s| s.of));
                Some(Self::Time { depth, target, time, needed, held })
            }
            Stop::NoCurrent => {
                Some(Self::NoCurrent { open: run.start_source_v, back: run.start_back_emf_v })
            }
        }
    }

    /// Its word for programs.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Empty { .. } => "empty",
            Self::Hot { .. } => "hot",
            Self::Time { .. } => "time",
            Self::Floor { .. } => "floor",
            Self::Boil { .. } => "boil",
            Self::Freeze { .. } => "freeze",
            Self::NoCurrent { .. } => "no_current",
        }
    }

    /// By how many times the depth is missed; infinite where nothing flows.
    pub fn excess(&self) -> f64 {
        match self {
            Self::Empty { depth, target, .. }
            | Self::Hot { depth, target, .. }
            | Self::Time { depth, target, .. }
            | Self::Boil { depth, target, .. }
            | Self::Freeze { depth, target, .. }
            | Self::Floor { depth, target } => target / depth,
            Self::NoCurrent { .. } => f64::INFINITY,
        }
    }
}

/// Share of the thickness under the recess below which it is said.
const THIN: f64 = 0.3;

/// Everything that a case shows, the gravest first. `held` is its table of limits.
pub fn findings(case: &Case, held: &[Held]) -> Vec<Finding> {
    let mut list: Vec<Finding> = End::of(case).map(Finding::Ends).into_iter().collect();
    let told = |row: &&Held| row.limit.level().is_some();
    list.extend(broken(held).filter(told).cloned().map(Finding::Over));
    source_findings(case, &mut list);
    piece_findings(case, &mut list);
    bath_findings(case, &mut list);
    let (density, tried) = (case.density(), EXPERIENCE_A_PER_M2);
    list.extend((density > tried).then_some(Finding::Untried { density, tried }));
    list.extend(case.run.extremes.bloom_s.map(|after| Finding::Bloom { after }));
    list.extend(beyond(case).into_iter().map(|(range, value)| Finding::Beyond { range, value }));
    list.extend(learned(case));
    sort(&mut list);
    list
}

/// What the job's profile has to say of this job and source.
fn learned(case: &Case) -> Option<Finding> {
    let profile = case.job.profile.as_ref()?;
    let rows = case.job.spread.0.iter().filter(|row| !row.own);
    let known = |key: &str| profile.index(key, case.job, &case.source).is_some();
    let holding = rows.filter(|row| known(&row.key)).count();
    Some(Finding::Learned { file: profile.file.clone(), runs: profile.runs, holding })
}

/// What firm limits the nominal run breaks is a caution, not a stop, where most draws do the job.
pub fn tempered(list: Vec<Finding>, verdict: &Verdict) -> Vec<Finding> {
    let soften = |f: Finding| match f {
        Finding::Ends(end) if verdict.done() => Finding::May(end),
        Finding::Over(held) if verdict.done() && held.limit.firm() => Finding::MayPass(held),
        other => other,
    };
    list.into_iter().map(soften).collect()
}

/// The gravest first, otherwise as they were.
pub fn sort(list: &mut [Finding]) {
    list.sort_by_key(|f| std::cmp::Reverse(f.level()));
}

fn source_findings(case: &Case, list: &mut Vec<Finding>) {
    let (setup, run) = (&case.setup, &case.run);
    if let (Source::Pack(job), Some(pack)) = (&case.source, setup.source.pack())
        && !job.cell.rechargeable
    {
        let volts = run.extremes.cell_v;
        if (0.0..pack.cell.cutoff_v).contains(&volts) {
            list.push(Finding::Sags { volts, cutoff: pack.cell.cutoff_v });
        }
        if job.parallel > 1 {
            list.push(Finding::PrimaryParallel { parallel: job.parallel });
        }
        let left = job.charge_left.si();
        if left < 1.0 {
            list.push(Finding::PrimaryUsed { left });
        }
    }
    if let crate::run::Source::Supply { limit_a: Some(limit), .. } = setup.source
        && run.extremes.limited.0
    {
        list.push(Finding::AtCurrentLimit { limit });
    }
}

fn piece_findings(case: &Case, list: &mut Vec<Finding>) {
    let (job, setup, run) = (case.job, &case.setup, &case.run);
    let (p, geometry) = (&job.piece, case.geometry());
    let line = p.pitch.si() * (1.0 - geometry.share);
    if geometry.share < 1.0 && 2.0 * run.undercut_m > 0.5 * line {
        list.push(Finding::Undermined { undercut: run.undercut_m, resist: line });
    }
    let left = setup.piece.thickness - setup.piece.depth;
    if setup.piece.floor.is_none() && left < THIN * setup.piece.thickness {
        list.push(Finding::ThinLeft { left });
    }
    if geometry.share < 1.0 && p.pitch.si() > 2.0 * geometry.gap {
        list.push(Finding::CoarsePattern { pitch: p.pitch.si(), gap: geometry.gap });
    }
    let ratio = geometry.gap / geometry.face.equal_area_radius();
    let aspect = geometry.face.aspect();
    if !(CHECKED_GAP.0..=CHECKED_GAP.1).contains(&ratio) || aspect > CHECKED_ASPECT {
        list.push(Finding::ShapeUnchecked { ratio, aspect });
    }
    let (outline, pan) = (f64::from(p.count.is) * p.outline_m2(), job.bath.pan.is.area_m2());
    if outline > pan && job.bath.hung == Hung::FaceDown {
        list.push(Finding::PanSmall { outline, pan });
    }
}

fn bath_findings(case: &Case, list: &mut Vec<Finding>) {
    let (job, setup) = (case.job, &case.setup);
    let bracket = |t: f64| 1.0 + setup.bath.kappa_beta * (t - crate::laws::constants::REFERENCE_K);
    let (low, high) = conductivity::BRACKET;
    let warmest = case.run.extremes.bath_k;
    if bracket(setup.bath.temperature_k) < low || bracket(warmest) > high {
        list.push(Finding::ConductivityHeld);
    }
    let concentration = job.bath.concentration.is.si();
    let known = |p: &Profile| p.index("conductivity", job, &case.source).is_some();
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
