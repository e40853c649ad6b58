//! Rests with the case they are for: what `rest` shows.

use super::case::{Case, own_source};
use super::error::AdviceError;
use super::findings::{Finding, findings, tempered};
use super::held::held;
use super::limit::Limit;
use super::rest::{Rests, Row, rests, table};
use super::settled::settled;
use super::spread::Sampling;
use super::verdict::Verdict;
use crate::job::Job;
use crate::stock::Stock;

/// What `rest` answers.
#[derive(Debug, Clone)]
pub struct Rested<'a> {
    /// The job with its own source.
    pub case: Case<'a>,
    /// Its rests; none without cells.
    pub rests: Option<Rests>,
    /// Cycles around the one to take; empty without cells.
    pub table: Vec<Row>,
    /// The verdict on it in one go.
    pub verdict: Verdict,
    /// Findings, the gravest first.
    pub findings: Vec<Finding>,
}

/// Works the rests of a job out.
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// let rested = restbite::advice::rested(&job, &stock)?;
/// assert!(rested.done());
/// assert!(rested.rests.is_some()); // a pack may rest
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When the job has no source, stock lacks a number, or a run cannot be worked out.
pub fn rested<'a>(job: &'a Job, stock: &'a Stock) -> Result<Rested<'a>, AdviceError> {
    let case = Case::of(job, own_source(job)?, stock)?;
    let rests = rests(&case.setup, &case.warmth(), &case.run, None)?;
    let table = rests.as_ref().map(|rests| table(&case.setup, rests)).transpose()?;
    let verdict = settled(&case, Sampling::OF_A_PLAN)?;
    let findings = tempered(findings(&case, &held(&case, None)), &verdict);
    Ok(Rested { case, rests, table: table.unwrap_or_default(), verdict, findings })
}

impl Rested<'_> {
    /// Whether the job can be done, with rests where they are needed.
    pub fn done(&self) -> bool {
        let hot = matches!(self.verdict.decides, Some(Limit::Hot | Limit::OwnTouch));
        let mended = self.rests.as_ref().is_some_and(|rests| rests.best.is_some());
        self.verdict.done() || hot && mended
    }
}
