//! Cells, metals, holders and resists of a stock file.

use super::{Laying, Names, like, names, refused};
use crate::job::numbers::Numbers;
use crate::job::own_cell;
use crate::reader::{Node, Reader, quoted, short};
use crate::stock::{Metal, Part, Sourced};
use crate::units::say::figures;
use crate::units::{Density, Quantity, Share};

/// The note of an entry.
fn note(r: &mut Reader, slot: &mut String, needed: bool) {
    if let Some(text) = r.text("note", "what to know of it, a text") {
        slot.clone_from(&text.is);
    } else if needed {
        slot.clear();
    }
}

/// The title: as given, or the base's, or the name.
fn title(names: &Names, base: Option<&str>) -> String {
    names.title.clone().unwrap_or_else(|| base.unwrap_or(&names.name.is).to_string())
}

impl Laying<'_> {
    /// One `[[cell]]`.
    pub fn cell(&mut self, mut r: Reader) {
        let named = names(&mut r);
        let base = like(&mut r, &self.stock.cells).cloned();
        let lent = r.has("like");
        let Some(mut cell) = base.as_ref().or(self.stock.cells.first()).cloned() else {
            return;
        };
        own_cell::words(&mut r, &mut cell, !lent);
        let mut n = self.numbers(r, !lent);
        own_cell::numbers(&mut n, &mut cell, base.is_some());
        let r = n.finish();
        let Some(named) = named.filter(|_| r.content()) else {
            return;
        };
        own_cell::holds_together(&r, &cell);
        cell.title = title(&named, base.as_ref().map(|b| b.title.as_str()));
        self.put(&r, "cells", &named, |stock| &mut stock.cells, cell);
    }

    /// One `[[holder]]`.
    pub fn holder(&mut self, mut r: Reader) {
        let named = names(&mut r);
        let base = like(&mut r, &self.stock.holders).cloned();
        let lent = r.has("like");
        let Some(mut holder) = base.as_ref().or(self.stock.holders.first()).cloned() else {
            return;
        };
        note(&mut r, &mut holder.note, !lent);
        let mut n = self.numbers(r, !lent);
        n.over("exposed_share", "1 %", "100 %", &mut holder.exposed_share);
        n.over("contact", "0 ohm", "10 ohm", &mut holder.contact);
        n.over_number("convection_factor", 0.01, 20.0, &mut holder.convection_factor);
        let r = n.finish();
        let Some(named) = named.filter(|_| r.content()) else {
            return;
        };
        if named.aliases.as_ref().is_some_and(|list| !list.is_empty()) {
            r.complain("aliases", "a holder has one name; allowed: none");
        }
        holder.title = title(&named, base.as_ref().map(|b| b.title.as_str()));
        self.put(&r, "holders", &named, |stock| &mut stock.holders, holder);
    }

    /// One `[[resist]]`.
    pub fn resist(&mut self, mut r: Reader) {
        let named = names(&mut r);
        let base = like(&mut r, &self.stock.resists.resist).cloned();
        let lent = r.has("like");
        let Some(mut resist) = base.as_ref().or(self.stock.resists.resist.first()).cloned() else {
            return;
        };
        note(&mut r, &mut resist.note, !lent);
        let mut n = self.numbers(r, !lent);
        n.over("max_current_density", "0.001 A/cm2", "100 A/cm2", &mut resist.max_current_density);
        n.over("max_temperature", "10 degC", "150 degC", &mut resist.max_temperature);
        let r = n.finish();
        let Some(named) = named.filter(|_| r.content()) else {
            return;
        };
        if named.title.is_some() {
            r.complain("title", "a resist has none; allowed: note, for what to know of it");
        }
        self.put(&r, "resists", &named, |stock| &mut stock.resists.resist, resist);
    }

    /// One `[[metal]]`.
    pub fn metal(&mut self, mut r: Reader) {
        let named = names(&mut r);
        let base = like(&mut r, &self.stock.metals).cloned();
        let lent = r.has("like");
        let Some(mut metal) = base.as_ref().or(self.stock.metals.first()).cloned() else {
            return;
        };
        let main = r.text("main", "the symbol of the element that most of it is");
        let mut n = self.numbers(r, !lent);
        n.over::<Density>("density", "1 g/cm3", "25 g/cm3", &mut metal.density);
        if let Some(parts) = self.parts(&mut n) {
            metal.parts = parts;
        }
        let r = n.finish();
        let Some(named) = named.filter(|_| r.content()) else {
            return;
        };
        refused(&r, &self.stock, &named);
        let most = metal.parts.iter().max_by(|a, b| a.share.is.si().total_cmp(&b.share.is.si()));
        metal.main = most.map_or_else(String::new, |p| p.element.clone());
        if let Some(main) = main.filter(|m| m.is.trim() != metal.main) {
            let text = format!(
                "found \"{}\"; allowed: \"{}\", of which there is most",
                short(&main.is),
                metal.main
            );
            r.complain("main", text);
        }
        if !self.stock.electrodes.anode.iter().any(|a| a.species == metal.main) {
            let text = format!(
                "found an alloy that is mostly {}; allowed: alloys that are mostly Ag or Cu",
                metal.main
            );
            r.complain("parts", text);
        }
        metal.title = title(&named, base.as_ref().map(|b: &Metal| b.title.as_str()));
        self.put(&r, "metals", &named, |stock| &mut stock.metals, metal);
    }

    /// `parts`: elements and their mass shares, which add up to all of it.
    fn parts(&self, n: &mut Numbers) -> Option<Vec<Part>> {
        const PARTS: &str = "a list such as [{ element = \"Cu\", share = { is = \"90 %\", source \
                             = \"own measurement\" } }, ...]";
        let item = n.r.item("parts");
        let list = match item.map(|i| &i.node) {
            Some(Node::List(list)) if !list.is_empty() => list,
            Some(other) => {
                let text = format!("found {}; allowed: {PARTS}", other.kind());
                n.r.complain("parts", text);
                return None;
            }
            None => {
                if n.needed() {
                    n.r.missing("parts", PARTS);
                }
                return None;
            }
        };
        let mut parts: Vec<Part> = Vec::new();
        for entry in list {
            let Node::Table(table) = &entry.node else {
                let text = format!("found {}; allowed: {PARTS}", entry.node.kind());
                n.r.complain_at(&entry.place, "parts", text);
                return None;
            };
            let sub = n.r.beside(table, entry, "parts");
            let part = self.part(n.beside(sub))?;
            if parts.iter().any(|p| p.element == part.element) {
                let element = &part.element;
                let text = format!("\"{element}\" stands here a second time; allowed: once");
                n.r.complain_at(&entry.place, "parts", text);
            }
            parts.push(part);
        }
        let sum: f64 = parts.iter().map(|p| p.share.is.si()).sum();
        if (sum - 1.0).abs() > 1e-3 {
            let sum = figures(100.0 * sum, 6);
            n.r.complain("parts", format!("the shares add up to {sum} %; allowed: 100 %"));
        } else if (sum - 1.0).abs() > 1e-12 {
            // A last digit's rounding in the shares is not the user's fault.
            parts.iter_mut().for_each(|p| p.share.is = Share::from_si(p.share.is.si() / sum));
        }
        Some(parts)
    }

    fn part(&self, mut n: Numbers) -> Option<Part> {
        let symbols = quoted(self.stock.elements.iter().map(|e| e.symbol.as_str()));
        n.r.require("element", &format!("one of {symbols}"));
        let element = n.r.text("element", &symbols);
        let mut share = Sourced::own(Share::from_si(0.0));
        n.over("share", "0.001 %", "100 %", &mut share);
        let r = n.finish();
        let element = element?.is.trim().to_string();
        if self.stock.element(&element).is_none() {
            let text = format!("found \"{}\"; allowed: {symbols}", short(&element));
            r.complain("element", text);
            return None;
        }
        (share.is.si() > 0.0).then_some(Part { element, share })
    }
}
