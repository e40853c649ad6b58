//! The whole advice on one job: how its source stands, its looks, rests, pieces, and how sure.

use super::case::{Case, own_source};
use super::cautions::cautions;
use super::charge::{Charge, charge};
use super::checks::{Looks, looks};
use super::cores::both;
use super::error::AdviceError;
use super::findings::{Finding, findings, sort, tempered};
use super::held::held;
use super::look::{Live, Meter, live, meter};
use super::rest::{Rests, rests};
use super::shares::{Share, voltage_shares};
use super::size::{Judged, first_that_holds, judge_case};
use super::spread::bands::Bands;
use super::spread::{Sampling, Spread, spread};
use super::verdict::Verdict;
use crate::job::Job;
use crate::run::Trace;
use crate::stock::Stock;

/// What `plan` answers.
#[derive(Debug, Clone)]
pub struct Plan<'a> {
    /// The job's own source, judged: its case with the run, rests, every limit.
    pub own: Judged<'a>,
    /// The verdict on it, without a rest.
    pub verdict: Verdict,
    /// The run over time.
    pub trace: Trace,
    /// What takes the voltage; none where no current flows.
    pub shares: Option<Vec<Share>>,
    /// What `size` would take instead, where the job's own source does not do.
    pub instead: Option<Judged<'a>>,
    /// Rests; none without cells.
    pub rests: Option<Rests>,
    /// How sure it all is; none where it does not etch at all.
    pub spread: Option<Spread>,
    /// What the meters show, and with each fault; none where it does not etch at all.
    pub meter: Option<Meter>,
    /// What a sheet needs to correct itself by readings; none where the run comes to nothing.
    pub live: Option<Live>,
    /// What a charge gives.
    pub charge: Charge,
    /// When to look.
    pub looks: Looks,
    /// Findings, the gravest first.
    pub findings: Vec<Finding>,
    /// The usual cautions.
    pub cautions: Vec<String>,
}

impl<'a> Plan<'a> {
    /// The job with its own source.
    pub fn case(&self) -> &Case<'a> {
        &self.own.case
    }

    /// Whether the job can be done as given.
    pub fn done(&self) -> bool {
        self.verdict.done()
    }
}

/// The whole plan, with so many points over time.
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// use restbite::advice;
/// use restbite::advice::spread::Sampling;
///
/// let plan = advice::plan(&job, &stock, 201, Sampling { draws: 20, seed: 1 })?;
/// assert!(plan.done());
/// assert_eq!(plan.trace.t_s.len(), 201);
/// assert!(plan.instead.is_none()); // its own source does it
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When the job has no source, stock lacks a number, or a run cannot be worked out.
pub fn plan<'a>(
    job: &'a Job,
    stock: &'a Stock,
    points: usize,
    sampling: Sampling,
) -> Result<Plan<'a>, AdviceError> {
    let (case, trace) = Case::traced(job, own_source(job)?, stock, points)?;
    let mut own = judge_case(case)?;
    let rests = rests(&own.case.setup, &own.case.warmth(), &own.case.run, own.rest)?;
    let cycle = rests.as_ref().and_then(Rests::within_a_piece);
    let (spread, charge) =
        both(|| spread(&own.case, sampling), || charge(&own.case, cycle, sampling))?;
    own.chances = spread.as_ref().map(|s| s.outcomes.chances.clone());
    let verdict = own.in_one_go(&trace);
    let case = &own.case;
    let target = case.setup.piece.depth;
    let tolerance = case.weighed().tolerance_m();
    let instead = if verdict.done() { None } else { first_that_holds(job, stock)? };
    let bands = spread.as_ref().and_then(|s| s.bands.as_ref());
    let fast = bands.map(Bands::fast);
    let (looks, finding) = looks(&case.run, &trace, fast.as_ref(), target, tolerance);
    let mut findings = tempered(findings(case, &held(case, None)), &verdict);
    findings.extend(finding);
    sort(&mut findings);
    let etches = case.run.charge_c > 0.0;
    let (live, meter) = both(
        || if etches { live(case) } else { Ok(None) },
        || spread.as_ref().map(|s| meter(case, s.metered)).transpose(),
    )?;
    Ok(Plan {
        shares: voltage_shares(&case.setup, &case.run),
        charge,
        rests,
        cautions: cautions(job, Some(&case.source)),
        instead,
        live,
        meter,
        spread,
        looks,
        findings,
        trace,
        verdict,
        own,
    })
}
