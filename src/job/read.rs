//! Reads a job: its tables, then what no single key shows to be wrong.

use super::checked::Checked;
use super::draft::{Draft, Needs};
use super::file::Files;
use super::written::Written;
use super::{bench, cross, refuse};
use crate::reader::Reader;
use crate::reader::mistaken;
use crate::reader::{Complaints, Ledger, Place};
use crate::stock::Stock;

/// Reads and checks a job.
///
/// # Examples
///
/// ```
/// use restbite::job::{self, Checked, Needs, Written};
/// use restbite::stock::Stock;
///
/// let text = std::fs::read_to_string("data-demo/fern-pin.toml")?;
/// let written = Written { text: &text, name: "fern-pin.toml", ..Written::default() };
/// match job::read(&written, &Stock::builtin()?, Needs::Source)? {
///     Checked::Job(job) => assert_eq!(job.title, "Fern cloak pin"),
///     Checked::Refused(_) => unreachable!("sterling goes with a nitrate"),
/// }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// Every complaint: what is wrong, where, and what is allowed.
pub fn read(written: &Written, stock: &Stock, needs: Needs) -> Result<Checked, Complaints> {
    let mut table = written.text()?;
    let ledger = Ledger::default();
    let start = Place::File { name: written.name.into(), line: 1, column: 1 };
    mistaken::expect(mistaken::Kind::Job, &table, &start)?;
    let under = bench::find(written.files)?;
    let file = under.as_ref().map(bench::Under::name);
    if let Some(under) = under {
        under.lay(&mut table, written.files.folder);
    }
    let table = written.over(table)?;
    let reader = Reader::new(&table, start.clone(), "", &ledger);
    let mut checked = tables(reader, stock, needs, written.files, &ledger);
    if let (Some(Checked::Job(job)), Some(file)) = (&mut checked, file) {
        job.bench = Some(bench::used(file, &table));
    }
    ledger.settle(checked, &start)
}

/// Reads the tables of a job, wherever they stand; none where something is amiss.
pub fn tables(
    mut reader: Reader,
    stock: &Stock,
    needs: Needs,
    files: Files,
    ledger: &Ledger,
) -> Option<Checked> {
    let before = ledger.len();
    let draft = Draft::read(&mut reader, stock, needs, files);
    reader.finish();
    let refused = refuse::refusal(&draft.piece, draft.bath.as_ref(), stock);
    cross::check(&draft, ledger);
    match refused {
        // A metal that may not be etched is the answer even where its numbers are unknown.
        Some(refused) if ledger.len() == before => Some(Checked::Refused(refused)),
        _ => draft.job().map(|job| Checked::Job(Box::new(job))),
    }
}
