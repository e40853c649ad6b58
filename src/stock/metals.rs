//! Elements and sheet metals.

use super::Named;
use super::sourced::{Number, Sourced};
use crate::units::{Density, MolarMass, Share};
use serde::{Deserialize, Serialize};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Catalogue {
    pub metal: Vec<Metal>,
    pub refused: Vec<RefusedMetal>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ElementCatalogue {
    pub element: Vec<Element>,
}

/// A chemical element.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Element {
    /// Symbol.
    pub symbol: String,
    /// Name.
    pub title: String,
    /// Molar mass.
    pub molar_mass: Sourced<MolarMass>,
    /// Density.
    pub density: Sourced<Density>,
    /// Electrons given up on dissolving.
    pub valence: Sourced<Number>,
    /// Whether water lets it plate.
    pub plates: bool,
}

/// A sheet metal.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Metal {
    /// Name.
    pub name: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// In plain words.
    pub title: String,
    /// Density.
    pub density: Sourced<Density>,
    /// Symbol of the main metal.
    pub main: String,
    /// Constituents.
    pub parts: Vec<Part>,
}

/// A constituent of an alloy.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Symbol.
    pub element: String,
    /// Mass share.
    pub share: Sourced<Share>,
}

/// A metal that no bath here may etch.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct RefusedMetal {
    /// Name.
    pub name: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// Why.
    pub reason: String,
}

impl Named for Metal {
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
    fn call(&mut self, name: &str, aliases: Vec<String>) {
        (self.name, self.aliases) = (name.into(), aliases);
    }
    fn forget(&mut self, alias: &str) {
        self.aliases.retain(|a| !a.eq_ignore_ascii_case(alias.trim()));
    }
}

impl Named for RefusedMetal {
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &self.aliases
    }
    fn call(&mut self, name: &str, aliases: Vec<String>) {
        (self.name, self.aliases) = (name.into(), aliases);
    }
    fn forget(&mut self, alias: &str) {
        self.aliases.retain(|a| !a.eq_ignore_ascii_case(alias.trim()));
    }
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
