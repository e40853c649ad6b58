//! One run over time with its findings: what `trace` shows.

use super::case::{Case, own_source};
use super::error::AdviceError;
use super::findings::{Finding, findings, tempered};
use super::held::held;
use super::settled::settled;
use super::spread::Sampling;
use super::verdict::Verdict;
use crate::job::Job;
use crate::run::Trace;
use crate::stock::Stock;

/// What `trace` answers.
#[derive(Debug, Clone)]
pub struct Traced<'a> {
    /// The job with its own source.
    pub case: Case<'a>,
    /// The run over time.
    pub trace: Trace,
    /// The verdict on it.
    pub verdict: Verdict,
    /// Findings, the gravest first.
    pub findings: Vec<Finding>,
}

/// One run in so many points.
///
/// # Errors
/// When the job has no source, stock lacks a number, or the run cannot be worked out.
pub fn traced<'a>(
    job: &'a Job,
    stock: &'a Stock,
    points: usize,
) -> Result<Traced<'a>, AdviceError> {
    traced_sampled(job, stock, points, Sampling::OF_A_PLAN)
}

/// The same, the verdict drawn so where a limit is near.
///
/// # Errors
/// As [`traced`].
pub fn traced_sampled<'a>(
    job: &'a Job,
    stock: &'a Stock,
    points: usize,
    sampling: Sampling,
) -> Result<Traced<'a>, AdviceError> {
    let (case, trace) = Case::traced(job, own_source(job)?, stock, points)?;
    let verdict = settled(&case, sampling)?.when(&held(&case, None), &case, &trace);
    let findings = tempered(findings(&case, &held(&case, None)), &verdict);
    Ok(Traced { case, trace, verdict, findings })
}
