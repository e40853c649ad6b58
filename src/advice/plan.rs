//! The whole advice for one job: its run, its looks, its findings.

use super::charge::{Charge, charge_drawn};
use super::checks::{DEFAULT_TOLERANCE, Looks, looks};
use super::cycle::within_a_piece;
use super::fast::FastError;
use super::findings::{Finding, findings, sort};
use super::limits::{Bounds, VoltageShares};
use super::rest::{Rests, rests, table};
use super::silver::{Silver, silver};
use super::size::{Judged, judge, search, warmth};
use super::spread::bands::Bands;
use super::spread::{Sampling, Spread, spread};
use super::{cautions, findings::Level};
use crate::job::resolve::{Factors, Gap, Geometry, resolve};
use crate::job::{Job, Refused, Source};
use crate::run::{Precision, Run, RunError, Setup, Trace, trace};
use crate::stock::Stock;
use crate::units::Quantity;
use std::fmt;

/// What `plan` and `trace` draw.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The job.
    pub job: Job,
    /// Its source.
    pub source: Source,
    /// The sheet over the pan.
    pub geometry: Geometry,
    /// Every number used.
    pub setup: Setup,
    /// The run without a rest.
    pub run: Run,
    /// The same over time.
    pub trace: Trace,
    /// Limits that are watched.
    pub bounds: Bounds,
    /// What takes the voltage.
    pub shares: Option<VoltageShares>,
    /// How the source stands against every limit; none where it was not asked for.
    pub judged: Option<Judged>,
    /// What `size` would take instead, where the job's own source does not do.
    pub instead: Option<Judged>,
    /// Rests; none without cells, and where it was not asked for.
    pub rests: Option<Rests>,
    /// How sure it all is; none where it was not asked for.
    pub spread: Option<Spread>,
    /// What a charge gives; none where it was not asked for.
    pub charge: Option<Charge>,
    /// Where the silver went, for a piece that holds some.
    pub silver: Option<Silver>,
    /// When to look; empty where it was not asked for.
    pub looks: Looks,
    /// Findings, the gravest first.
    pub findings: Vec<Finding>,
    /// The usual cautions.
    pub cautions: Vec<String>,
}

/// The advice on a job.
#[derive(Debug, Clone)]
pub enum Advice {
    /// A plan, whether or not the piece gets to depth.
    Plan(Box<Plan>),
    /// Refused, with the reason as a finding.
    Refused(Finding),
}

impl Advice {
    /// Whether the job can be done as given.
    pub fn done(&self) -> bool {
        match self {
            Self::Plan(plan) => plan.run.stop == crate::run::Stop::Depth,
            Self::Refused(_) => false,
        }
    }

    /// Advice on a refused job.
    pub fn refused(refused: Refused) -> Self {
        Self::Refused(Finding::Refused(refused))
    }
}

/// Why there is no advice.
#[derive(Debug)]
pub enum AdviceError {
    /// The job has no source.
    NoSource,
    /// A number missing in stock.
    Gap(Gap),
    /// A numeric failure.
    Run(RunError),
    /// Readings that no bench explains even nearly.
    Curvature,
}

impl fmt::Display for AdviceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSource => write!(f, "the job has no [source]; `size` tells which would do"),
            Self::Gap(gap) => write!(f, "{gap}"),
            Self::Run(error) => write!(f, "{error}"),
            Self::Curvature => {
                write!(f, "no bench was found that explains these readings; check their units")
            }
        }
    }
}

impl std::error::Error for AdviceError {}

impl From<Gap> for AdviceError {
    fn from(gap: Gap) -> Self {
        Self::Gap(gap)
    }
}

impl From<RunError> for AdviceError {
    fn from(error: RunError) -> Self {
        Self::Run(error)
    }
}

impl From<FastError> for AdviceError {
    fn from(error: FastError) -> Self {
        match error {
            FastError::Gap(gap) => Self::Gap(gap),
            FastError::Run(run) => Self::Run(run),
        }
    }
}

/// One run with its findings, without looks: what `trace` shows.
///
/// # Errors
/// When the job has no source, stock lacks a number, or the run cannot be worked out.
pub fn advise(job: &Job, stock: &Stock, points: usize) -> Result<Plan, AdviceError> {
    let source = job.source.as_ref().ok_or(AdviceError::NoSource)?;
    advise_with(job, source, stock, points)
}

/// The same with another source than the job's own.
///
/// # Errors
/// As [`advise`].
pub fn advise_with(
    job: &Job,
    source: &Source,
    stock: &Stock,
    points: usize,
) -> Result<Plan, AdviceError> {
    let setup = resolve(job, source, stock, &Factors::default())?;
    let (run, trace) = trace(&setup, Precision::default(), points)?;
    let bounds = Bounds::of(job, source, stock);
    let findings = findings(job, source, stock, &setup, &run, &bounds);
    Ok(Plan {
        geometry: Geometry::of(job, source),
        shares: VoltageShares::at_start(&setup, &run),
        judged: None,
        instead: None,
        rests: None,
        charge: None,
        spread: None,
        silver: silver(&setup, &run),
        cautions: cautions(job, Some(source)),
        looks: Looks::default(),
        job: job.clone(),
        source: source.clone(),
        setup,
        run,
        trace,
        bounds,
        findings,
    })
}

/// The whole plan.
///
/// # Errors
/// As [`advise`].
pub fn plan(
    job: &Job,
    stock: &Stock,
    points: usize,
    sampling: Sampling,
) -> Result<Plan, AdviceError> {
    let mut plan = advise(job, stock, points)?;
    let target = plan.setup.piece.depth;
    let tolerance = job.piece.tolerance.map_or(DEFAULT_TOLERANCE * target, Quantity::si);
    let judged = judge(job, &plan.source, stock)?;
    if !judged.feasible() {
        plan.instead = search(job, stock)?.chosen().cloned();
    }
    let found = judged.rest;
    plan.judged = Some(judged);
    let limits = warmth(&plan.setup, &plan.bounds);
    plan.rests = rests(&plan.setup, &limits, &plan.run, found)?;
    let pack = (&plan.setup, &limits);
    let cycle = plan.rests.as_ref().and_then(Rests::within_a_piece);
    plan.charge = Some(charge_drawn(job, &plan.source, stock, pack, cycle, sampling)?);
    let nominal = (&plan.setup, &plan.run);
    plan.spread = spread(job, &plan.source, stock, nominal, limits, sampling)?;
    let bands = plan.spread.as_ref().and_then(|s| s.bands.as_ref());
    let fast = bands.map(Bands::fast);
    let (looks, finding) = looks(&plan.run, &plan.trace, fast.as_ref(), target, tolerance);
    plan.looks = looks;
    plan.findings.extend(finding);
    sort(&mut plan.findings);
    Ok(plan)
}

/// One run with the advice on rests: what `rest` shows.
///
/// # Errors
/// As [`advise`].
pub fn with_rests(job: &Job, stock: &Stock, points: usize) -> Result<Plan, AdviceError> {
    let mut plan = advise(job, stock, points)?;
    plan.rests = rests(&plan.setup, &warmth(&plan.setup, &plan.bounds), &plan.run, None)?;
    if let Some(rests) = &mut plan.rests {
        rests.table = table(&plan.setup, rests)?;
    }
    Ok(plan)
}

/// One run with what a charge gives: what `charge` shows.
///
/// # Errors
/// As [`advise`].
pub fn with_charge(
    job: &Job,
    stock: &Stock,
    points: usize,
    sampling: Sampling,
) -> Result<Plan, AdviceError> {
    let mut plan = advise(job, stock, points)?;
    let limits = warmth(&plan.setup, &plan.bounds);
    let pack = (&plan.setup, &limits);
    let cycle = within_a_piece(&plan.setup, &limits, &plan.run, None)?;
    plan.charge = Some(charge_drawn(job, &plan.source, stock, pack, cycle, sampling)?);
    Ok(plan)
}

impl Plan {
    /// The gravest level among the findings.
    pub fn gravest(&self) -> Option<Level> {
        self.findings.iter().map(Finding::level).max()
    }
}
