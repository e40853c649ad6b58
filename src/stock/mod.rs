//! Stock: built-in cells, metals, baths, leads, holders, resists and what is uncertain.
//!
//! Data, not code: each catalogue is a TOML file beside this one, and every number in it
//! carries its source and how sure it is. A key is written down once, as a row of its table
//! (`rows.rs`); by these rows catalogues and the user's own stock files are read alike
//! (`lay.rs`), and by them the stock is shown (`shelves.rs`).

mod all;
mod baths;
mod cells;
mod electrodes;
mod entries;
mod lay;
mod leads;
mod metals;
mod numbers;
mod rows;
mod shelves;
mod sourced;
#[cfg(test)]
mod tests;
mod trade;
pub mod weighed;

pub use crate::reader::{Named, find};
pub use all::{Own, Stock};
pub use baths::{
    Bath, CAUTIONS, Curve as BathCurve, DensityData, ElectrodeOverride, ElectrodePair, Refusal,
    Solubility,
};
pub use cells::Cell;
pub use electrodes::{AnodeData, CathodeData, Electrodes, HydrogenData};
pub use entries::own_cell;
pub use leads::Leads;
pub use metals::{Element, Metal, Part, RefusedMetal};
pub use shelves::{Entry, KINDS, Shelf, shelves};
pub use sourced::{Certainty, Number, OF_THE_JOB, Pairs, Sourced};
pub use trade::{DefaultRow, Holder, Resist, Resists, SpreadRow, Threshold};
