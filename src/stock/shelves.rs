//! The stock as it is shown: shelves of entries, each with its data as plain values in which
//! every number keeps its unit, source and certainty.

use super::{Certainty, Named, Sourced, Stock};
use crate::units::{Length, ResistancePerLength};
use serde::Serialize;
use serde_json::{Value, json};

/// The kinds, in the order in which they are shown: the name, and what is on the shelf.
pub const KINDS: [(&str, &str); 11] = [
    ("cells", "single cells, and blocks counted as one; resistances of a fresh one at 25 degC"),
    ("metals", "sheet metals"),
    ("baths", "electrolytes"),
    ("wires", "wires by gauge and by nominal section, and the clip at their ends"),
    ("resists", "what covers the sheet, and what it bears"),
    ("holders", "what holds the cells"),
    ("touch", "how warm a surface may be that one holds so long"),
    ("elements", "elements that alloys and baths are made of"),
    ("electrodes", "how metal leaves the sheet and comes to the pan, against the hydrogen scale"),
    ("spread", "one standard deviation of each input, unless a job's [spread] says otherwise"),
    ("defaults", "what holds where a job says nothing"),
];

/// The entries of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf {
    /// Name of the kind.
    pub kind: &'static str,
    /// What it holds.
    pub title: &'static str,
    /// In the order of the catalogue.
    pub entries: Vec<Entry>,
}

/// One entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Name.
    pub name: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// The user's file that it is from; none for a built-in one.
    pub file: Option<String>,
    /// Where the entry was from that it stands in for.
    pub replaces: Option<String>,
    /// Everything else; a number is an object of value, unit, source and certainty.
    pub data: Value,
}

impl Entry {
    fn new(name: &str, aliases: &[String], data: &impl Serialize) -> Self {
        // Plain structs of texts and numbers always make a value.
        let mut data = serde_json::to_value(data).unwrap_or(Value::Null);
        if let Some(map) = data.as_object_mut() {
            for key in ["name", "aliases", "symbol", "species", "key"] {
                map.shift_remove(key);
            }
        }
        name_units(&mut data);
        Self { name: name.into(), aliases: aliases.into(), file: None, replaces: None, data }
    }

    fn named<T: Named + Serialize>(entry: &T) -> Self {
        Self::new(entry.name(), entry.aliases(), entry)
    }

    /// Whether a text means this entry; upper and lower case alike, and blanks left aside.
    pub fn is_called(&self, text: &str) -> bool {
        let plain = |t: &str| t.to_lowercase().replace(char::is_whitespace, "");
        let text = plain(text);
        plain(&self.name) == text || self.aliases.iter().any(|a| plain(a) == text)
    }
}

/// Units of plain numbers, which a catalogue has in the name of the key.
const IN_KEY: [(&str, &str); 6] = [
    ("m_max_mol_per_kg", "mol/kg"),
    ("lowest_mol_per_kg", "mol/kg"),
    ("highest_mol_per_kg", "mol/kg"),
    ("kappa_max_ms_per_cm", "mS/cm"),
    ("points_mol_per_l_ms_per_cm", "mol/L, mS/cm"),
    ("ocv_curve_v", "1, V"),
];

fn name_units(value: &mut Value) {
    match value {
        Value::Object(map) => {
            for (key, value) in map.iter_mut() {
                match IN_KEY.iter().find(|(k, _)| k == key) {
                    Some((_, unit)) => value["unit"] = json!(unit),
                    None => name_units(value),
                }
            }
        }
        Value::Array(list) => list.iter_mut().for_each(name_units),
        _ => {}
    }
}

/// All shelves, in the order of [`KINDS`].
pub fn shelves(stock: &Stock) -> Vec<Shelf> {
    KINDS
        .iter()
        .map(|(kind, title)| {
            let mut entries = entries(stock, kind);
            for own in stock.own.iter().filter(|own| own.kind == *kind) {
                for entry in entries.iter_mut().filter(|e| e.name == own.name) {
                    entry.file = Some(own.file.clone());
                    entry.replaces.clone_from(&own.replaces);
                }
            }
            Shelf { kind, title, entries }
        })
        .collect()
}

fn entries(stock: &Stock, kind: &str) -> Vec<Entry> {
    fn all<T: Named + Serialize>(list: &[T]) -> Vec<Entry> {
        list.iter().map(Entry::named).collect()
    }
    let plain = |name: &str, data: Value| Entry::new(name, &[], &data);
    match kind {
        "cells" => all(&stock.cells),
        "metals" => {
            let mut list = all(&stock.metals);
            list.extend(all(&stock.refused));
            list
        }
        "baths" => all(&stock.baths),
        "wires" => wires(stock),
        "resists" => {
            let mut list = all(&stock.resists.resist);
            list.push(Entry::new("no resist named", &[], &stock.resists.default));
            list
        }
        "holders" => all(&stock.holders),
        "touch" => {
            let name = |t: &super::Threshold| crate::units::say::time(t.contact_s());
            stock.touch.iter().map(|t| Entry::new(&name(t), &[], t)).collect()
        }
        "elements" => stock.elements.iter().map(|e| Entry::new(&e.symbol, &[], e)).collect(),
        "electrodes" => {
            let e = &stock.electrodes;
            let at = |side: &str, a: &super::AnodeData| {
                Entry::new(&format!("{} {side}", a.species), &[], a)
            };
            let mut list: Vec<Entry> = e.anode.iter().map(|a| at("at the sheet", a)).collect();
            list.extend(e.cathode.iter().map(|c| at("at the pan", c)));
            list.push(Entry::new("hydrogen at the pan", &[], &e.hydrogen));
            list
        }
        "spread" => stock.spreads.iter().map(|s| Entry::new(&s.key, &[], s)).collect(),
        _ => stock.defaults.iter().map(|d| plain(&d.key, json!(d))).collect(),
    }
}

/// One wire of stock.
#[derive(Debug, Clone, Serialize)]
pub(super) struct WireRow {
    #[serde(skip)]
    pub name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter: Option<Sourced<Length>>,
    pub r20: Sourced<ResistancePerLength>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outer_diameter: Option<Sourced<Length>>,
}

fn wires(stock: &Stock) -> Vec<Entry> {
    let row = |w: &WireRow| {
        let turned = w.name.strip_prefix("AWG ").map(|n| format!("{n} AWG"));
        Entry::new(&w.name, turned.as_slice(), w)
    };
    let leads = &stock.leads;
    let mut list: Vec<Entry> = leads.rows().iter().map(row).collect();
    list.push(Entry::new("clip", &[], &leads.clip));
    list.push(Entry::new("conductor", &[], &leads.conductor));
    list.push(Entry::new("insulation", &[], &leads.insulation));
    list
}

/// A number worked out here from others.
pub(super) fn computed<T>(is: T, source: String) -> Sourced<T> {
    Sourced { is, source, certainty: Certainty::Computed }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_entry_stands_on_one_shelf_and_its_numbers_keep_their_source() {
        fn check(value: &Value, path: &str, numbers: &mut usize) {
            match value {
                Value::Object(map) if map.contains_key("certainty") => {
                    *numbers += 1;
                    assert!(!map["value"].is_null(), "{path}");
                    assert!(map["source"].as_str().unwrap().len() > 8, "{path}: {}", map["source"]);
                }
                Value::Object(map) => {
                    map.iter().for_each(|(k, v)| check(v, &format!("{path}.{k}"), numbers));
                }
                Value::Array(list) => list.iter().for_each(|v| check(v, path, numbers)),
                Value::Number(n) => panic!("{path}: {n} without a source"),
                _ => {}
            }
        }
        let all = shelves(&Stock::builtin().unwrap());
        assert_eq!(all.len(), KINDS.len());
        let mut numbers = 0;
        for shelf in &all {
            assert!(!shelf.entries.is_empty(), "{}", shelf.kind);
            for entry in &shelf.entries {
                check(&entry.data, &entry.name, &mut numbers);
            }
        }
        assert!(numbers > 500, "{numbers}");
        // LR6 as its catalogue has it: 2.595 Ah.
        let lr6 = all[0].entries.iter().find(|e| e.is_called("lr6")).unwrap();
        assert_eq!(lr6.data["capacity"]["value"], json!(2.595));
        assert_eq!(lr6.data["capacity"]["unit"], "Ah");
        assert_eq!(lr6.data["max_temperature"]["value"], json!(54.0));
        let wire = all[3].entries.iter().find(|e| e.is_called("20awg")).unwrap();
        // NBS Handbook 100 (from memory): AWG 20 is 10.15 ohm/1000 ft, 33.30 ohm/km.
        let ohm = wire.data["r20"]["value"].as_f64().unwrap();
        assert!((ohm / 33.30 - 1.0).abs() < 1e-3, "{ohm}");
    }
}
