//! A job that was read and is within what is allowed.

use super::bath::Bath;
use super::bench::Bench;
use super::drawer::Owned;
use super::piece::Piece;
use super::profile::Profile;
use super::refuse::Refused;
use super::rest::{LeadSet, Limits, SessionSet, Spreads};
use super::source::Source;
use super::stage::Stage;
use crate::units::Temperature;

/// A checked job: every value typed and within what is allowed.
#[derive(Debug, Clone)]
pub struct Job {
    /// Title, for the head of the sheet.
    pub title: String,
    /// The sheet.
    pub piece: Piece,
    /// The bath.
    pub bath: Bath,
    /// The source, where the verb needs one.
    pub source: Option<Source>,
    /// The sources of a piece that changes from one to the next, `source` the first of them; empty
    /// with one alone.
    pub stages: Vec<Stage>,
    /// The leads.
    pub leads: LeadSet,
    /// Air temperature.
    pub room: Temperature,
    /// Limits.
    pub limits: Limits,
    /// How a session goes on from piece to piece.
    pub session: SessionSet,
    /// What `size` may choose from; empty for all.
    pub size_cells: Vec<String>,
    /// How uncertain each input is.
    pub spread: Spreads,
    /// What measured runs have taught about this bench.
    pub profile: Option<Profile>,
    /// What the studio owns; empty where it does not say.
    pub drawer: Vec<Owned>,
    /// The bench file that lies under it.
    pub bench: Option<Bench>,
}

/// What came of reading a job that is well written.
#[derive(Debug, Clone)]
pub enum Checked {
    /// It can be worked out.
    Job(Box<Job>),
    /// Metal and bath do not go together, or the metal may not be etched at all.
    Refused(Refused),
}
