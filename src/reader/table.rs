//! Reads one table of a job, key by key, and complains of what is not right.
//!
//! Reading a key makes it known; what was never asked for is unknown, and gets the
//! nearest known key as a suggestion.

use super::complaint::{Ledger, Place};
use super::named::{Named, find};
use super::suggest::{nearest, quoted};
use super::tree::{Item, Node, Table};
use crate::units::{Misread, Quantity, parse, short};
use std::cell::RefCell;

/// A value and where it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct At<T> {
    /// The value.
    pub is: T,
    /// Where.
    pub place: Place,
    /// Its full key.
    pub key: String,
}

impl<T> At<T> {
    /// Another value, read from this place.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> At<U> {
        At { is: f(self.is), place: self.place, key: self.key }
    }
}

/// A reader of one table.
pub struct Reader<'t> {
    table: &'t Table,
    pub(super) ledger: &'t Ledger,
    /// Complaints before this table was read.
    before: usize,
    /// Where the table starts.
    pub place: Place,
    path: String,
    known: Vec<String>,
    /// Keys that are complained of elsewhere, and not to be suggested.
    elsewhere: Vec<String>,
    /// Keys that are missing, and what they take.
    missing: RefCell<Vec<(String, String)>>,
}

impl<'t> Reader<'t> {
    /// Over a table; `path` is empty for the whole job.
    pub fn new(table: &'t Table, place: Place, path: &str, ledger: &'t Ledger) -> Self {
        Self {
            table,
            ledger,
            before: ledger.len(),
            place,
            path: path.into(),
            known: Vec::new(),
            elsewhere: Vec::new(),
            missing: RefCell::default(),
        }
    }

    /// The full name of a key here.
    pub fn full(&self, key: &str) -> String {
        match (self.path.as_str(), key) {
            ("", key) => key.into(),
            (path, "") => path.into(),
            (path, key) => format!("{path}.{key}"),
        }
    }

    /// Whether a key was asked for.
    pub fn knows(&self, key: &str) -> bool {
        self.known.iter().any(|k| k == key)
    }

    /// Whether nothing was complained of since this table was begun.
    pub fn content(&self) -> bool {
        self.ledger.len() == self.before
    }

    /// Whether a key is there; does not make it known.
    pub fn has(&self, key: &str) -> bool {
        self.table.get(key).is_some()
    }

    /// Complains of a key, at its value or, failing that, at the table.
    pub fn complain(&self, key: &str, text: impl Into<String>) {
        let place = self.table.get(key).map_or(&self.place, |item| &item.place);
        self.ledger.add(place, self.full(key), text);
    }

    /// Complains of one entry of a list or table.
    pub fn complain_at(&self, place: &Place, key: &str, text: impl Into<String>) {
        self.ledger.add(place, self.full(key), text);
    }

    /// Complains, in the end, that a key is missing, unless it is there misspelt; `what`
    /// says what it takes.
    pub fn missing(&self, key: &str, what: &str) {
        self.missing.borrow_mut().push((key.into(), what.into()));
    }

    /// Complains of a key that must be there and is not.
    pub fn require(&self, key: &str, what: &str) {
        if !self.has(key) {
            self.missing(key, what);
        }
    }

    /// Makes a key known and gives its value.
    pub fn item(&mut self, key: &str) -> Option<&'t Item> {
        self.acknowledge(&[key]);
        self.table.get(key)
    }

    /// Makes keys known.
    pub fn acknowledge(&mut self, keys: &[&str]) {
        for key in keys {
            if !self.known.iter().any(|k| k == key) {
                self.known.push((*key).into());
            }
        }
    }

    /// Leaves keys to whoever complains of them otherwise.
    pub fn leave(&mut self, keys: &[&str]) {
        self.elsewhere.extend(keys.iter().map(|k| (*k).to_string()));
    }

    pub(super) fn at<T>(&self, key: &str, item: &Item, is: T) -> At<T> {
        At { is, place: item.place.clone(), key: self.full(key) }
    }

    pub(super) fn wrong<T>(
        &self,
        key: &str,
        found: impl AsRef<str>,
        allowed: impl AsRef<str>,
    ) -> Option<T> {
        self.complain(key, verdict(found.as_ref(), allowed.as_ref()));
        None
    }

    /// A text.
    pub fn text(&mut self, key: &str, allowed: &str) -> Option<At<String>> {
        let item = self.item(key)?;
        match &item.node {
            Node::Text(text) if !text.trim().is_empty() => Some(self.at(key, item, text.clone())),
            Node::Text(_) => self.wrong(key, "an empty text", allowed),
            other => self.wrong(key, other.kind(), allowed),
        }
    }

    /// A text read by a function of its own.
    pub fn written<T>(
        &mut self,
        key: &str,
        allowed: &str,
        read: impl Fn(&str) -> Result<T, Misread>,
    ) -> Option<At<T>> {
        let item = self.item(key)?;
        let Node::Text(text) = &item.node else {
            return self.wrong(key, item.node.kind(), allowed);
        };
        self.taken(key, item, read(text))
    }

    fn taken<T>(&self, key: &str, item: &Item, read: Result<T, Misread>) -> Option<At<T>> {
        match read {
            Ok(is) => Some(self.at(key, item, is)),
            Err(e) => self.wrong(key, e.found, e.allowed),
        }
    }

    /// A date or a time of day read by a function of its own; TOML lets it stand without quotes.
    pub fn dated<T>(
        &mut self,
        key: &str,
        allowed: &str,
        read: impl Fn(&str) -> Result<T, Misread>,
    ) -> Option<At<T>> {
        match self.item(key).map(|item| (item, &item.node)) {
            Some((item, Node::Date(text))) => self.taken(key, item, read(text)),
            _ => self.written(key, allowed, read),
        }
    }

    /// A name in stock.
    pub fn named<'s, T: Named>(
        &mut self,
        key: &str,
        list: &'s [T],
        allowed: &str,
    ) -> Option<&'s T> {
        let text = self.text(key, allowed)?;
        self.lookup(&text, list, allowed)
    }

    /// What a text names in stock; complains of one that is not.
    pub fn lookup<'s, T: Named>(
        &self,
        text: &At<String>,
        list: &'s [T],
        allowed: &str,
    ) -> Option<&'s T> {
        let found = find(list, &text.is);
        if found.is_none() {
            let all =
                list.iter().flat_map(|x| x.aliases().iter().map(String::as_str).chain([x.name()]));
            let hint = nearest(&text.is, all).map(|n| format!("did you mean \"{n}\"? "));
            let hint = hint.unwrap_or_default();
            let text_is = short(&text.is);
            self.ledger.add(
                &text.place,
                text.key.clone(),
                format!("\"{text_is}\" is not in stock; {hint}allowed: {allowed}"),
            );
        }
        found
    }

    /// A quantity from `low` to `high`, both written as in a job.
    pub fn quantity<Q: Quantity>(&mut self, key: &str, low: &str, high: &str) -> Option<At<Q>> {
        let allowed = Q::KIND.allowed();
        let got = self.written(key, &allowed, parse::<Q>)?;
        self.within(key, got, low, high, |q| q)
    }

    /// Checks that a quantity lies from `low` to `high`.
    pub fn within<T, Q: Quantity>(
        &self,
        key: &str,
        got: At<T>,
        low: &str,
        high: &str,
        of: impl Fn(T) -> Q,
    ) -> Option<At<T>>
    where
        T: Copy,
    {
        let si = of(got.is).si();
        // The ends are ours and do parse; were they not to, nothing would be refused.
        let end = |text: &str, otherwise: f64| parse::<Q>(text).map_or(otherwise, Quantity::si);
        // One part in 1e9: "20 mm" is not over 20 mm for its last binary digit.
        let slack = 1e-9 * si.abs();
        let inside =
            si >= end(low, f64::NEG_INFINITY) - slack && si <= end(high, f64::INFINITY) + slack;
        if inside {
            return Some(got);
        }
        let found = match self.table.get(key).map(|i| &i.node) {
            Some(node) => node.kind(),
            None => "a value out of range".into(),
        };
        self.wrong(key, found, format!("{low} to {high}"))
    }

    /// A whole number.
    pub fn whole(&mut self, key: &str, low: i64, high: i64) -> Option<At<u32>> {
        let item = self.item(key)?;
        let allowed = format!("a whole number from {low} to {high}, without quotes");
        match &item.node {
            Node::Whole(n) if (low..=high).contains(n) => {
                u32::try_from(*n).ok().map(|n| self.at(key, item, n))
            }
            Node::Whole(n) => self.wrong(key, n.to_string(), allowed),
            Node::Float(x) => self.wrong(key, format!("{x:?}"), allowed),
            other => self.wrong(key, other.kind(), allowed),
        }
    }

    /// A plain number.
    pub fn number(&mut self, key: &str, low: f64, high: f64) -> Option<At<f64>> {
        let item = self.item(key)?;
        let allowed = format!("a number from {low} to {high}, without quotes or unit");
        let value = match &item.node {
            Node::Whole(n) => *n as f64,
            Node::Float(x) => *x,
            other => return self.wrong(key, other.kind(), allowed),
        };
        if value >= low && value <= high {
            return Some(self.at(key, item, value));
        }
        self.wrong(key, format!("{value:?}"), allowed)
    }

    /// true or false.
    pub fn flag(&mut self, key: &str) -> Option<At<bool>> {
        let item = self.item(key)?;
        match &item.node {
            Node::Flag(b) => Some(self.at(key, item, *b)),
            other => self.wrong(key, other.kind(), "true or false, without quotes"),
        }
    }

    /// A table within, as a reader of its own.
    pub fn sub(&mut self, key: &str) -> Option<Reader<'t>> {
        let item = self.item(key)?;
        match &item.node {
            Node::Table(table) => {
                let place = item.place.clone();
                Some(Reader::new(table, place, &self.full(key), self.ledger))
            }
            other => {
                self.wrong(key, other.kind(), format!("a table, written [{}]", self.full(key)))
            }
        }
    }

    /// Complains of every key that was never asked for, and of those that are missing.
    pub fn finish(&self) {
        self.ledger.know(self.known.iter().map(|key| self.full(key)));
        let mut missing = self.missing.take();
        for (key, place, _) in &self.table.entries {
            if self.known.iter().chain(&self.elsewhere).any(|k| k == key) {
                continue;
            }
            let near = nearest(key, self.known.iter().map(String::as_str));
            let within = if self.path.is_empty() { self.ledger.within_tables(key) } else { vec![] };
            let hint = match near {
                _ if !within.is_empty() => {
                    let names = quoted(within.iter().map(String::as_str)).replace(", ", " or ");
                    format!("did you mean {names}?")
                }
                Some(near) => format!("did you mean \"{near}\"?"),
                None => format!("allowed here: {}", self.known.join(", ")),
            };
            missing.retain(|(gone, _)| Some(gone.as_str()) != near);
            self.complain_at(place, &as_written(key), format!("no such key; {hint}"));
        }
        for (key, what) in missing {
            self.complain_at(&self.place, &key, format!("missing; needed: {what}"));
        }
    }
}

/// What was found and what is allowed; a question is not followed by a semicolon.
pub(super) fn verdict(found: &str, allowed: &str) -> String {
    let mark = if found.ends_with('?') { "" } else { ";" };
    format!("found {found}{mark} allowed: {allowed}")
}

/// A key as TOML writes it.
fn as_written(key: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-');
    if key.is_empty() || !key.chars().all(plain) {
        format!("\"{}\"", short(key))
    } else {
        short(key)
    }
}
