//! The verdict for verbs that draw nothing of their own: the nominal run's, and the draws' only
//! where a firm limit is near enough for them to matter.

use super::case::Case;
use super::error::AdviceError;
use super::held::{Held, held};
use super::spread::Sampling;
use super::spread::options::chances;
use super::verdict::Verdict;

/// How far a value may be from a firm limit, as a factor, before draws are asked.
const NEAR: f64 = 1.3;

/// The verdict on a case without rests, drawn so where a limit is near.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn settled(case: &Case, sampling: Sampling) -> Result<Verdict, AdviceError> {
    let list = held(case, None);
    let chances = if near(&list) { chances(case, None, sampling)? } else { None };
    Ok(Verdict::of(&list, chances))
}

/// Whether a firm limit is so near that draws matter.
pub fn near(list: &[Held]) -> bool {
    let near = |times: f64| (1.0 / NEAR..NEAR).contains(&times);
    list.iter().any(|row| row.limit.firm() && row.times().is_some_and(near))
}
