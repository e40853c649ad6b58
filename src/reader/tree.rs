//! A job file as a tree of values that know where they were written.
//!
//! The rest of the house does not know TOML: here the text is parsed, `--set` laid over
//! it, and every value given its line and column.

use super::complaint::{Complaint, Complaints, Place};
use super::syntax;
use crate::units::short;
use toml::de::{DeTable, DeValue};

/// Longest job file that is read, bytes.
pub const LONGEST: u64 = 1 << 20;

/// A value and where it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// The value.
    pub node: Node,
    /// Where.
    pub place: Place,
}

/// A value.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    /// Text.
    Text(String),
    /// Whole number.
    Whole(i64),
    /// Number with a point.
    Float(f64),
    /// true or false.
    Flag(bool),
    /// Date or time of day.
    Date(String),
    /// List.
    List(Vec<Item>),
    /// Keys and values.
    Table(Table),
}

impl Node {
    /// What stands in it, of a list.
    pub fn list(&self) -> &[Item] {
        match self {
            Self::List(list) => list,
            _ => &[],
        }
    }

    /// What it is, in words.
    pub fn kind(&self) -> String {
        match self {
            Self::Text(text) => format!("\"{}\"", short(text)),
            Self::Whole(n) => format!("{n}, a bare number"),
            Self::Float(x) => format!("{x:?}, a bare number"),
            Self::Flag(b) => format!("{b}"),
            Self::Date(text) => format!("{text}, a date or time of day"),
            Self::List(list) if list.is_empty() => "an empty list".into(),
            Self::List(list) if list.iter().all(|i| matches!(i.node, Self::Table(_))) => {
                "a list of tables".into()
            }
            Self::List(_) => "a list".into(),
            Self::Table(_) => "a table".into(),
        }
    }
}

/// Keys and values in the order of the file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Key, where the key stands, value.
    pub entries: Vec<(String, Place, Item)>,
}

impl Table {
    /// The value of a key.
    pub fn get(&self, key: &str) -> Option<&Item> {
        self.entries.iter().find(|(k, _, _)| k == key).map(|(_, _, item)| item)
    }

    fn get_mut(&mut self, key: &str) -> Option<&mut Item> {
        self.entries.iter_mut().find(|(k, _, _)| k == key).map(|(_, _, item)| item)
    }
}

/// Parses a job file.
///
/// # Errors
/// Every place at which the text is not TOML.
pub fn parse(text: &str, name: &str) -> Result<Table, Complaints> {
    let lines = Lines::new(text, name);
    let (table, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        return Err(Complaints(syntax::complaints(text, &errors, |at| lines.place(at))));
    }
    Ok(table_of(table.get_ref(), &|at| lines.place(at)))
}

/// Turns byte offsets into lines and columns.
struct Lines<'a> {
    text: &'a str,
    name: &'a str,
    starts: Vec<usize>,
    /// Characters before each block of the text, so that a long line costs no more.
    blocks: Vec<usize>,
}

const BLOCK: usize = 64;

/// How many characters begin in these bytes of UTF-8.
fn begun(bytes: &[u8]) -> usize {
    bytes.iter().filter(|b| **b & 0xC0 != 0x80).count()
}

impl<'a> Lines<'a> {
    fn new(text: &'a str, name: &'a str) -> Self {
        let after = text.match_indices('\n').map(|(at, _)| at + 1);
        let mut blocks = vec![0];
        for block in text.as_bytes().chunks(BLOCK) {
            blocks.push(blocks.last().unwrap_or(&0) + begun(block));
        }
        Self { text, name, starts: [0].into_iter().chain(after).collect(), blocks }
    }

    fn place(&self, at: usize) -> Place {
        let at = at.min(self.text.len());
        let line = self.starts.partition_point(|s| *s <= at);
        let start = self.starts[line - 1];
        let column = self.characters(at) - self.characters(start) + 1;
        Place::File { name: self.name.into(), line, column }
    }

    /// Characters before a byte of the text.
    fn characters(&self, at: usize) -> usize {
        let block = at / BLOCK;
        self.blocks[block] + begun(&self.text.as_bytes()[block * BLOCK..at])
    }
}

fn table_of(table: &DeTable, place: &dyn Fn(usize) -> Place) -> Table {
    let entry = |(key, value): (&toml::Spanned<_>, &toml::Spanned<DeValue>)| {
        let name: &std::borrow::Cow<str> = key.get_ref();
        let item = Item { node: node_of(value.get_ref(), place), place: place(value.span().start) };
        (key.span().start, (name.to_string(), place(key.span().start), item))
    };
    let mut entries: Vec<_> = table.iter().map(entry).collect();
    entries.sort_by_key(|(at, _)| *at);
    Table { entries: entries.into_iter().map(|(_, e)| e).collect() }
}

fn node_of(value: &DeValue, place: &dyn Fn(usize) -> Place) -> Node {
    match value {
        DeValue::String(text) => Node::Text(text.to_string()),
        DeValue::Integer(n) => {
            let digits = n.as_str().replace('_', "");
            match i64::from_str_radix(&digits, n.radix()) {
                Ok(n) => Node::Whole(n),
                // Too many digits for a whole number; still a number, and out of any range.
                Err(_) => Node::Float(digits.parse().unwrap_or(f64::INFINITY)),
            }
        }
        DeValue::Float(x) => Node::Float(x.as_str().replace('_', "").parse().unwrap_or(f64::NAN)),
        DeValue::Boolean(b) => Node::Flag(*b),
        DeValue::Datetime(d) => Node::Date(d.to_string()),
        DeValue::Array(list) => Node::List(
            list.iter()
                .map(|v| Item { node: node_of(v.get_ref(), place), place: place(v.span().start) })
                .collect(),
        ),
        DeValue::Table(table) => Node::Table(table_of(table, place)),
    }
}

/// Lays one `--set KEY=VALUE` over a job.
///
/// # Errors
/// When there is no `=`, the key is no dotted TOML key, or leads through a value.
pub fn set(table: &mut Table, text: &str) -> Result<(), Complaints> {
    let key = text.split_once('=').map_or(text, |(k, _)| k).trim();
    let place = Place::Set(short(key));
    let wrong = |text: &str| {
        Complaints(vec![Complaint {
            place: place.clone(),
            key: String::new(),
            text: format!("{text}; allowed: KEY=VALUE, such as piece.depth=\"0.4 mm\""),
        }])
    };
    let Some((_, value)) = text.split_once('=') else {
        return Err(wrong("no \"=\" in it"));
    };
    let here = |_: usize| place.clone();
    let path = dotted(key).ok_or_else(|| wrong("no key such as piece.depth before the \"=\""))?;
    let node = set_value(value.trim(), &here);
    let Some((last, parents)) = path.split_last() else {
        return Err(wrong("no key such as piece.depth before the \"=\""));
    };
    let mut at = table;
    for parent in parents {
        if at.get(parent).is_none() {
            let empty = Item { node: Node::Table(Table::default()), place: place.clone() };
            at.entries.push((parent.clone(), place.clone(), empty));
        }
        at = match at.get_mut(parent).map(|item| &mut item.node) {
            Some(Node::Table(inner)) => inner,
            _ => return Err(wrong(&format!("\"{parent}\" is a value, not a table"))),
        };
    }
    let item = Item { node, place: place.clone() };
    match at.get_mut(last) {
        Some(old) => *old = item,
        None => at.entries.push((last.clone(), place.clone(), item)),
    }
    Ok(())
}

/// The parts of a dotted key, read as TOML reads it.
fn dotted(key: &str) -> Option<Vec<String>> {
    if key.contains('\n') {
        return None;
    }
    let document = format!("{key} = 0");
    let table = DeTable::parse(&document).ok()?;
    let mut path = Vec::new();
    let mut at = table.get_ref();
    loop {
        let mut entries = at.iter();
        let (Some((key, value)), None) = (entries.next(), entries.next()) else {
            return None;
        };
        path.push(key.get_ref().to_string());
        match value.get_ref() {
            DeValue::Table(inner) => at = inner,
            _ => return Some(path),
        }
    }
}

/// The value taken as TOML, or failing that as the text it is (a shell eats quotes).
fn set_value(value: &str, place: &dyn Fn(usize) -> Place) -> Node {
    let document = format!("v = {value}");
    let parsed = if value.contains('\n') { None } else { DeTable::parse(&document).ok() };
    parsed
        .filter(|t| t.get_ref().len() == 1)
        .and_then(|t| t.get_ref().get("v").map(|v| node_of(v.get_ref(), place)))
        .unwrap_or_else(|| Node::Text(value.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_lines_and_columns() {
        let table = parse("title = \"ä\"\n[piece]\n  depth = \"1 mm\"\n", "a.toml").unwrap();
        let Some(Node::Table(piece)) = table.get("piece").map(|i| &i.node) else { panic!() };
        assert_eq!(piece.get("depth").unwrap().place.to_string(), "a.toml:3:11");
    }

    #[test]
    fn set_takes_toml_or_plain_text() {
        let mut table = parse("[piece]\ndepth = \"1 mm\"\n", "a.toml").unwrap();
        for (text, key, node) in [
            ("piece.depth=\"0.4 mm\"", "depth", Node::Text("0.4 mm".into())),
            ("piece.depth=0.4 mm", "depth", Node::Text("0.4 mm".into())),
            ("piece.count = 3", "count", Node::Whole(3)),
            ("piece.stirred=true", "stirred", Node::Flag(true)),
            ("piece.note=a=b", "note", Node::Text("a=b".into())),
            ("piece.evil=1\nx=2", "evil", Node::Text("1\nx=2".into())),
        ] {
            set(&mut table, text).unwrap();
            let Some(Node::Table(piece)) = table.get("piece").map(|i| &i.node) else { panic!() };
            assert_eq!(piece.get(key).unwrap().node, node, "{text}");
        }
        set(&mut table, "leads.clips=2").unwrap();
        assert!(table.get("leads").is_some());
        for bad in ["piece.depth", "=1", "piece.depth.x=1", "a b=1", "", "a\nb=1"] {
            assert!(set(&mut table, bad).is_err(), "{bad}");
        }
    }
}
