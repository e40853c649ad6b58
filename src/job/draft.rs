//! A job as far as it could be read, and what comes of it.

use super::bath::{self, Bath};
use super::checked::Job;
use super::drawer::{self, Owned};
use super::file::Files;
use super::piece;
use super::profile::{self, Profile};
use super::rest::{self, LeadSet, Limits, SessionSet, Spreads};
use super::source::{self, Source};
use super::stage::{self, Stage};
use crate::reader::Reader;
use crate::reader::short;
use crate::stock::Stock;
use crate::units::Quantity;
use crate::units::Temperature;

/// What a verb asks of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// A source.
    Source,
    /// None.
    Nothing,
}

/// A job as far as it could be read.
pub struct Draft {
    title: String,
    pub piece: piece::Draft,
    pub bath: Option<Bath>,
    pub source: Option<Source>,
    pub stages: Vec<Stage>,
    leads: Option<LeadSet>,
    room: Temperature,
    limits: Limits,
    session: SessionSet,
    size_cells: Vec<String>,
    spread: Spreads,
    profile: Option<Profile>,
    drawer: Vec<Owned>,
}

impl Draft {
    /// Reads the tables of a job.
    pub fn read(reader: &mut Reader, stock: &Stock, needs: Needs, files: Files) -> Self {
        let title = reader.text("title", "a text").map(|t| short(&t.is));
        let piece = match section(reader, "piece", "the table [piece], which describes the sheet") {
            Some(sub) => piece::read(sub, stock, files),
            None => piece::Draft::default(),
        };
        let room = rest::room(reader);
        let thickness = piece.piece.as_ref().map(|p| p.thickness.is.0.si());
        let bath = section(reader, "bath", "the table [bath], which says what is in the pan")
            .and_then(|sub| bath::read(sub, stock, room, thickness));
        let stages = stage::read(reader, stock);
        let source = if let Some(first) = stages.first() {
            reader.acknowledge(&["source"]);
            Some(first.source.clone())
        } else if needs == Needs::Source && !reader.has("source") && !reader.has("stage") {
            reader.acknowledge(&["source"]);
            reader.missing(
                "source",
                "the table [source], with kind = \"pack\", \"supply\" or \"adapter\" (without one, \
                 `size` tells which would do)",
            );
            None
        } else {
            reader.sub("source").and_then(|sub| source::read(sub, stock))
        };
        let leads = match reader.sub("leads") {
            Some(sub) => rest::leads(sub, stock),
            None => rest::leads_assumed(reader, stock),
        };
        let limits = rest::limits(reader);
        let session = rest::session(reader);
        let size_cells = rest::size(reader, stock);
        let pitch = piece.piece.as_ref().is_some_and(|p| p.detail.is_none());
        let spread = rest::spread(reader, stock, pitch);
        let profile = profile::named(reader, files);
        let drawer = drawer::read(reader, stock);
        let title = title.unwrap_or_else(|| "untitled".into());
        Self {
            title,
            piece,
            bath,
            source,
            stages,
            leads,
            room,
            limits,
            session,
            size_cells,
            spread,
            profile,
            drawer,
        }
    }

    /// The job, where all of it could be read.
    pub fn job(self) -> Option<Job> {
        Some(Job {
            title: self.title,
            piece: self.piece.piece?,
            bath: self.bath?,
            source: self.source,
            stages: self.stages,
            leads: self.leads?,
            room: self.room,
            limits: self.limits,
            session: self.session,
            size_cells: self.size_cells,
            spread: self.spread,
            profile: self.profile,
            drawer: self.drawer,
            bench: None,
        })
    }
}

/// A table that must be there.
fn section<'t>(reader: &mut Reader<'t>, key: &str, what: &str) -> Option<Reader<'t>> {
    if !reader.has(key) {
        reader.acknowledge(&[key]);
        reader.missing(key, what);
        return None;
    }
    reader.sub(key)
}
