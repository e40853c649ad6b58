//! A stock file of the user's own, laid over the stock: cells, metals, baths, holders and
//! resists, written as the built-in catalogues are and checked as a job is.

mod bath;
mod entries;
mod parts;

use super::numbers::{Numbers, Sources};
use crate::reader::{At, Complaints, Ledger, Node, Place, Reader, mistaken, quoted, short, tree};

use crate::stock::{Named, Own, Stock, find};

/// Lays a stock file over the stock. An entry with the name of one that is there stands in
/// for it; every name and other name means one entry alone, the newest.
///
/// # Errors
/// Every complaint about the file.
pub fn with_own(stock: Stock, text: &str, name: &str) -> Result<Stock, Complaints> {
    let table = tree::parse(text.strip_prefix('\u{feff}').unwrap_or(text), name)?;
    let ledger = Ledger::default();
    let start = Place::File { name: name.into(), line: 1, column: 1 };
    mistaken::expect(mistaken::Kind::Stock, &table, &start)?;
    let mut reader = Reader::new(&table, start.clone(), "", &ledger);
    let sources = sources(&mut reader);
    let mut laying = Laying { stock, file: name, sources, told: Vec::new() };
    for sub in reader.tables("cell") {
        laying.cell(sub);
    }
    for sub in reader.tables("metal") {
        laying.metal(sub);
    }
    for sub in reader.tables("bath") {
        laying.bath(sub);
    }
    for sub in reader.tables("holder") {
        laying.holder(sub);
    }
    for sub in reader.tables("resist") {
        laying.resist(sub);
    }
    reader.finish();
    ledger.settle(Some(laying.stock), &start)
}

/// `[sources]`: keys and their texts.
fn sources(r: &mut Reader) -> Sources {
    const ALLOWED: &str = "a table [sources] of texts, such as scale = \"own measurement\"";
    let mut sources = Sources::new();
    match r.item("sources").map(|item| &item.node) {
        None => {}
        Some(Node::Table(table)) => {
            for (key, _, item) in &table.entries {
                match &item.node {
                    Node::Text(text) if !text.trim().is_empty() => {
                        sources.insert(key.clone(), text.clone());
                    }
                    other => {
                        let text = format!("found {}; allowed: a text", other.kind());
                        r.complain_at(&item.place, &format!("sources.{}", short(key)), text);
                    }
                }
            }
        }
        Some(other) => r.complain("sources", format!("found {}; allowed: {ALLOWED}", other.kind())),
    }
    sources
}

/// The stock while a file is laid over it.
struct Laying<'f> {
    stock: Stock,
    file: &'f str,
    sources: Sources,
    /// Kinds and names of this file's entries so far.
    told: Vec<(&'static str, String)>,
}

/// The names of an entry as the file has them.
struct Names {
    name: At<String>,
    aliases: Option<Vec<At<String>>>,
    title: Option<String>,
}

/// Longest name, characters.
const LONGEST_NAME: usize = 40;

/// Reads `name`, `aliases` and `title`.
fn names(r: &mut Reader) -> Option<Names> {
    const NAME: &str = "the name that a job calls it by, a text of 40 characters at most";
    r.require("name", NAME);
    let fits = |r: &Reader, at: &At<String>, key: &str| {
        let plain = at.is.trim().chars();
        let fits = plain.clone().count() <= LONGEST_NAME && !plain.clone().any(char::is_control);
        let fits = fits && plain.count() > 0;
        if !fits {
            let text = format!("found \"{}\"; allowed: {NAME}", short(&at.is));
            r.complain_at(&at.place, key, text);
        }
        fits
    };
    let name = r.text("name", NAME).filter(|at| fits(r, at, "name"));
    let aliases = match r.item("aliases").map(|item| &item.node) {
        None => None,
        Some(Node::List(list)) if list.is_empty() => Some(Vec::new()),
        Some(_) => r.texts("aliases", "a list of other names, such as [\"D\", \"mono\"]"),
    };
    let aliases = aliases
        .map(|list| list.into_iter().filter(|at| fits(r, at, "aliases")).collect::<Vec<_>>());
    let title = r.text("title", "what it is in plain words, a text").map(|t| short(&t.is));
    let mut name = name?;
    name.is = name.is.trim().to_string();
    Some(Names { name, aliases, title })
}

/// The entry in stock that lends what is not given.
fn like<'s, T: Named>(r: &mut Reader, list: &'s [T]) -> Option<&'s T> {
    let allowed = quoted(list.iter().map(Named::name));
    r.named("like", list, &allowed)
}

impl Laying<'_> {
    /// The numbers of an entry; all are needed where it is like no other.
    fn numbers<'t>(&self, r: Reader<'t>, needed: bool) -> Numbers<'t, '_> {
        Numbers::of_stock(r, &self.sources, needed)
    }

    /// Puts an entry on its shelf, and sees that its names mean it alone.
    fn put<T: Named>(
        &mut self,
        r: &Reader,
        kind: &'static str,
        names: &Names,
        list: impl Fn(&mut Stock) -> &mut Vec<T>,
        mut entry: T,
    ) {
        let name = &names.name;
        let same = |told: &(&str, String)| told.0 == kind && told.1.eq_ignore_ascii_case(&name.is);
        if self.told.iter().any(same) {
            let text = format!("\"{}\" stands here a second time; allowed: once", name.is);
            r.complain_at(&name.place, "name", text);
        }
        self.told.push((kind, name.is.clone()));
        let shelf = list(&mut self.stock);
        let old = shelf.iter().position(|e| e.name().eq_ignore_ascii_case(&name.is));
        let others = |e: &&T| !e.name().eq_ignore_ascii_case(&name.is);
        for alias in names.aliases.iter().flatten() {
            let alias_of = |e: &T| e.name().eq_ignore_ascii_case(alias.is.trim());
            if shelf.iter().filter(others).any(alias_of) {
                let text = format!(
                    "\"{0}\" is the name of another entry; allowed: name = \"{0}\" to stand in \
                     for it, or another name",
                    alias.is.trim()
                );
                r.complain_at(&alias.place, "aliases", text);
            }
        }
        let aliases = match (&names.aliases, old) {
            (Some(list), _) => list.iter().map(|a| a.is.trim().to_string()).collect(),
            // What stands in for another is called as that was.
            (None, Some(at)) => shelf[at].aliases().to_vec(),
            (None, None) => Vec::new(),
        };
        for other in shelf.iter_mut() {
            aliases.iter().chain([&name.is]).for_each(|name| other.forget(name));
        }
        entry.call(&name.is, aliases);
        match old {
            Some(at) => shelf[at] = entry,
            None => shelf.push(entry),
        }
        self.note(kind, &name.is, old.is_some());
    }

    /// Notes whose an entry is.
    fn note(&mut self, kind: &'static str, name: &str, replaces: bool) {
        let own = &mut self.stock.own;
        let same = |o: &Own| o.kind == kind && o.name.eq_ignore_ascii_case(name);
        let before = own.iter().position(same).map(|at| own.remove(at).file);
        let replaces = replaces.then(|| before.map_or("built in".into(), |f| format!("from {f}")));
        own.push(Own { kind, name: name.into(), file: self.file.into(), replaces });
    }
}

/// A metal that may not be etched keeps its name.
fn refused(r: &Reader, stock: &Stock, names: &Names) {
    for at in names.aliases.iter().flatten().chain([&names.name]) {
        if let Some(refused) = find(&stock.refused, &at.is) {
            let text = format!("not to be etched, nor to be put in stock: {}", refused.reason);
            r.complain_at(&at.place, "name", text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::Certainty;
    use crate::units::Quantity;

    fn laid(text: &str) -> Result<Stock, Complaints> {
        with_own(Stock::builtin().unwrap(), text, "stock.toml")
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
        let again = with_own(stock, text, "other.toml").unwrap();
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
    fn whatever_is_built_in_could_be_written_in_a_stock_file() {
        // The built-in catalogues themselves, read as the user's: same entries, same numbers.
        use crate::stock::CATALOGUES;
        let builtin = Stock::builtin().unwrap();
        for name in ["cells", "baths", "holders", "resists", "metals"] {
            let (_, text) = CATALOGUES.iter().find(|(n, _)| *n == name).unwrap();
            let text = match name {
                "resists" => text.split("# Where the job names no resist.").next().unwrap(),
                "metals" => text.split("# Refused by name").next().unwrap(),
                _ => text,
            };
            let stock = laid(text).unwrap_or_else(|e| panic!("{name}: {e}"));
            assert_eq!(stock.cells, builtin.cells);
            assert_eq!(stock.baths, builtin.baths);
            assert_eq!(stock.holders, builtin.holders);
            assert_eq!(stock.resists, builtin.resists);
            assert_eq!(stock.metals, builtin.metals);
            assert!(stock.own.len() >= 3, "{name}");
        }
    }
}
