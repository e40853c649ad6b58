//! The stock as it is shown: shelves of entries, each with its data as plain values in which
//! every number keeps its unit, source and certainty.

use super::all::Stock;
use super::rows::{self, Rows, Words};
use crate::reader::Named;
use serde_json::Value;

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
    words: Words,
}

impl Entry {
    fn new<T: Rows>(name: &str, aliases: &[String], table: &T) -> Self {
        let mut words = Words::new();
        let mut data = rows::shown(&mut table.clone(), "", &mut words);
        for key in ["symbol", "species", "key"] {
            data.shift_remove(key);
        }
        let data = Value::Object(data);
        Self { name: name.into(), aliases: aliases.into(), file: None, replaces: None, data, words }
    }

    /// What a key of a number means, by its full name; nothing where it speaks for itself.
    pub fn words(&self, path: &str) -> &'static str {
        self.words.iter().find(|(name, _)| name == path).map_or("", |(_, words)| words)
    }

    /// Whether a text means this entry; upper and lower case alike, and blanks left aside.
    pub fn is_called(&self, text: &str) -> bool {
        let plain = |t: &str| t.to_lowercase().replace(char::is_whitespace, "");
        let text = plain(text);
        plain(&self.name) == text || self.aliases.iter().any(|a| plain(a) == text)
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
    fn named<T: Named + Rows>(list: &[T]) -> Vec<Entry> {
        list.iter().map(|e| Entry::new(e.name(), e.aliases(), e)).collect()
    }
    fn by<T: Rows>(list: &[T], name: impl Fn(&T) -> String) -> Vec<Entry> {
        list.iter().map(|e| Entry::new(&name(e), &[], e)).collect()
    }
    match kind {
        "cells" => named(&stock.cells),
        "metals" => [named(&stock.metals), named(&stock.refused)].concat(),
        "baths" => named(&stock.baths),
        "wires" => {
            let leads = &stock.leads;
            let mut list = named(&leads.rows());
            list.push(Entry::new("clip", &[], &leads.clip));
            list.push(Entry::new("conductor", &[], &leads.conductor));
            list.push(Entry::new("insulation", &[], &leads.insulation));
            list
        }
        "resists" => {
            let mut list = named(&stock.resists.resist);
            list.push(Entry::new("no resist named", &[], &stock.resists.default));
            list
        }
        "holders" => named(&stock.holders),
        "touch" => by(&stock.touch, |t| crate::units::say::time(t.contact_s())),
        "elements" => by(&stock.elements, |e| e.symbol.clone()),
        "electrodes" => {
            let e = &stock.electrodes;
            let mut list = by(&e.anode, |a| format!("{} at the sheet", a.species));
            list.extend(by(&e.cathode, |c| format!("{} at the pan", c.species)));
            list.push(Entry::new("hydrogen at the pan", &[], &e.hydrogen));
            list.push(Entry::new("silver on the pan", &[], &e.pan));
            list
        }
        "spread" => by(&stock.spreads, |s| s.key.clone()),
        _ => by(&stock.defaults, |d| d.key.clone()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn every_entry_stands_on_one_shelf_and_its_numbers_keep_their_source() {
        fn check(value: &Value, path: &str, numbers: &mut Vec<String>) {
            match value {
                Value::Object(map) if map.contains_key("certainty") => {
                    numbers.push(path.trim_start_matches('.').trim_end_matches(".share").into());
                    assert!(!map["value"].is_null(), "{path}");
                    assert!(map["source"].as_str().unwrap().len() > 8, "{path}: {}", map["source"]);
                }
                Value::Object(map) => {
                    map.iter().for_each(|(k, v)| check(v, &format!("{path}.{k}"), numbers));
                }
                Value::Array(list) => list.iter().for_each(|v| check(v, path, numbers)),
                Value::Number(n) => panic!("{path}: {n} without a source"),
                Value::String(text) => assert!(!text.is_empty(), "{path}"),
                _ => {}
            }
        }
        let all = shelves(&Stock::builtin().unwrap());
        assert_eq!(all.len(), KINDS.len());
        let mut count = 0;
        for shelf in &all {
            assert!(!shelf.entries.is_empty(), "{}", shelf.kind);
            for entry in &shelf.entries {
                let mut numbers = Vec::new();
                check(&entry.data, "", &mut numbers);
                count += numbers.len();
                let untold = numbers.iter().find(|path| entry.words(path).is_empty());
                let own = |path: &&String| path.as_str() != "value"; // the title says it
                assert_eq!(untold.filter(own), None, "{}: a key without words", entry.name);
            }
        }
        assert!(count > 500, "{count}");
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
