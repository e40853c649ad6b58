//! Which sources do the job: every one that may be wired is run, judged and ranked.
//!
//! Rule of rank: first those with a fifth in hand on every limit, then the fewest cells,
//! then the coolest, then the soonest done. Of those with as much in hand supplies come after
//! packs, unless the job's own source is one: whether a supply stands on the bench is not
//! ours to know.

mod candidates;
mod change;
pub mod chart;
mod judge;
mod least;
mod rank;
mod reasons;
mod search;
mod supply;
mod whole;

pub use candidates::{HOLDER_SIZES, candidates};
pub use change::{Change, Knob};
pub use judge::{ENOUGH, Judged, current_borne, judge, judge_case};
pub use least::least_changes;
pub use rank::{Before, why_before};
pub use reasons::Reason;
pub use search::{Sizing, judge_all, search};
pub use supply::{SupplyAdvice, supplies};
pub use whole::{size, size_sampled};
