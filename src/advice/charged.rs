//! What a charge gives with the case it is for: what `charge` shows.

use super::case::{Case, own_source};
use super::charge::{Charge, charge};
use super::cycle::within_a_piece;
use super::error::AdviceError;
use super::findings::{Finding, findings, tempered};
use super::held::held;
use super::settled::settled;
use super::spread::Sampling;
use super::verdict::Verdict;
use crate::job::Job;
use crate::stock::Stock;

/// What `charge` answers.
#[derive(Debug, Clone)]
pub struct Charged<'a> {
    /// The job with its own source.
    pub case: Case<'a>,
    /// What a charge gives.
    pub charge: Charge,
    /// The verdict on a piece in one go.
    pub verdict: Verdict,
    /// Findings, the gravest first.
    pub findings: Vec<Finding>,
}

/// Follows a charge of a job.
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// use restbite::advice::charged;
/// use restbite::advice::spread::Sampling;
///
/// let charged = charged(&job, &stock, Sampling { draws: 20, seed: 1 })?;
/// assert!(charged.done());
/// assert!(charged.charge.pieces.count() > 0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When the job has no source, stock lacks a number, or a run cannot be worked out.
pub fn charged<'a>(
    job: &'a Job,
    stock: &'a Stock,
    sampling: Sampling,
) -> Result<Charged<'a>, AdviceError> {
    let case = Case::of(job, own_source(job)?, stock)?;
    let cycle = within_a_piece(&case.setup, &case.warmth(), &case.run, None)?;
    let charge = charge(&case, cycle, sampling)?;
    let verdict = settled(&case, Sampling::OF_A_PLAN)?;
    let findings = tempered(findings(&case, &held(&case, None)), &verdict);
    Ok(Charged { case, charge, verdict, findings })
}

impl Charged<'_> {
    /// Whether a piece can be done.
    pub fn done(&self) -> bool {
        self.verdict.done()
    }
}
