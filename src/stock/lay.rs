//! Reads catalogues, the built-in ones and a stock file of the user's own alike, and lays them
//! over the stock; they are checked as a job is.

use super::all::{Own, Stock};
use super::baths::Bath;
use super::cells::Cell;
use super::entries::{Entry, Names, like, names};
use super::metals::{Metal, RefusedMetal};
use super::numbers::{Numbers, Rules, Sources};
use super::rows::{self, Row};
use super::sourced::{Key, takes};
use super::trade::{Holder, Resist};
use crate::reader::{Complaints, Ledger, Node, Place, Reader, mistaken, short, tree};

/// The catalogues as shipped, by name; those before that others need.
pub(super) const CATALOGUES: [(&str, &str); 11] = [
    ("elements", include_str!("elements.toml")),
    ("electrodes", include_str!("electrodes.toml")),
    ("metals", include_str!("metals.toml")),
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
    /// # Examples
    ///
    /// ```
    /// use restbite::stock::Stock;
    /// use restbite::units::Quantity;
    ///
    /// let stock = Stock::builtin()?;
    /// let silver = stock.element("Ag").ok_or("no silver")?;
    /// // 107.8682 g/mol (CIAAW, standard atomic weights).
    /// assert!((silver.molar_mass.is.si() - 0.107_868_2).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// When a catalogue does not hold together; a test keeps that from being shipped.
    pub fn builtin() -> Result<Self, Complaints> {
        let lay = |stock, (name, text): (&str, &str)| {
            lay(stock, text, &format!("the built-in {name}.toml"), true)
        };
        CATALOGUES.into_iter().try_fold(Self::default(), lay)
    }

    /// Lays a stock file over the stock. An entry with the name of one that is there stands in
    /// for it; every name and other name means one entry alone, the newest.
    ///
    /// # Errors
    /// Every complaint about the file.
    pub fn with_own(self, text: &str, name: &str) -> Result<Self, Complaints> {
        lay(self, text, name, false)
    }

    /// What only the built-in catalogues have: lists and tables that nobody calls by a name.
    fn unnamed(&mut self) -> Vec<Row<'_>> {
        macro_rules! unnamed {
            ($($key:literal: $slot:expr),+) => {
                vec![$(Row {
                    key: Key { name: $key, ..takes("tables").optional() },
                    slot: &mut $slot,
                }),+]
            };
        }
        unnamed![
            "element": self.elements,
            "anode": self.electrodes.anode,
            "cathode": self.electrodes.cathode,
            "hydrogen": self.electrodes.hydrogen,
            "pan": self.electrodes.pan,
            "conductor": self.leads.conductor,
            "clip": self.leads.clip,
            "insulation": self.leads.insulation,
            "class5": self.leads.class5,
            "insulated": self.leads.insulated,
            "no_resist": self.resists.default,
            "default": self.defaults,
            "spread": self.spreads,
            "threshold": self.touch
        ]
    }
}
/// Lays a catalogue over the stock.
pub(super) fn lay(
    stock: Stock,
    text: &str,
    name: &str,
    builtin: bool,
) -> Result<Stock, Complaints> {
    let table = tree::parse(text.strip_prefix('\u{feff}').unwrap_or(text), name)?;
    let ledger = Ledger::default();
    let start = Place::File { name: name.into(), line: 1, column: 1 };
    if !builtin {
        mistaken::expect(mistaken::Kind::Stock, &table, &start)?;
    }
    let mut reader = Reader::new(&table, start.clone(), "", &ledger);
    let sources = sources(&mut reader);
    let symbols = stock.elements.iter().map(|e| e.symbol.clone()).collect();
    let mut laying = Laying { stock, file: name, sources, symbols, builtin, told: Vec::new() };
    laying.entries::<Cell>(&mut reader);
    laying.entries::<Metal>(&mut reader);
    laying.entries::<Bath>(&mut reader);
    laying.entries::<Holder>(&mut reader);
    laying.entries::<Resist>(&mut reader);
    if builtin {
        laying.entries::<RefusedMetal>(&mut reader);
        let rules = Rules { sources: &laying.sources, symbols: &laying.symbols, builtin };
        let mut n = Numbers::of_stock(reader, rules, false);
        laying.stock.unnamed().into_iter().for_each(|row| row.slot.read(&mut n, &row.key));
        n.finish();
    } else {
        reader.finish();
    }
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
    symbols: Vec<String>,
    builtin: bool,
    /// Kinds and names of this file's entries so far.
    told: Vec<(&'static str, String)>,
}

impl Laying<'_> {
    /// Every table under the key of a kind.
    fn entries<T: Entry>(&mut self, file: &mut Reader) {
        file.tables(T::KEY).into_iter().for_each(|sub| self.entry::<T>(sub));
    }

    /// One entry.
    fn entry<T: Entry>(&mut self, mut r: Reader) {
        let named = names(&mut r);
        let base = if self.builtin { None } else { like(&mut r, T::shelf(&mut self.stock)) };
        let based = base.is_some();
        let needed = !r.has("like");
        let mut entry: T = base.unwrap_or_default();
        let mut n = Numbers::of_stock(r, self.rules(), needed);
        rows::read(&mut n, &mut entry, false);
        entry.finish(&mut n, based);
        let r = n.finish();
        let Some(named) = named.filter(|_| r.content()) else {
            return;
        };
        entry.holds_together(&r, &self.stock, &named);
        match (entry.title(), &named.title) {
            (Some(title), Some(given)) => title.clone_from(given),
            (Some(title), None) if !based => title.clone_from(&named.name.is),
            _ => {}
        }
        self.put(&r, &named, entry);
    }

    fn rules(&self) -> Rules<'_> {
        Rules { sources: &self.sources, symbols: &self.symbols, builtin: self.builtin }
    }

    /// Puts an entry on its shelf, and sees that its names mean it alone.
    fn put<T: Entry>(&mut self, r: &Reader, names: &Names, mut entry: T) {
        let (kind, name) = (T::KIND, &names.name);
        let same = |told: &(&str, String)| told.0 == kind && told.1.eq_ignore_ascii_case(&name.is);
        if self.told.iter().any(same) {
            let text = format!("\"{}\" stands here a second time; allowed: once", name.is);
            r.complain_at(&name.place, "name", text);
        }
        self.told.push((kind, name.is.clone()));
        let shelf = T::shelf(&mut self.stock);
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
        if !self.builtin {
            self.note(kind, &name.is, old.is_some());
        }
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
