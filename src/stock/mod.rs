//! Stock: built-in cells, metals, baths, leads, holders, resists and what is uncertain.
//!
//! Data, not code: each catalogue is a TOML file beside this one, and every number in it
//! carries its source and how sure it is.

mod baths;
mod cells;
mod electrodes;
mod leads;
mod metals;
mod shelves;
mod sourced;
mod trade;

pub use baths::{
    Bath, CAUTIONS, Curve as BathCurve, DensityData, ElectrodeOverride, ElectrodePair, Refusal,
    Solubility,
};
pub use cells::{Cell, CutoffOn};
pub use electrodes::{AnodeData, CathodeData, Electrodes};
pub use leads::Leads;
pub use metals::{Element, Metal, Part, RefusedMetal};
pub use shelves::{Entry, KINDS, Shelf, shelves};
pub use sourced::{Certainty, Datum, Number, OF_THE_JOB, Pairs, Sourced};
pub use trade::{DefaultRow, Holder, Resist, Resists, SpreadRow, Threshold};

pub use crate::reader::{Named, find};
use serde::de::DeserializeOwned;
use std::fmt;

/// Everything in stock.
#[derive(Debug, Clone)]
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
    /// Its kind, as in [`KINDS`].
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// The file it is from, as given.
    pub file: String,
    /// The entry of that name that it stands in for, if any, by where that was from.
    pub replaces: Option<String>,
}

/// A fault in a catalogue: which, and what.
#[derive(Debug)]
pub struct StockError {
    catalogue: &'static str,
    fault: String,
}

impl fmt::Display for StockError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the built-in catalogue {}.toml: {}", self.catalogue, self.fault)
    }
}

impl std::error::Error for StockError {}

/// The catalogues as shipped, by name.
pub const CATALOGUES: [(&str, &str); 11] = [
    ("elements", include_str!("elements.toml")),
    ("metals", include_str!("metals.toml")),
    ("electrodes", include_str!("electrodes.toml")),
    ("baths", include_str!("baths.toml")),
    ("cells", include_str!("cells.toml")),
    ("leads", include_str!("leads.toml")),
    ("holders", include_str!("holders.toml")),
    ("resists", include_str!("resists.toml")),
    ("spread", include_str!("spread.toml")),
    ("touch", include_str!("touch.toml")),
    ("defaults", include_str!("defaults.toml")),
];

impl Stock {
    /// Reads the built-in catalogues.
    ///
    /// # Errors
    /// When a catalogue does not hold together; a test keeps that from being shipped.
    pub fn builtin() -> Result<Self, StockError> {
        let metals: metals::Catalogue = load("metals")?;
        let elements: metals::ElementCatalogue = load("elements")?;
        let baths: baths::Catalogue = load("baths")?;
        let cells: cells::Catalogue = load("cells")?;
        let holders: trade::HolderCatalogue = load("holders")?;
        let spread: trade::SpreadCatalogue = load("spread")?;
        let touch: trade::TouchCatalogue = load("touch")?;
        let defaults: trade::DefaultCatalogue = load("defaults")?;
        Ok(Self {
            elements: elements.element,
            metals: metals.metal,
            refused: metals.refused,
            electrodes: load("electrodes")?,
            baths: baths.bath,
            cells: cells.cell,
            leads: load("leads")?,
            holders: holders.holder,
            resists: load("resists")?,
            spreads: spread.spread,
            touch: touch.threshold,
            defaults: defaults.default,
            own: Vec::new(),
        })
    }

    /// The element with this symbol.
    pub fn element(&self, symbol: &str) -> Option<&Element> {
        self.elements.iter().find(|e| e.symbol == symbol)
    }
}

/// Parses one catalogue, the text of its source put to every number.
fn load<T: DeserializeOwned>(catalogue: &'static str) -> Result<T, StockError> {
    let wrong = |fault: String| StockError { catalogue, fault };
    let text = CATALOGUES.iter().find(|(name, _)| *name == catalogue).map_or("", |(_, text)| text);
    let mut table: toml::Table = toml::from_str(text).map_err(|e| wrong(e.to_string()))?;
    let sources = match table.remove("sources") {
        Some(toml::Value::Table(sources)) => sources,
        _ => return Err(wrong("no table [sources]".into())),
    };
    for value in table.iter_mut().map(|(_, value)| value) {
        tell_sources(value, &sources).map_err(wrong)?;
    }
    T::deserialize(toml::Value::Table(table)).map_err(|e| wrong(e.to_string()))
}

/// Puts the text of a source where its key stands.
fn tell_sources(value: &mut toml::Value, sources: &toml::Table) -> Result<(), String> {
    match value {
        toml::Value::Table(table) => {
            for (key, value) in table.iter_mut() {
                match value {
                    toml::Value::String(source) if key == "source" => {
                        let told = sources.get(source.as_str()).and_then(toml::Value::as_str);
                        *source = told.ok_or(format!("the source {source} is not told"))?.into();
                    }
                    other => tell_sources(other, sources)?,
                }
            }
            Ok(())
        }
        toml::Value::Array(list) => list.iter_mut().try_for_each(|v| tell_sources(v, sources)),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// Walks every inline table that holds a number.
    fn numbers(value: &toml::Value, path: &str, seen: &mut Vec<(String, toml::Table)>) {
        match value {
            toml::Value::Table(t) if t.contains_key("is") => {
                seen.push((path.to_string(), t.clone()));
            }
            toml::Value::Table(t) => {
                for (key, v) in t {
                    numbers(v, &format!("{path}.{key}"), seen);
                }
            }
            toml::Value::Array(list) => {
                for (i, v) in list.iter().enumerate() {
                    numbers(v, &format!("{path}[{i}]"), seen);
                }
            }
            toml::Value::Integer(_) | toml::Value::Float(_) => {
                panic!("{path}: a number without a source");
            }
            _ => {}
        }
    }

    #[test]
    fn every_number_has_a_source_that_is_told() {
        for (name, text) in CATALOGUES {
            let table: toml::Table = toml::from_str(text).unwrap();
            let told: BTreeSet<String> =
                table["sources"].as_table().unwrap().keys().cloned().collect();
            let mut seen = Vec::new();
            for (key, value) in table.iter().filter(|(k, _)| *k != "sources") {
                numbers(value, key, &mut seen);
            }
            assert!(!seen.is_empty(), "{name}");
            let mut used = BTreeSet::new();
            for (path, number) in &seen {
                let source = number["source"].as_str().unwrap();
                assert!(told.contains(source), "{name}.{path}: source {source} is not told");
                used.insert(source.to_string());
            }
            assert_eq!(used, told, "{name}: sources told but not used");
        }
    }

    #[test]
    fn the_stock_holds_what_is_promised() {
        let stock = Stock::builtin().unwrap();
        for cell in [
            "LR03",
            "LR6",
            "LR14",
            "LR20",
            "R20",
            "6LR61",
            "HR6",
            "HR14",
            "HR20",
            "ICR18650",
            "INR18650",
            "IFR18650",
            "INR21700",
            "SLA-6V-4Ah",
            "SLA-12V-7Ah",
            "lr6",
        ] {
            assert!(find(&stock.cells, cell).is_some(), "{cell}");
        }
        for metal in [
            "fine silver",
            "sterling",
            "silver 935",
            "silver 940",
            "silver 960",
            "copper",
            "C11000",
            "brass",
            "C26000",
            "C23000",
            "nickel silver",
            "C75200",
            "Sterling",
        ] {
            assert!(find(&stock.metals, metal).is_some(), "{metal}");
        }
        for bath in [
            "copper nitrate",
            "copper sulphate",
            "copper sulfate",
            "acid copper sulphate",
            "Acid Copper Sulfate",
            "sodium nitrate",
            "brine",
        ] {
            assert!(find(&stock.baths, bath).is_some(), "{bath}");
        }
        for holder in ["single", "open tray", "closed box"] {
            assert!(find(&stock.holders, holder).is_some(), "{holder}");
        }
    }

    #[test]
    fn names_mean_one_thing_only() {
        fn check<T: Named>(list: &[T]) {
            let mut seen = BTreeSet::new();
            for entry in list {
                for name in entry.aliases().iter().map(String::as_str).chain([entry.name()]) {
                    assert!(seen.insert(name.to_lowercase()), "{name} twice");
                }
            }
        }
        let stock = Stock::builtin().unwrap();
        check(&stock.cells);
        check(&stock.metals);
        check(&stock.baths);
        check(&stock.holders);
        check(&stock.resists.resist);
    }
}
