//! Entries that go by a name: where they belong, what they are called, and what no single
//! number of one shows to be wrong.

use super::all::Stock;
use super::baths::{Bath, Curve};
use super::cells::Cell;
use super::metals::{Metal, RefusedMetal};
use super::numbers::Numbers;
use super::rows::{self, Rows};
use super::trade::{Holder, Resist};
use super::weighed;
use crate::reader::{At, Named, Node, Reader, find, quoted, short};
use crate::units::Quantity;

/// An entry of a catalogue.
pub trait Entry: Named + Rows {
    /// Its table in a catalogue.
    const KEY: &'static str;
    /// Its kind, as `stock` calls it.
    const KIND: &'static str;
    /// Where it belongs.
    fn shelf(stock: &mut Stock) -> &mut Vec<Self>;
    /// What it is in plain words, of one that has such a title.
    fn title(&mut self) -> Option<&mut String>;
    /// Sees to what was read; `based` when what was not given may be trusted.
    fn finish(&mut self, _: &mut Numbers, _based: bool) {}
    /// Complains of what no single number shows to be wrong.
    fn holds_together(&mut self, _: &Reader, _: &Stock, _: &Names) {}
}

impl Entry for Cell {
    const KEY: &'static str = "cell";
    const KIND: &'static str = "cells";
    fn shelf(stock: &mut Stock) -> &mut Vec<Self> {
        &mut stock.cells
    }
    fn title(&mut self) -> Option<&mut String> {
        Some(&mut self.title)
    }
    fn finish(&mut self, n: &mut Numbers, based: bool) {
        if n.r.has("chemistry") {
            self.chemistry = short(&self.chemistry);
        }
        if based || n.whole() {
            self.time_holds(&n.r);
        }
    }
    fn holds_together(&mut self, r: &Reader, _: &Stock, _: &Names) {
        Self::holds_together(self, r);
    }
}

impl Entry for Metal {
    const KEY: &'static str = "metal";
    const KIND: &'static str = "metals";
    fn shelf(stock: &mut Stock) -> &mut Vec<Self> {
        &mut stock.metals
    }
    fn title(&mut self) -> Option<&mut String> {
        Some(&mut self.title)
    }
    fn holds_together(&mut self, r: &Reader, stock: &Stock, names: &Names) {
        // A metal that may not be etched keeps its name.
        for at in names.aliases.iter().flatten().chain([&names.name]) {
            if let Some(refused) = find(&stock.refused, &at.is) {
                let text = format!("not to be etched, nor to be put in stock: {}", refused.reason);
                r.complain_at(&at.place, "name", text);
            }
        }
        let most = self.parts.iter().max_by(|a, b| a.share.is.si().total_cmp(&b.share.is.si()));
        let most = most.map_or_else(String::new, |p| p.element.clone());
        let main = std::mem::replace(&mut self.main, most.clone());
        if r.has("main") && main.trim() != most {
            let text =
                format!("found \"{}\"; allowed: \"{most}\", of which there is most", short(&main));
            r.complain("main", text);
        }
        if !stock.electrodes.anode.iter().any(|a| a.species == most) {
            let text = format!(
                "found an alloy that is mostly {most}; allowed: alloys that are mostly Ag or Cu"
            );
            r.complain("parts", text);
        }
    }
}

impl Entry for RefusedMetal {
    const KEY: &'static str = "refused";
    const KIND: &'static str = "refused metals";
    fn shelf(stock: &mut Stock) -> &mut Vec<Self> {
        &mut stock.refused
    }
    fn title(&mut self) -> Option<&mut String> {
        None
    }
}

impl Entry for Bath {
    const KEY: &'static str = "bath";
    const KIND: &'static str = "baths";
    fn shelf(stock: &mut Stock) -> &mut Vec<Self> {
        &mut stock.baths
    }
    fn title(&mut self) -> Option<&mut String> {
        Some(&mut self.title)
    }
    fn finish(&mut self, n: &mut Numbers, _: bool) {
        if n.r.has("formula") {
            self.formula = short(self.formula.trim());
        }
        let Some(item) = n.r.item("as_sold") else {
            // What the base is sold as is not what another salt is.
            let mut sold = std::mem::take(&mut self.as_sold);
            sold.retain(|formula| weighed::is_of(formula, self));
            self.as_sold = sold;
            return;
        };
        for entry in item.node.list() {
            match &entry.node {
                Node::Text(formula) if !weighed::is_of(formula, self) => {
                    let text = format!(
                        "found \"{}\"; allowed: the salt with its water, such as \"CuSO4.5H2O\" of \
                         CuSO4",
                        short(formula)
                    );
                    n.r.complain_at(&entry.place, "as_sold", text);
                }
                _ => {}
            }
        }
    }
    fn holds_together(&mut self, r: &Reader, _: &Stock, _: &Names) {
        holds_together(r, self);
    }
}

impl Entry for Holder {
    const KEY: &'static str = "holder";
    const KIND: &'static str = "holders";
    fn shelf(stock: &mut Stock) -> &mut Vec<Self> {
        &mut stock.holders
    }
    fn title(&mut self) -> Option<&mut String> {
        Some(&mut self.title)
    }
    fn holds_together(&mut self, r: &Reader, _: &Stock, names: &Names) {
        if names.aliases.as_ref().is_some_and(|list| !list.is_empty()) {
            r.complain("aliases", "a holder has one name; allowed: none");
        }
    }
}

impl Entry for Resist {
    const KEY: &'static str = "resist";
    const KIND: &'static str = "resists";
    fn shelf(stock: &mut Stock) -> &mut Vec<Self> {
        &mut stock.resists.resist
    }
    fn title(&mut self) -> Option<&mut String> {
        None
    }
    fn holds_together(&mut self, r: &Reader, _: &Stock, names: &Names) {
        if names.title.is_some() {
            r.complain("title", "a resist has none; allowed: note, for what to know of it");
        }
    }
}

/// The names of an entry as the file has them.
pub struct Names {
    /// Name.
    pub name: At<String>,
    /// Other names, where they are given.
    pub aliases: Option<Vec<At<String>>>,
    /// In plain words.
    pub title: Option<String>,
}

/// Longest name, characters.
const LONGEST_NAME: usize = 40;

/// Reads `name`, `aliases` and `title`.
pub fn names(r: &mut Reader) -> Option<Names> {
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
pub fn like<T: Named + Clone>(r: &mut Reader, list: &[T]) -> Option<T> {
    let allowed = quoted(list.iter().map(Named::name));
    r.named("like", list, &allowed).cloned()
}

/// `cell = { like = "LR6", ... }` of a job: a cell of stock with the user's own numbers laid
/// over.
pub fn own_cell(mut r: Reader, stock: &Stock) -> Option<Cell> {
    let names = quoted(stock.cells.iter().map(Named::name));
    let what = format!("the cell in stock that lends what is not given: {names}");
    r.require("like", &what);
    let base = r.named("like", &stock.cells, &names);
    // Without a base the keys are still read, so that all complaints come at once.
    let mut cell = base.cloned().unwrap_or_default();
    let name = r.text("name", "the cell's name, a text");
    cell.name = match name {
        Some(name) => short(&name.is),
        None => format!("{} (own numbers)", cell.name),
    };
    let mut n = Numbers::of_job(r);
    rows::read(&mut n, &mut cell, false);
    cell.finish(&mut n, base.is_some());
    let r = n.finish();
    base?;
    Cell::holds_together(&cell, &r);
    Some(cell)
}

/// Steps over the range of concentrations at which the curve is tried.
const TRIED: u32 = 40;

/// What no single number of a bath shows to be wrong.
fn holds_together(r: &Reader, bath: &Bath) {
    conducts(r, bath);
    for metal in bath
        .suits
        .iter()
        .filter(|m| bath.solubility_of(m, bath.concentration_min.is.si()).is_none())
    {
        r.complain("solubility", format!("missing for {metal}; needed: one for each of suits"));
    }
    if bath.suits.is_empty() && bath.refuses.is_empty() {
        r.complain("suits", "no metal; allowed: a list such as [\"Cu\"]");
    }
    let both = bath.suits.iter().find(|m| bath.refuses.iter().any(|x| x.main == **m));
    if let Some(metal) = both {
        let text = format!("{metal} stands under refuses as well; allowed: one of the two");
        r.complain("suits", text);
    }
    if is_chloride(&bath.formula) && !bath.refuses.iter().any(|x| x.main == "Ag") {
        r.complain(
            "refuses",
            "a chloride bath covers silver with silver chloride, which stops the current; allowed: \
             refuses = [{ main = \"Ag\", reason = \"...\" }]",
        );
    }
}

/// Whether it gives a conductivity over its whole range of concentrations.
fn conducts(r: &Reader, bath: &Bath) {
    let (low, high) = (bath.concentration_min.is.si(), bath.concentration_max.is.si());
    if low >= high {
        return r.complain("concentration_max", "not over concentration_min; allowed: a range");
    }
    match &bath.curve {
        Curve::CasteelAmis(_) if bath.density.is_none() => {
            let text = "missing; needed: the table [bath.density], as the curve is over mol/kg";
            return r.complain("density", text);
        }
        Curve::CasteelAmis(_) => {}
        Curve::Points(by) => {
            let end = |p: Option<&[f64; 2]>| p.map_or(f64::NAN, |p| p[0] * 1000.0);
            let (points, slack) = (&by.points_mol_per_l_ms_per_cm.is.0, 1e-9 * high);
            if end(points.first()) > low + slack || end(points.last()) < high - slack {
                let text = "reaches beyond the curve's points; allowed: concentration_min and \
                            concentration_max within them";
                return r.complain("concentration_max", text);
            }
        }
    }
    let mut tried = (0..=TRIED).map(|k| low + (high - low) * f64::from(k) / f64::from(TRIED));
    let sane = |c: f64| bath.kappa25(c).is_some_and(|k| (0.01..=200.0).contains(&k));
    if let Some(c) = tried.find(|c| !sane(*c)) {
        let text = format!(
            "gives no conductivity between 0.1 mS/cm and 2 S/cm at {} mol/L; allowed: a curve and \
             density that do from concentration_min to concentration_max",
            crate::units::say::figures(c / 1000.0, 3)
        );
        r.complain("curve", text);
    }
}

/// Whether a formula is one of a chloride: Cl, but not ClO3 or ClO4.
fn is_chloride(formula: &str) -> bool {
    formula
        .match_indices("Cl")
        .any(|(at, _)| !formula[at + 2..].starts_with(|c: char| c == 'O' || c.is_ascii_lowercase()))
}
