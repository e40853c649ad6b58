//! The job file: from text to a checked job, or to every complaint about it at once.

mod bath;
pub mod bench;
mod beside;
mod checked;
pub mod clock;
mod cross;
mod day;
mod draft;
mod drawer;
mod factors;
pub mod file;
mod geometry;
pub mod layout;
pub mod log;
mod metal;
mod piece;
pub mod profile;
mod read;
mod refuse;
pub mod resolve;
pub(crate) mod rest;
mod rows;
pub mod scope;
mod source;
mod stage;
mod written;

pub use crate::reader::{At, Complaint, Complaints, LONGEST, Place, nearest};
pub use bath::{Bath, Hung, least_gap_m};
pub use bench::Bench;
pub use checked::{Checked, Job};
pub use day::{CheckedDay, Day, DayPiece, DaySource, HandTimes, MOST_PIECES, read_day};
pub use draft::Needs;
pub use drawer::{Owned, Rated};
pub use file::{Bytes, Files, Open};
pub use metal::{Alloy, AlloyPart};
pub use piece::{Bare, Detail, Piece};
pub use profile::{Learned, Profile, read_profile};
pub use read::read;
pub use refuse::Refused;
pub use rest::{LeadSet, Limits, SessionSet, Spread, Spreads};
pub use source::{
    Adapter, HIGHEST as HIGHEST_VOLTAGE, Pack, Pulse, Source, Supply, no_resistor, read_sources,
};
pub use stage::{Stage, Until};
pub use written::Written;
