//! Everything in stock, and whose it is.

use super::baths::Bath;
use super::cells::Cell;
use super::electrodes::Electrodes;
use super::leads::Leads;
use super::metals::{Element, Metal, RefusedMetal};
use super::trade::{DefaultRow, Holder, Resists, SpreadRow, Threshold};

/// Everything in stock.
#[derive(Debug, Clone, Default)]
pub struct Stock {
    /// Chemical elements.
    pub elements: Vec<Element>,
    /// Sheet metals.
    pub metals: Vec<Metal>,
    /// Metals refused by name.
    pub refused: Vec<RefusedMetal>,
    /// Electrode kinetics.
    pub electrodes: Electrodes,
    /// Baths.
    pub baths: Vec<Bath>,
    /// Cells.
    pub cells: Vec<Cell>,
    /// Wires and clips.
    pub leads: Leads,
    /// Holders.
    pub holders: Vec<Holder>,
    /// Resists.
    pub resists: Resists,
    /// How uncertain each input is unless the job says.
    pub spreads: Vec<SpreadRow>,
    /// How warm a surface may be that one holds.
    pub touch: Vec<Threshold>,
    /// What holds where a job says nothing.
    pub defaults: Vec<DefaultRow>,
    /// Which entries are the user's own.
    pub own: Vec<Own>,
}

/// An entry of the user's own, from a stock file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Own {
    /// Its kind, as in [`super::KINDS`].
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// The file it is from, as given.
    pub file: String,
    /// The entry of that name that it stands in for, if any, by where that was from.
    pub replaces: Option<String>,
}

impl Stock {
    /// Whether a cell is the user's own, from a stock file.
    pub fn is_own(&self, cell: &str) -> bool {
        self.own.iter().any(|own| own.kind == "cells" && own.name == cell)
    }

    /// The element with this symbol.
    pub fn element(&self, symbol: &str) -> Option<&Element> {
        self.elements.iter().find(|e| e.symbol == symbol)
    }
}
