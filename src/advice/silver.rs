//! Where the silver goes: into the bath, or onto the pan and into sludge.

use crate::run::{Run, Setup};

/// Silver at the end of a run, from the dissolved concentrations before and after.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Silver {
    /// Dissolved in the bath, with what was there before, kg.
    pub bath_kg: f64,
    /// Plated or fallen as powder, kg.
    pub pan_kg: f64,
}

/// None where the piece holds no silver.
pub fn silver(setup: &Setup, run: &Run) -> Option<Silver> {
    let (_, part) = setup.piece.parts.iter().find(|(symbol, _)| symbol == "Ag")?;
    let (_, removed) = run.removed_kg.iter().find(|(symbol, _)| symbol == "Ag")?;
    let index = setup.bath.plating.iter().position(|m| m.symbol == "Ag")?;
    let mass = |c: f64| c * setup.bath.volume * part.molar_mass;
    let bath_kg = mass(run.extremes.metals_end[index]);
    let before = mass(setup.bath.plating[index].c0);
    Some(Silver { bath_kg, pan_kg: (before + removed - bath_kg).max(0.0) })
}
