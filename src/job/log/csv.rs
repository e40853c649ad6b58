//! A log as CSV (RFC 4180): one reading a row, the columns named in the first one. It is
//! made into the same tree of values as a TOML log, so that both go through the same checks.
//!
//! Lines that begin with # are comments. Columns are parted by commas, or by semicolons
//! where the first row has those. A cell carries its unit ("1.6 A"), or the column does:
//! `amps (A)`. An empty run, job, date or set is the one above.

use super::reading::What;
use crate::reader::nearest;
use crate::reader::{Complaint, Complaints, Place};
use crate::reader::{Item, Node, Table, short};

/// Columns that hold for a run as a whole.
const OF_A_RUN: [&str; 4] = ["run", "job", "date", "set"];

/// A field and the column (in characters, from one) at which it starts.
type Field = (usize, String);

/// A column: its key, and the unit that its plain numbers carry.
struct Column {
    key: String,
    unit: Option<String>,
}

/// The tree of a CSV log.
///
/// # Errors
/// Columns that are not known, rows that are longer than the first.
pub fn table(text: &str, name: &str) -> Result<Table, Complaints> {
    let place = |line: usize, column: usize| Place::File { name: name.into(), line, column };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let used = |(_, line): &(usize, &str)| !line.trim().is_empty() && !line.starts_with('#');
    let mut lines = text.lines().enumerate().map(|(n, l)| (n + 1, l)).filter(used);
    let mut wrong = Vec::new();
    let mut complain = |place: Place, text: String| {
        wrong.push(Complaint { place, key: String::new(), text });
    };
    let (first, head) = lines.next().unwrap_or((1, ""));
    let comma = if head.contains(';') { ';' } else { ',' };
    let mut columns = Vec::new();
    for (at, cell) in fields(head, comma) {
        match column(&cell) {
            Ok(column) => columns.push(column),
            Err(why) => complain(place(first, at), why),
        }
    }
    let mut rows = Rows::default();
    for (n, line) in lines {
        let row = fields(line, comma);
        if let Some((at, _)) = row.get(columns.len()) {
            complain(place(n, *at), "more cells than the first row has columns".into());
        }
        rows.add(&columns, &row, &|at| place(n, at));
    }
    if !wrong.is_empty() {
        return Err(Complaints(wrong));
    }
    Ok(rows.table(place(first, 1)))
}

/// The fields of a line; quotes hold a comma, two of them are one.
fn fields(line: &str, comma: char) -> Vec<Field> {
    let mut list = Vec::new();
    let (mut field, mut start, mut quoted) = (String::new(), 1, false);
    let mut characters = line.chars().enumerate().peekable();
    while let Some((n, c)) = characters.next() {
        match c {
            '"' if quoted && characters.peek().is_some_and(|(_, next)| *next == '"') => {
                field.push('"');
                characters.next();
            }
            '"' => quoted = !quoted,
            c if c == comma && !quoted => {
                list.push((start, std::mem::take(&mut field)));
                start = n + 2;
            }
            c => field.push(c),
        }
    }
    list.push((start, field));
    let trimmed = |(at, text): Field| {
        let before = text.chars().take_while(|c| c.is_whitespace()).count();
        (at + before, text.trim().to_string())
    };
    list.into_iter().map(trimmed).collect()
}

/// A column from its head: "amps", "amps (A)", "amps [A]".
fn column(head: &str) -> Result<Column, String> {
    let unit = head.find(['(', '[']).map(|at| {
        (head[..at].trim(), head[at + 1..].trim_end_matches([')', ']']).trim().to_string())
    });
    let (key, unit) = unit.map_or((head, None), |(key, unit)| (key, Some(unit)));
    let key = key.to_lowercase().replace(' ', "_");
    let known = || {
        let readings = What::ALL.iter().map(|(_, key)| *key);
        OF_A_RUN.into_iter().chain(["at"]).chain(readings)
    };
    if known().any(|k| k == key) {
        return Ok(Column { key, unit });
    }
    let hint = match nearest(&key, known()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("allowed: {}", known().collect::<Vec<_>>().join(", ")),
    };
    Err(format!("no such column \"{}\"; {hint}", short(head)))
}

/// Runs as they grow, row by row.
#[derive(Default)]
struct Rows {
    runs: Vec<(Table, Vec<Item>)>,
}

impl Rows {
    fn add(&mut self, columns: &[Column], row: &[Field], place: &dyn Fn(usize) -> Place) {
        let mut reading = Table::default();
        let mut run = Table::default();
        for (column, (at, text)) in columns.iter().zip(row).filter(|(_, (_, t))| !t.is_empty()) {
            let text = match &column.unit {
                Some(unit) if text.parse::<f64>().is_ok() => format!("{text} {unit}"),
                _ => text.clone(),
            };
            let node = match column.key.as_str() {
                "set" => Node::List(vec![Item { node: Node::Text(text), place: place(*at) }]),
                _ => Node::Text(text),
            };
            let item = Item { node, place: place(*at) };
            let key = if column.key == "run" { "name" } else { column.key.as_str() };
            let to = if OF_A_RUN.contains(&column.key.as_str()) { &mut run } else { &mut reading };
            to.entries.push((key.into(), place(*at), item));
        }
        let of = run.get("name").map(|item| item.node.clone());
        let same = |(table, _): &(Table, Vec<Item>)| {
            of.is_none() || table.get("name").map(|item| &item.node) == of.as_ref()
        };
        let at = match &of {
            None => self.runs.len().checked_sub(1),
            Some(_) => self.runs.iter().position(same),
        };
        let k = at.unwrap_or_else(|| {
            self.runs.push((Table::default(), Vec::new()));
            self.runs.len() - 1
        });
        let (table, readings) = &mut self.runs[k];
        for entry in run.entries {
            if table.get(&entry.0).is_none() {
                table.entries.push(entry);
            }
        }
        readings.push(Item { node: Node::Table(reading), place: place(1) });
    }

    fn table(self, start: Place) -> Table {
        let runs: Vec<Item> = self
            .runs
            .into_iter()
            .map(|(mut table, readings)| {
                let place = readings.first().map_or(start.clone(), |item| item.place.clone());
                let list = Item { node: Node::List(readings), place: place.clone() };
                table.entries.push(("reading".into(), place.clone(), list));
                Item { node: Node::Table(table), place }
            })
            .collect();
        let mut table = Table::default();
        if !runs.is_empty() {
            let list = Item { node: Node::List(runs), place: start.clone() };
            table.entries.push(("run".into(), start, list));
        }
        table
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quotes_columns_and_units() {
        let row = fields("a, \"b, c\" ,\"d \"\"e\"\"\",", ',');
        let texts: Vec<&str> = row.iter().map(|(_, t)| t.as_str()).collect();
        assert_eq!(texts, ["a", "b, c", "d \"e\"", ""]);
        assert_eq!(row.iter().map(|(at, _)| *at).collect::<Vec<_>>(), [1, 4, 12, 22]);
        let column = column("Source volts [V]").unwrap();
        assert_eq!((column.key.as_str(), column.unit.as_deref()), ("source_volts", Some("V")));
    }

    #[test]
    fn rows_become_runs() {
        let text = "# my log\nrun;job;at (min);amps\nfirst;a.toml;5;1.6 A\n;;20;1.5 A\n\
                    second;a.toml;3;1 A\n";
        let table = table(text, "log.csv").unwrap();
        let Node::List(runs) = &table.get("run").unwrap().node else { panic!() };
        assert_eq!(runs.len(), 2);
        let Node::Table(first) = &runs[0].node else { panic!() };
        let Node::List(readings) = &first.get("reading").unwrap().node else { panic!() };
        let Node::Table(reading) = &readings[1].node else { panic!() };
        let at = reading.get("at").unwrap();
        assert_eq!(at.node, Node::Text("20 min".into()));
        assert_eq!(at.place.to_string(), "log.csv:4:3");
    }

    #[test]
    fn wrong_columns_and_long_rows() {
        let said = |text: &str| table(text, "log.csv").unwrap_err().to_string();
        assert!(said("run,amp\n").contains("log.csv:1:5: no such column \"amp\"; did you mean"));
        assert!(said("run,at\na,1 s,b\n").contains("log.csv:2:7: more cells"));
    }
}
