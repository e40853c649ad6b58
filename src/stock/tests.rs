//! What holds for the built-in catalogues, and how a stock file lies over them.

use super::lay::{CATALOGUES, lay};
use super::*;
use crate::reader::Complaints;
use crate::units::Quantity;
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
        let told: BTreeSet<String> = table["sources"].as_table().unwrap().keys().cloned().collect();
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

fn laid(text: &str) -> Result<Stock, Complaints> {
    Stock::builtin().unwrap().with_own(text, "stock.toml")
}

#[test]
fn an_entry_stands_in_for_one_of_its_name_and_keeps_what_it_is_called() {
    let text = "[sources]\nscale = \"own measurement\"\n[[cell]]\nname = \"LR20\"\nlike = \
                \"LR20\"\ncapacity = { is = \"15 Ah\", source = \"scale\" }\n";
    let stock = laid(text).unwrap();
    let builtin = Stock::builtin().unwrap();
    assert_eq!(stock.cells.len(), builtin.cells.len());
    let cell = find(&stock.cells, "D").unwrap();
    assert!((cell.capacity.is.si() - 54_000.0).abs() < 1e-6);
    assert_eq!(cell.capacity.source, "own measurement");
    assert_eq!(cell.capacity.certainty, Certainty::Own);
    assert_eq!(cell.r0, find(&builtin.cells, "LR20").unwrap().r0);
    assert_eq!(stock.own[0].replaces.as_deref(), Some("built in"));
    // A second file over the first.
    let again = stock.with_own(text, "other.toml").unwrap();
    assert_eq!(again.own.len(), 1);
    assert_eq!(again.own[0].replaces.as_deref(), Some("from stock.toml"));
}

#[test]
fn a_name_means_the_newest_entry_alone() {
    let text = "[[metal]]\nname = \"copper\"\nlike = \"C11000\"\n";
    let stock = laid(text).unwrap();
    assert_eq!(find(&stock.metals, "copper").unwrap().name, "copper");
    assert!(!find(&stock.metals, "C11000").unwrap().is_called("copper"));
    assert_eq!(laid("").unwrap().own, []);
}

#[test]
fn a_row_without_a_source_is_refused() {
    let full = "[sources]\nscale = \"own measurement\"\n[[element]]\nsymbol = \"Ag\"\ntitle = \
                \"silver\"\nmolar_mass = { is = \"107.87 g/mol\", source = \"scale\", certainty = \
                \"read\" }\ndensity = { is = \"10.5 g/cm3\", source = \"scale\", certainty = \
                \"read\" }\nvalence = { is = 1, source = \"scale\", certainty = \"read\" }\nplates = \
                true\n";
    let read = |text: &str| lay(Stock::default(), text, "elements.toml", true);
    assert_eq!(read(full).unwrap().elements.len(), 1);
    for (there, instead) in [
        ("source = \"scale\"", ""),
        ("source = \"scale\"", "source = \"not told\""),
        ("source = \"scale\"", "source = \"\""),
        ("certainty = \"read\"", ""),
        ("certainty = \"read\"", "certainty = \"sure\""),
        ("is = 1", ""),
        ("is = 1", "is = \"1\""),
        ("is = 1", "is = nan"),
        ("\"107.87 g/mol\"", "107.87"),
        ("\"107.87 g/mol\"", "\"107.87\""),
        ("\"107.87 g/mol\"", "\"107.87 A\""),
        ("{ is = \"10.5 g/cm3\", source = \"scale\", certainty = \"read\" }", "10.5"),
        ("plates = true", ""),
        ("plates = true", "plates = true\nlike = \"Cu\""),
    ] {
        let text = full.replacen(there, instead, 1).replace(", ,", ",").replace(",  }", " }");
        assert_ne!(text, full, "{there}");
        assert!(read(&text.replace("{ ,", "{")).is_err(), "{text}");
    }
    // A stock file need not say how sure a number is, but where it is from.
    let own = "[[holder]]\nname = \"mine\"\nlike = \"single\"\ncontact = { is = \"9 mohm\", source \
               = \"own measurement\" }\n";
    assert!(laid(own).is_ok());
    assert!(laid(&own.replace(", source = \"own measurement\"", "")).is_err());
}
