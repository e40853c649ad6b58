//! The verdict for verbs that draw nothing of their own: the nominal run's, and the draws' only
//! where a firm limit is near enough for them to matter.

use super::case::Case;
use super::error::AdviceError;
use super::held::held;
use super::spread::Sampling;
use super::spread::options::chances;
use super::verdict::Verdict;

/// As `plan` draws where nobody asks for another number.
const AS_A_PLAN: Sampling = Sampling { draws: 2000, seed: 1 };
/// How far a value may be from a firm limit, as a factor, before draws are asked.
const NEAR: f64 = 1.3;

/// The verdict on a case without rests.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn settled(case: &Case) -> Result<Verdict, AdviceError> {
    let list = held(case, None);
    let near = |times: f64| (1.0 / NEAR..NEAR).contains(&times);
    let asked = list.iter().any(|row| row.limit.firm() && row.times().is_some_and(near));
    let chances = if asked { chances(case, None, AS_A_PLAN)? } else { None };
    Ok(Verdict::of(&list, chances))
}
