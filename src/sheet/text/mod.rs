//! Pages on a terminal, one file a verb.

pub mod charge;
pub mod compare;
pub mod day;
pub mod learn;
mod page;
pub mod plan;
pub mod rest;
pub mod size;
pub mod stock;
