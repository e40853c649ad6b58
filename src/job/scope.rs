//! What an uncertain input belongs to: the cell, the holder, the piece's artwork, the salt,
//! or the whole bench. What was learned of one cell says nothing about another.

use super::checked::Job;
use super::factors::Factors;
use super::profile::Profile;
use super::source::Source;
use crate::units::Quantity;

/// What the input of a key of `[spread]` belongs to in this job; empty for the whole bench,
/// none where the source has no such thing.
pub fn scope(key: &str, job: &Job, source: &Source) -> Option<String> {
    let pack = match source {
        Source::Pack(p) => Some(p),
        _ => None,
    };
    match key {
        "cell_resistance" | "capacity" => pack.map(|p| p.cell.name.clone()),
        "contact_resistance" | "cooling" => pack.map(|p| p.holder.name.clone()),
        "bare_share" => Some(artwork(job)),
        "conductivity" => Some(bath(job)),
        "edge_length" => {
            Some(artwork(job)).filter(|_| job.piece.bare_m2() < job.piece.outline_m2())
        }
        "face_transfer" | "pan_transfer" => Some(job.bath.stock.name.clone()),
        "brine_valence" => job.bath.stock.valence_cu.as_ref().map(|_| job.bath.stock.name.clone()),
        // No meter of a bench tells of it.
        "loose_load" => None,
        "efficiency" => Some(job.piece.alloy.title.clone()),
        _ => Some(String::new()),
    }
}

/// Whether a job has what the input of this key moves.
pub fn there(key: &str, job: &Job, source: &Source) -> bool {
    key == "loose_load" || scope(key, job, source).is_some()
}

/// A drawing, by its outline, bare share and pitch: the same drawing in another job file is
/// the same.
fn artwork(job: &Job) -> String {
    let p = &job.piece;
    let outline = p.outline_m2();
    let share = 100.0 * p.bare_m2() / outline;
    format!("{share:.1} % of {:.2} cm2, {:.2} mm", 1e4 * outline, 1e3 * p.pitch.si())
}

/// A salt; one whose conductivity was read is told apart from one by the catalogue.
fn bath(job: &Job) -> String {
    let read = if job.bath.reading.is_some() { ", as read" } else { "" };
    format!("{}{read}", job.bath.stock.name)
}

impl Profile {
    /// Where the factor of a key stands that holds for this job and source.
    pub fn index(&self, key: &str, job: &Job, source: &Source) -> Option<usize> {
        let of = scope(key, job, source)?;
        self.factors.iter().position(|f| f.key == key && f.of == of)
    }
}

/// What the job's profile makes of its inputs, apart from those whose spread the job states
/// itself.
pub fn bench(job: &Job, source: &Source) -> Factors {
    let mut factors = Factors::default();
    let Some(profile) = &job.profile else {
        return factors;
    };
    for row in job.spread.0.iter().filter(|row| !row.own) {
        let learned = profile.index(&row.key, job, source).map(|k| profile.factors[k].value);
        if let (Some(value), Some(factor)) = (learned, factors.named(&row.key)) {
            *factor = value;
        }
    }
    factors
}
