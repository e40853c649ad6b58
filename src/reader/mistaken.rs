//! A file of one kind given where another is read: one complaint that says so, instead of one
//! for every key.

use super::complaint::{Complaint, Complaints, Place};
use super::tree::{Node, Table};

/// What a file is, as far as its tables tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A job.
    Job,
    /// A day at the bench.
    Day,
    /// Sources alone, for `compare`.
    Sources,
    /// A stock file.
    Stock,
    /// A log of measured runs.
    Log,
    /// A workshop profile.
    Profile,
}

impl Kind {
    fn of(table: &Table) -> Option<Self> {
        let has = |key: &str| table.get(key).is_some();
        let list = |key: &str| matches!(table.get(key).map(|i| &i.node), Some(Node::List(_)));
        let any = |keys: &[&str]| keys.iter().any(|key| has(key));
        if any(&["bath", "leads"]) && !list("bath") && has("piece") && !list("piece") {
            Some(Self::Job)
        } else if list("factor") && !has("piece") {
            Some(Self::Profile)
        } else if list("run") && !has("piece") {
            Some(Self::Log)
        } else if any(&["bath", "leads"]) && !list("bath") {
            None
        } else if list("piece") && any(&["source", "hands", "break", "start", "date"]) {
            Some(Self::Day)
        } else if !has("piece") && (any(&["cell", "metal", "holder", "resist"]) || list("bath")) {
            Some(Self::Stock)
        } else if has("source") && table.entries.len() == 1 {
            Some(Self::Sources)
        } else {
            None
        }
    }

    fn hint(self) -> &'static str {
        match self {
            Self::Job => {
                "this is a job file; `plan` reads it, or a day file names it as a [[piece]]"
            }
            Self::Day => "this is a day file; `day` reads it",
            Self::Sources => "this is a file of sources; `compare JOB.toml --source FILE` reads it",
            Self::Log => "this is a log of measured runs; `learn` reads it",
            Self::Profile => "this is a workshop profile; a job names it with profile = at its top",
            Self::Stock => "this is a stock file; it is read by itself beside a job file",
        }
    }
}

/// Complains of a file that is of another kind than the one wanted.
///
/// # Errors
/// The one complaint.
pub fn expect(wanted: Kind, table: &Table, place: &Place) -> Result<(), Complaints> {
    match Kind::of(table).filter(|kind| *kind != wanted) {
        None => Ok(()),
        Some(kind) => Err(Complaints(vec![Complaint {
            place: place.clone(),
            key: String::new(),
            text: kind.hint().into(),
        }])),
    }
}
