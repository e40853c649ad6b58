//! The sheet over the pan: its face, its bare share and the bath's shape factor (1/m), in SI.

use super::bath::Hung;
use super::checked::Job;
use super::factors::Factors;
use super::piece::Piece;
use super::scope::bench;
use super::source::Source;
use crate::laws::core_area::Landing;
use crate::laws::slab::Face;
use crate::laws::{constriction, walls};
use crate::units::{Outline, Quantity};

/// The sheet over the pan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Geometry {
    /// Outline of one piece.
    pub face: Face,
    /// Bare share of it.
    pub share: f64,
    /// Bare area of all pieces, both faces where both are bare, m2.
    pub bare_m2: f64,
    /// Gap, m.
    pub gap: f64,
    /// Shape factor of the bath, 1/m.
    pub shape_factor: f64,
    /// Length of edge for each bare area, 1/m.
    pub edge_per_m: f64,
    /// Area of the pan that the bath's own metals take, m2.
    pub core_m2: f64,
    /// Area of the pan that the piece's metals take, m2.
    pub spread_m2: f64,
    /// Volume that what leaves the sheet stays in while nobody stirs, m3.
    pub reach_m3: f64,
}

impl Geometry {
    /// Of a job on the bench as its profile knows it.
    pub fn of(job: &Job, source: &Source) -> Self {
        Self::with(job, &bench(job, source))
    }

    /// With factors on bare share and gap.
    pub(super) fn with(job: &Job, factors: &Factors) -> Self {
        let p = &job.piece;
        // Faces that are etched, each before a plate of its own.
        let count = f64::from(p.count.is * job.bath.hung.faces());
        let outline = p.outline_m2();
        let share = (p.bare_m2() / outline * factors.bare_share).min(1.0);
        let gap = job.bath.gap.is.si() * factors.gap;
        let face = face(p);
        let slab = face.shape_factor(gap);
        let squeeze = constriction::length(p.pitch.si(), share) / (count * outline);
        let b = &job.bath;
        let landing = Landing { gap, count, wetted: b.wetted_m2() };
        let core_m2 = landing.core(slab);
        let still = (b.pan.is.area_m2() * gap).min(b.volume.is.si());
        Self {
            face,
            share,
            bare_m2: share * outline * count,
            gap,
            shape_factor: slab / count + squeeze,
            edge_per_m: factors.edge_length * walls::edge_of_lines(p.pitch.si(), share),
            core_m2,
            spread_m2: landing.spread(face.area(), face.perimeter(), core_m2),
            // From an upright face the heavy liquid runs down and away.
            reach_m3: match b.hung {
                Hung::FaceDown if !b.stirred => still,
                _ => b.volume.is.si(),
            },
        }
    }
}

fn face(p: &Piece) -> Face {
    match p.outline.is {
        Outline::Rectangle(a, b) => Face::Rectangle(a.si(), b.si()),
        Outline::Disc(d) => Face::Disc(d.si() / 2.0),
        Outline::Area(area) => Face::Rectangle(area.si().sqrt(), area.si().sqrt()),
    }
}
