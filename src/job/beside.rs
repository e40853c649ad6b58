//! The jobs that another file names, a day or a log: each in a file of its own beside it.

use super::checked::Checked;
use super::draft::Needs;
use super::file::Files;
use super::read::read;
use super::written::Written;
use crate::reader::At;
use crate::reader::{Complaint, Complaints, Ledger, Place};
use crate::stock::Stock;
use std::path::Path;

/// What it takes to read the jobs that a file names.
pub struct Beside<'a> {
    pub stock: &'a Stock,
    pub files: Files<'a>,
    pub ledger: &'a Ledger,
    /// Complaints about the jobs.
    elsewhere: Vec<Complaint>,
}

impl<'a> Beside<'a> {
    pub fn new(stock: &'a Stock, files: Files<'a>, ledger: &'a Ledger) -> Self {
        Self { stock, files, ledger, elsewhere: Vec::new() }
    }

    /// The job of a file, with overrides; none where it could not be read.
    pub fn job_in_file(
        &mut self,
        file: &At<String>,
        sets: &[At<String>],
        needs: Needs,
    ) -> Option<Checked> {
        let path = self.files.path(&file.is);
        let (text, name) = match self.files.text(&path) {
            Ok(read) => read,
            Err(why) => {
                self.ledger.add(&file.place, &file.key, why);
                return None;
            }
        };
        let folder = path.parent().unwrap_or_else(|| Path::new(""));
        let overrides: Vec<String> = sets.iter().map(|s| s.is.clone()).collect();
        let files = Files { folder, ..self.files };
        let written = Written { text: &text, name: &name, files, sets: &overrides };
        match read(&written, self.stock, needs) {
            Ok(checked) => Some(checked),
            Err(Complaints(list)) => {
                let placed = list.into_iter().map(|c| at_its_override(c, sets));
                let new: Vec<Complaint> = placed.filter(|c| !self.elsewhere.contains(c)).collect();
                self.elsewhere.extend(new);
                None
            }
        }
    }

    /// Complaints about the jobs so far; none are left here.
    pub fn take_complaints(&mut self) -> Vec<Complaint> {
        std::mem::take(&mut self.elsewhere)
    }
}

/// The value when nothing was complained of, neither in the file itself nor in its jobs.
///
/// # Errors
/// All complaints, the file's own first.
pub fn settle<T>(
    ledger: Ledger,
    elsewhere: Vec<Complaint>,
    value: Option<T>,
    start: &Place,
) -> Result<T, Complaints> {
    if ledger.len() == 0 && !elsewhere.is_empty() {
        return Err(Complaints(elsewhere));
    }
    let settled = ledger.settle(value, start);
    settled.map_err(|Complaints(list)| Complaints(list.into_iter().chain(elsewhere).collect()))
}

/// A complaint about an override, at the override's own place.
fn at_its_override(complaint: Complaint, sets: &[At<String>]) -> Complaint {
    let Place::Set(key) = &complaint.place else {
        return complaint;
    };
    let names = |set: &&At<String>| set.is.split('=').next().is_some_and(|k| k.trim() == key);
    match sets.iter().find(names) {
        Some(set) => Complaint {
            place: set.place.clone(),
            key: format!("{}: {key}", set.key),
            text: complaint.text,
        },
        None => complaint,
    }
}
