//! Elements and sheet metals.

use super::numbers::Numbers;
use super::rows::{Slot, Words, each, rows};
use super::sourced::{Key, Number, Sourced, takes, within};
use crate::reader::{quoted, short};
use crate::units::say::figures;
use crate::units::{Density, MolarMass, Quantity, Share};
use serde_json::{Value, json};

rows! {
    /// A chemical element.
    Element {
        /// Symbol.
        symbol: String = "", takes("a chemical symbol");
        /// Name.
        title: String = "", takes("a text");
        molar_mass: Sourced<MolarMass> = "molar mass", within("1 g/mol", "300 g/mol");
        density: Sourced<Density> = "density", within("0.5 g/cm3", "25 g/cm3");
        valence: Sourced<Number> = "electrons on dissolving", within("1", "7");
        /// Whether water lets it plate.
        plates: bool = "", takes("true or false");
    }
}

rows! {
    /// A sheet metal.
    Metal called "Name." {
        /// In plain words.
        title: String = "", takes("a text");
        density: Sourced<Density> = "density", within("1 g/cm3", "25 g/cm3").turn(1);
        /// Symbol of the main metal.
        main: String = "", takes("the symbol of the element that most of it is").optional();
        parts: Vec<Part> = "mass share", takes(PARTS).turn(1);
    }
}

rows! {
    /// A metal that no bath here may etch.
    RefusedMetal called "Name." {
        /// Why.
        reason: String = "", takes("why it may not be etched, a text");
    }
}

/// A constituent of an alloy.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Symbol.
    pub element: String,
    /// Mass share.
    pub share: Sourced<Share>,
}

const PARTS: &str = "a list such as [{ element = \"Cu\", share = { is = \"90 %\", source = \"own \
                     measurement\" } }, ...]";

impl Slot for Vec<Part> {
    /// Elements and their mass shares, which add up to all of it.
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        let mut twice = Vec::new();
        let part = |sub: Numbers| {
            let place = sub.r.place.clone();
            let part = part(sub)?;
            twice.push((part.element.clone(), place));
            Some(part)
        };
        let Some(mut parts) = each(n, key, part) else {
            return;
        };
        for (at, (element, place)) in twice.iter().enumerate() {
            if twice[..at].iter().any(|(other, _)| other == element) {
                let text = format!("\"{element}\" stands here a second time; allowed: once");
                n.r.complain_at(place, key.name, text);
            }
        }
        let sum: f64 = parts.iter().map(|p| p.share.is.si()).sum();
        if (sum - 1.0).abs() > 1e-3 {
            let sum = figures(100.0 * sum, 6);
            n.r.complain(key.name, format!("the shares add up to {sum} %; allowed: 100 %"));
        } else if (sum - 1.0).abs() > 1e-12 {
            // A last digit's rounding in the shares is not the user's fault.
            parts.iter_mut().for_each(|p| p.share.is = Share::from_si(p.share.is.si() / sum));
        }
        *self = parts;
    }

    fn shown(&mut self, key: &Key, path: &str, words: &mut Words) -> Option<Value> {
        words.push((path.into(), key.words));
        let row = |p: &Part| json!({ "element": p.element, "share": p.share.shown(key) });
        Some(self.iter().map(row).collect())
    }
}

fn part(mut n: Numbers) -> Option<Part> {
    let known = n.rules()?.symbols;
    let symbols = quoted(known.iter().map(String::as_str));
    n.r.require("element", &format!("one of {symbols}"));
    let element = n.r.text("element", &symbols);
    let share = n.read(&Key { name: "share", ..within("0.001 %", "100 %") });
    let r = n.finish();
    let element = element?.is.trim().to_string();
    if !known.contains(&element) {
        r.complain("element", format!("found \"{}\"; allowed: {symbols}", short(&element)));
        return None;
    }
    Some(Part { element, share: share? })
}

#[cfg(test)]
mod tests {
    use crate::stock::Stock;
    use crate::units::Quantity;

    #[test]
    fn alloys_add_up_and_know_their_elements() {
        let stock = Stock::builtin().unwrap();
        for metal in &stock.metals {
            let sum: f64 = metal.parts.iter().map(|p| p.share.is.si()).sum();
            assert!((sum - 1.0).abs() < 1e-12, "{}", metal.name);
            let most = metal
                .parts
                .iter()
                .max_by(|a, b| a.share.is.si().total_cmp(&b.share.is.si()))
                .unwrap();
            assert_eq!(most.element, metal.main, "{}", metal.name);
            assert!(metal.parts.iter().all(|p| stock.element(&p.element).is_some()));
            assert!(stock.electrodes.anode.iter().any(|a| a.species == metal.main));
        }
        let plating = stock.elements.iter().filter(|e| e.plates).count();
        assert_eq!(plating, crate::run::METALS, "the state has room for just these");
    }
}
