//! The laws of physics that a run obeys, one a file, each with its source and units.
//!
//! All arguments and results are `f64` in coherent SI units; names carry the unit where
//! the quantity alone does not give it. Nothing here knows of jobs, stock or output.

pub mod anode;
pub mod brine;
pub mod cathode;
pub mod cell;
pub mod conductivity;
pub mod constants;
pub mod constriction;
pub mod convection;
pub mod core_area;
pub mod curve;
pub mod density;
pub mod elliptic;
pub mod ends;
pub mod faraday;
pub mod film;
pub mod free_convection;
pub mod loose;
pub mod oxygen;
pub mod range;
pub mod ranges;
pub mod rest_fall;
pub mod slab;
pub mod two_loads;
pub mod walls;
pub mod wells;
pub mod wire;
