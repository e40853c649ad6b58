//! The job file: from text to a checked job, or to every complaint about it at once.

mod bath;
mod beside;
pub mod clock;
mod cross;
mod day;
mod factors;
pub mod file;
pub mod log;
mod metal;
mod piece;
pub mod profile;
mod refuse;
pub mod resolve;
pub(crate) mod rest;
pub mod scope;
mod source;

pub use crate::reader::{At, Complaint, Complaints, LONGEST, Place, nearest};
pub use bath::Bath;
pub use beside::Open;
pub use day::{CheckedDay, Day, DayPiece, DaySource, HandTimes, MOST_PIECES, read_day};
pub use metal::{Alloy, AlloyPart};
pub use piece::{Bare, Detail, Piece};
pub use profile::{Learned, Profile, read_profile};
pub use refuse::Refused;
pub use rest::{LeadSet, Limits, SessionSet, Spread, Spreads};
pub use source::{Adapter, HIGHEST as HIGHEST_VOLTAGE, Pack, Source, Supply};

use crate::reader::{Ledger, Reader, mistaken, short, tree};
use crate::stock::Stock;
use crate::units::Temperature;
use std::path::Path;

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
}

/// Reads the sources of a file: one `[source]`, or `[[source]]` several times, each with a
/// name to tell it by.
///
/// # Errors
/// Every complaint.
pub fn read_sources(
    text: &str,
    name: &str,
    stock: &Stock,
) -> Result<Vec<(String, Source)>, Complaints> {
    let table = tree::parse(text.strip_prefix('\u{feff}').unwrap_or(text), name)?;
    let ledger = Ledger::default();
    let start = Place::File { name: name.into(), line: 1, column: 1 };
    let mut reader = Reader::new(&table, start.clone(), "", &ledger);
    reader.require("source", "a table [source], or [[source]] several times, each with a name");
    let mut list = Vec::new();
    for (n, sub) in reader.tables("source").into_iter().enumerate() {
        if let Some((named, source)) = source::read_named(sub, stock) {
            list.push((named.unwrap_or_else(|| format!("source {}", n + 1)), source));
        }
    }
    reader.finish();
    ledger.settle(Some(list), &start)
}

/// What came of reading a job that is well written.
#[derive(Debug, Clone)]
pub enum Checked {
    /// It can be worked out.
    Job(Box<Job>),
    /// Metal and bath do not go together, or the metal may not be etched at all.
    Refused(Refused),
}

/// What a verb asks of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// A source.
    Source,
    /// None.
    Nothing,
}

/// A job's text and where it is from.
#[derive(Debug, Clone, Copy)]
pub struct Written<'a> {
    /// The text.
    pub text: &'a str,
    /// Its name in messages.
    pub name: &'a str,
    /// The folder against which file names in it are taken.
    pub folder: &'a Path,
    /// `--set KEY=VALUE`, in order.
    pub sets: &'a [String],
}

/// Reads and checks a job.
///
/// # Errors
/// Every complaint: what is wrong, where, and what is allowed.
pub fn read(written: &Written, stock: &Stock, needs: Needs) -> Result<Checked, Complaints> {
    let table = with_sets(written)?;
    let ledger = Ledger::default();
    let start = Place::File { name: written.name.into(), line: 1, column: 1 };
    mistaken::expect(mistaken::Kind::Job, &table, &start)?;
    let mut reader = Reader::new(&table, start.clone(), "", &ledger);
    let draft = Draft::read(&mut reader, stock, needs, written.folder);
    reader.finish();
    let refused = draft.refused(stock);
    cross::check(&draft, &ledger);
    let job = draft.job();
    match refused {
        // A metal that may not be etched is the answer even where its numbers are unknown.
        Some(refused) if ledger.len() == 0 => Ok(Checked::Refused(refused)),
        _ => ledger.settle(job, &start).map(|job| Checked::Job(Box::new(job))),
    }
}

/// The tree of a text with every `--set` laid over it.
fn with_sets(written: &Written) -> Result<tree::Table, Complaints> {
    // A byte order mark is no fault of the writer's.
    let text = written.text.strip_prefix('\u{feff}').unwrap_or(written.text);
    let mut table = tree::parse(text, written.name)?;
    let sets = written.sets.iter().filter_map(|set| tree::set(&mut table, set).err());
    let wrong: Vec<Complaint> = sets.flat_map(|complaints| complaints.0).collect();
    if wrong.is_empty() { Ok(table) } else { Err(Complaints(wrong)) }
}

/// A job as far as it could be read.
struct Draft {
    title: String,
    piece: piece::Draft,
    bath: Option<Bath>,
    source: Option<Source>,
    leads: Option<LeadSet>,
    room: Temperature,
    limits: Limits,
    session: SessionSet,
    size_cells: Vec<String>,
    spread: Spreads,
    profile: Option<Profile>,
}

impl Draft {
    fn read(reader: &mut Reader, stock: &Stock, needs: Needs, folder: &Path) -> Self {
        let title = reader.text("title", "a text").map(|t| short(&t.is));
        let piece = match section(reader, "piece", "the table [piece], which describes the sheet") {
            Some(sub) => piece::read(sub, stock, folder),
            None => piece::Draft::default(),
        };
        let room = rest::room(reader);
        let bath = section(reader, "bath", "the table [bath], which says what is in the pan")
            .and_then(|sub| bath::read(sub, stock, room));
        let source = if needs == Needs::Source && !reader.has("source") {
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
        let leads = section(reader, "leads", "the table [leads], which describes the wires")
            .and_then(|sub| rest::leads(sub, stock));
        let limits = rest::limits(reader);
        let session = rest::session(reader);
        let size_cells = rest::size(reader, stock);
        let spread = rest::spread(reader, stock);
        let profile = profile::named(reader, folder);
        let title = title.unwrap_or_else(|| "untitled".into());
        Self {
            title,
            piece,
            bath,
            source,
            leads,
            room,
            limits,
            session,
            size_cells,
            spread,
            profile,
        }
    }

    fn refused(&self, stock: &Stock) -> Option<Refused> {
        refuse::refusal(&self.piece, self.bath.as_ref(), stock)
    }

    fn job(self) -> Option<Job> {
        Some(Job {
            title: self.title,
            piece: self.piece.piece?,
            bath: self.bath?,
            source: self.source,
            leads: self.leads?,
            room: self.room,
            limits: self.limits,
            session: self.session,
            size_cells: self.size_cells,
            spread: self.spread,
            profile: self.profile,
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
