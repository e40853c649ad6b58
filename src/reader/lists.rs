//! Reads lists: of texts, of numbers, of tables.

use super::table::{At, Reader, verdict};
use super::tree::{Item, Node, Table};

impl<'t> Reader<'t> {
    /// A list of texts, at least one.
    pub fn texts(&mut self, key: &str, allowed: &str) -> Option<Vec<At<String>>> {
        let item = self.item(key)?;
        let list = match &item.node {
            Node::List(list) if !list.is_empty() => list,
            other => return self.wrong(key, other.kind(), allowed),
        };
        let mut out = Vec::new();
        for entry in list {
            match &entry.node {
                Node::Text(text) => out.push(self.at(key, entry, text.clone())),
                other => {
                    self.complain_at(&entry.place, key, verdict(&other.kind(), allowed));
                }
            }
        }
        Some(out)
    }

    /// A list of pairs of plain numbers.
    pub fn pairs(&mut self, key: &str, allowed: &str) -> Option<At<Vec<[f64; 2]>>> {
        let item = self.item(key)?;
        let pair = |i: &Item| match &i.node {
            Node::List(two) if two.len() == 2 => Some([number(&two[0])?, number(&two[1])?]),
            _ => None,
        };
        let Node::List(list) = &item.node else {
            return self.wrong(key, item.node.kind(), allowed);
        };
        if let Some(bad) = list.iter().find(|i| pair(i).is_none()) {
            let found = format!("{} where two plain numbers belong", bad.node.kind());
            self.complain_at(&bad.place, key, verdict(&found, allowed));
            return None;
        }
        Some(self.at(key, item, list.iter().filter_map(pair).collect()))
    }

    /// A list of plain numbers, each from `low` to `high`; it may be empty.
    pub fn numbers(&mut self, key: &str, low: f64, high: f64) -> Option<At<Vec<f64>>> {
        let item = self.item(key)?;
        let allowed = format!("a list of numbers from {low} to {high}, in [ ]");
        let Node::List(list) = &item.node else {
            return self.wrong(key, item.node.kind(), allowed);
        };
        let inside = |i: &Item| number(i).filter(|x| (low..=high).contains(x));
        if let Some(bad) = list.iter().find(|i| inside(i).is_none()) {
            self.complain_at(&bad.place, key, verdict(&bad.node.kind(), &allowed));
            return None;
        }
        Some(self.at(key, item, list.iter().filter_map(inside).collect()))
    }

    /// Readers of a table, or of every table of a list.
    pub fn tables(&mut self, key: &str) -> Vec<Reader<'t>> {
        let allowed = format!("a table [{0}], or [[{0}]] several times", self.full(key));
        match self.item(key).map(|item| (&item.node, item)) {
            None => Vec::new(),
            Some((Node::Table(table), item)) => vec![self.beside(table, item, key)],
            Some((Node::List(list), _)) => {
                let mut readers = Vec::new();
                for entry in list {
                    match &entry.node {
                        Node::Table(table) => readers.push(self.beside(table, entry, key)),
                        other => {
                            let text = format!("found {}; allowed: {allowed}", other.kind());
                            self.ledger.add(&entry.place, self.full(key), text);
                        }
                    }
                }
                readers
            }
            Some((other, _)) => {
                self.complain(key, format!("found {}; allowed: {allowed}", other.kind()));
                Vec::new()
            }
        }
    }

    /// A reader of a table that stands in a list under `key`.
    pub fn beside(&self, table: &'t Table, item: &'t Item, key: &str) -> Reader<'t> {
        Reader::new(table, item.place.clone(), &self.full(key), self.ledger)
    }
}

/// A plain number.
fn number(item: &Item) -> Option<f64> {
    match item.node {
        Node::Whole(n) => Some(n as f64),
        Node::Float(x) => Some(x).filter(|x| x.is_finite()),
        _ => None,
    }
}
