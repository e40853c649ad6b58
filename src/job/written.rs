//! A job, a day or a log as it was written: its text, and what `--set` lays over it.

use super::file::Files;
use crate::reader::{Complaint, Complaints};
use crate::reader::{Table, tree};

/// A job's text and where it is from.
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// use restbite::units::Quantity;
///
/// let sets = ["piece.depth=0.2 mm".to_string()];
/// let shallower = Written { sets: &sets, ..written };
/// let Checked::Job(job) = job::read(&shallower, &stock, Needs::Source)? else {
///     unreachable!("a depth is no ground to refuse");
/// };
/// assert!((job.piece.depth.is.si() - 0.2e-3).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Default)]
pub struct Written<'a> {
    /// The text.
    pub text: &'a str,
    /// Its name in messages.
    pub name: &'a str,
    /// The files that it may name.
    pub files: Files<'a>,
    /// `--set KEY=VALUE`, in order.
    pub sets: &'a [String],
}

impl Written<'_> {
    /// The tree of the text with every `--set` laid over it.
    pub(super) fn table(&self) -> Result<Table, Complaints> {
        let table = self.text()?;
        self.over(table)
    }

    /// The tree of the text alone.
    pub(super) fn text(&self) -> Result<Table, Complaints> {
        // A byte order mark is no fault of the writer's.
        tree::parse(self.text.strip_prefix('\u{feff}').unwrap_or(self.text), self.name)
    }

    /// A tree with every `--set` laid over it.
    pub(super) fn over(&self, mut table: Table) -> Result<Table, Complaints> {
        let sets = self.sets.iter().filter_map(|set| tree::set(&mut table, set).err());
        let wrong: Vec<Complaint> = sets.flat_map(|complaints| complaints.0).collect();
        if wrong.is_empty() { Ok(table) } else { Err(Complaints(wrong)) }
    }
}
