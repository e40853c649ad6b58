//! What to make of a run: findings, when to look, what limits.
//!
//! Each part reads a [`Case`]; none knows how it will be shown.

mod beyond;
mod bounds;
mod case;
mod cautions;
pub mod charge;
mod charged;
mod checks;
pub mod compare;
mod cores;
pub mod cycle;
pub mod day;
mod error;
mod fast;
mod findings;
mod held;
pub mod learn;
mod level;
mod limit;
mod periodic;
pub mod pieces;
mod plan;
mod progress;
pub mod rest;
mod rested;
mod settled;
mod shares;
mod shortest;
pub mod size;
pub mod spell;
pub mod spread;
mod traced;
mod verdict;
mod weighed;
mod wire;

pub use bounds::Bounds;
pub use case::{Case, own_source};
pub use cautions::cautions;
pub use charged::{Charged, charged};
pub use checks::{Check, Looks};
pub use cores::{Cores, share_among};
pub use error::AdviceError;
pub use findings::{End, Finding, findings};
pub use held::{Held, Whose, held};
pub use level::Level;
pub use limit::{Bite, Limit};
pub use plan::{Plan, plan};
pub use progress::Progress;
pub use rested::{Rested, rested};
pub use settled::settled;
pub use shares::{Share, Taker};
pub use shortest::LONGEST_REST_MIN;
pub use traced::{Traced, traced, traced_sampled};
pub use verdict::{Broke, Chances, Grade, Verdict};
pub use weighed::Weighed;
