//! The sheet over the pan: its face, its bare share and the bath's shape factor (1/m), in SI.

use super::checked::Job;
use super::factors::Factors;
use super::piece::Piece;
use super::scope::bench;
use super::source::Source;
use crate::laws::constriction;
use crate::laws::slab::Face;
use crate::units::{Outline, Quantity};

/// The sheet over the pan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Geometry {
    /// Outline of one piece.
    pub face: Face,
    /// Bare share of it.
    pub share: f64,
    /// Bare area of all pieces, m2.
    pub bare_m2: f64,
    /// Gap, m.
    pub gap: f64,
    /// Shape factor of the bath, 1/m.
    pub shape_factor: f64,
}

impl Geometry {
    /// Of a job on the bench as its profile knows it.
    pub fn of(job: &Job, source: &Source) -> Self {
        Self::with(job, &bench(job, source))
    }

    /// With factors on bare share and gap.
    pub(super) fn with(job: &Job, factors: &Factors) -> Self {
        let p = &job.piece;
        let count = f64::from(p.count);
        let outline = p.outline_m2();
        let share = (p.bare_m2() / outline * factors.bare_share).min(1.0);
        let gap = job.bath.gap.is.si() * factors.gap;
        let face = face(p);
        let slab = face.shape_factor(gap) / count;
        let squeeze = constriction::length(p.pitch.si(), share) / (count * outline);
        Self { face, share, bare_m2: share * outline * count, gap, shape_factor: slab + squeeze }
    }
}

fn face(p: &Piece) -> Face {
    match p.outline.is {
        Outline::Rectangle(a, b) => Face::Rectangle(a.si(), b.si()),
        Outline::Disc(d) => Face::Disc(d.si() / 2.0),
        Outline::Area(area) => Face::Rectangle(area.si().sqrt(), area.si().sqrt()),
    }
}
