//! While the current is on: what the meters should show, what they show when one thing is wrong,
//! and what readings make of the run.

mod answer;
mod expect;
mod fault;
mod live;
mod meter;
mod posterior;
mod suspect;

pub use answer::{DRAWS, Look, Stand, look};
pub use fault::{Fault, Faulty};
pub use live::{Live, Point, UNKNOWNS, live};
pub use meter::{Meter, Shown, meter};
pub use suspect::{Against, Compared, Suspect};
