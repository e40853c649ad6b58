//! `metal`: an alloy of stock, or the user's own as a table.

use crate::reader::Reader;
use crate::reader::quoted;
use crate::reader::{Node, short};
use crate::stock::{Metal, Sourced, Stock, find};
use crate::units::say::figures;
use crate::units::{Density, Quantity, Share};

/// The alloy as this job has it.
#[derive(Debug, Clone, PartialEq)]
pub struct Alloy {
    /// In plain words.
    pub title: String,
    /// Density.
    pub density: Sourced<Density>,
    /// Symbol of the main metal.
    pub main: String,
    /// Constituents.
    pub parts: Vec<AlloyPart>,
}

/// A constituent.
#[derive(Debug, Clone, PartialEq)]
pub struct AlloyPart {
    /// Symbol.
    pub element: String,
    /// Name of the element.
    pub name: String,
    /// Mass share.
    pub share: Sourced<Share>,
    /// Valence where the user gave one.
    pub valence: Option<f64>,
}

impl Alloy {
    /// The name of an element of it.
    pub fn name_of<'a>(&'a self, symbol: &'a str) -> &'a str {
        self.parts.iter().find(|p| p.element == symbol).map_or(symbol, |p| p.name.as_str())
    }
}

/// The alloy, or why a metal named may not be etched.
pub fn read(r: &mut Reader, stock: &Stock) -> (Option<Alloy>, Option<String>) {
    r.require("metal", "the sheet's metal, such as \"sterling\" or \"copper\"");
    if let Some(Node::Table(_)) = r.item("metal").map(|item| &item.node) {
        return (r.sub("metal").and_then(|sub| own_metal(sub, stock)), None);
    }
    let allowed = format!(
        "{}, or a table {{ name, density, parts = [{{ element, share, valence }}] }}",
        quoted(stock.metals.iter().map(plain_name))
    );
    let Some(text) = r.text("metal", &allowed) else {
        return (None, None);
    };
    if let Some(refused) = find(&stock.refused, &text.is) {
        return (None, Some(refused.reason.clone()));
    }
    let Some(metal) = r.lookup(&text, &stock.metals, &allowed) else {
        return (None, None);
    };
    let parts = metal.parts.iter().map(|p| AlloyPart {
        element: p.element.clone(),
        name: name_of(&p.element, stock),
        share: p.share.clone(),
        valence: None,
    });
    let alloy = Alloy {
        title: metal.title.clone(),
        density: metal.density.clone(),
        main: metal.main.clone(),
        parts: parts.collect(),
    };
    (Some(alloy), None)
}

/// A metal's name in the trade, where its own is the number of a standard.
fn plain_name(metal: &Metal) -> &str {
    let number = metal.name.starts_with('C') && metal.name.ends_with(|c: char| c.is_ascii_digit());
    metal.aliases.first().filter(|_| number).unwrap_or(&metal.name)
}

/// A table of the user's own alloy.
fn own_metal(mut r: Reader, stock: &Stock) -> Option<Alloy> {
    let title = r.text("name", "the alloy's name, a text");
    r.require("name", "the alloy's name, such as \"gilding metal\"");
    let density = r.quantity::<Density>("density", "1 g/cm3", "25 g/cm3");
    r.require("density", "the alloy's density, such as \"8.9 g/cm3\"");
    const PARTS: &str = "a list such as [{ element = \"Cu\", share = \"90 %\", valence = 2 }, ...]";
    r.require("parts", PARTS);
    let item = r.item("parts");
    let list = match item.map(|i| &i.node) {
        Some(Node::List(list)) if !list.is_empty() => list.as_slice(),
        Some(other) => {
            r.complain("parts", format!("found {}; allowed: {PARTS}", other.kind()));
            &[]
        }
        None => &[],
    };
    let mut parts: Vec<AlloyPart> = Vec::new();
    for entry in list {
        let Node::Table(table) = &entry.node else {
            let text = format!("found {}; allowed: {PARTS}", entry.node.kind());
            r.complain_at(&entry.place, "parts", text);
            continue;
        };
        let sub = r.beside(table, entry, "parts");
        if let Some(part) = own_part(sub, stock) {
            if parts.iter().any(|p| p.element == part.element) {
                let text = format!(
                    "\"{}\" stands here a second time; allowed: each element once",
                    part.element
                );
                r.complain_at(&entry.place, "parts", text);
            }
            parts.push(part);
        }
    }
    r.finish();
    let whole = parts.len() == list.len() && !parts.is_empty();
    let sum: f64 = parts.iter().map(|p| p.share.is.si()).sum();
    if whole && (sum - 1.0).abs() > 1e-3 {
        let text = format!("the shares add up to {} %; allowed: 100 %", figures(100.0 * sum, 6));
        r.complain("parts", text);
    }
    let main =
        parts.iter().max_by(|a, b| a.share.is.si().total_cmp(&b.share.is.si()))?.element.clone();
    // A last digit's rounding in the shares is not the user's fault.
    parts.iter_mut().for_each(|p| p.share.is = Share::from_si(p.share.is.si() / sum));
    let chromium = parts.iter().any(|p| p.element == "Cr"); // refused later, with its reason
    if whole && !chromium && !stock.electrodes.anode.iter().any(|a| a.species == main) {
        let text = format!(
            "found an alloy that is mostly {}; allowed: alloys that are mostly silver or copper",
            name_of(&main, stock)
        );
        r.complain("parts", text);
        return None;
    }
    whole.then_some(())?;
    Some(Alloy { title: short(&title?.is), density: Sourced::own(density?.is), main, parts })
}

fn name_of(symbol: &str, stock: &Stock) -> String {
    stock.element(symbol).map_or_else(|| symbol.to_string(), |e| e.title.clone())
}

fn own_part(mut r: Reader, stock: &Stock) -> Option<AlloyPart> {
    let symbols = quoted(stock.elements.iter().map(|e| e.symbol.as_str()));
    let element = r.text("element", &symbols);
    r.require("element", &format!("one of {symbols}"));
    let known = element.filter(|e| {
        let there = stock.element(&e.is).is_some();
        if !there {
            let same = |name: &str| name.eq_ignore_ascii_case(e.is.trim());
            let meant = stock.elements.iter().find(|x| same(&x.symbol) || same(&x.title));
            let hint = meant.map(|x| format!("did you mean \"{}\"? ", x.symbol));
            let (found, hint) = (short(&e.is), hint.unwrap_or_default());
            r.complain("element", format!("found \"{found}\"; {hint}allowed: {symbols}"));
        }
        there
    });
    let share = r.quantity::<Share>("share", "0.001 %", "100 %");
    r.require("share", "the mass share, such as \"90 %\"");
    let valence = r.whole("valence", 1, 7).map(|v| f64::from(v.is));
    r.finish();
    let element = known?.is;
    Some(AlloyPart {
        name: name_of(&element, stock),
        element,
        share: Sourced::own(share?.is),
        valence,
    })
}
