//! The laws of physics that a run obeys, one a file, each with its source and units.
//!
//! All arguments and results are `f64` in coherent SI units; names carry the unit where
//! the quantity alone does not give it. Nothing here knows of jobs, stock or output.

pub mod anode;
pub mod cathode;
pub mod cell;
pub mod conductivity;
pub mod constants;
pub mod constriction;
pub mod convection;
pub mod curve;
pub mod density;
pub mod elliptic;
pub mod faraday;
pub mod slab;
pub mod two_loads;
pub mod wells;
pub mod wire;
