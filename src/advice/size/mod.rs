//! Which sources do the job: every one that may be wired is run, judged and ranked.
//!
//! Rule of rank: the job's own source first, then what strains nothing, then what fails least
//! often in tenths, then the soonest done, then the fewest cells, then the coolest. Beside it
//! stand three picks: soonest, fewest cells, gentlest.

mod best;
mod candidates;
mod change;
pub mod chart;
pub mod drawer;
mod judge;
mod least;
mod rank;
mod reasons;
mod search;
mod supply;
mod whole;

pub use best::at_its_best;
pub use candidates::{HOLDER_SIZES, candidates};
pub use change::{Change, Goal, Knob};
pub use judge::{ENOUGH, Judged, Looked, current_borne, judge, judge_case};
pub use least::{fitting_changes, least_changes};
pub use rank::{Picks, is_own};
pub use reasons::Reason;
pub use search::{Sizing, first_that_holds, judge_all, search};
pub use supply::{SupplyAdvice, supplies};
pub use whole::{size, size_sampled};
