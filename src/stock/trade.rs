//! What the trade knows: holders, resists, how uncertain things are, how warm is too warm.

use super::Named;
use super::sourced::{AsWritten, Number, Sourced};
use crate::units::{CurrentDensity, Quantity, Resistance, Share, Temperature, Time};
use serde::{Deserialize, Serialize};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HolderCatalogue {
    pub holder: Vec<Holder>,
}

/// A holder of cells.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Holder {
    /// Name.
    pub name: String,
    /// In plain words.
    pub title: String,
    /// Share of the worst-placed cell's surface that it leaves open.
    pub exposed_share: Sourced<Share>,
    /// Contact resistance of a cell, both ends together.
    pub contact: Sourced<Resistance>,
    /// Factor on natural convection.
    pub convection_factor: Sourced<Number>,
    /// What to know of it.
    pub note: String,
}

impl Named for Holder {
    fn name(&self) -> &str {
        &self.name
    }
    fn aliases(&self) -> &[String] {
        &[]
    }
    fn call(&mut self, name: &str, _: Vec<String>) {
        self.name = name.into();
    }
    fn forget(&mut self, _: &str) {}
}

/// Resists, and what holds where none is named.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Resists {
    /// By name.
    pub resist: Vec<Resist>,
    /// Where the job names none.
    pub default: DefaultResist,
}

/// A resist.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Resist {
    /// Name.
    pub name: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// Current density that it bears.
    pub max_current_density: Sourced<CurrentDensity>,
    /// Temperature that it bears.
    pub max_temperature: Sourced<Temperature>,
    /// What to know of it.
    pub note: String,
}

/// What to warn by when no resist is named.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct DefaultResist {
    /// Current density.
    pub max_current_density: Sourced<CurrentDensity>,
    /// Temperature.
    pub max_temperature: Sourced<Temperature>,
    /// Why these.
    pub note: String,
}

impl Named for Resist {
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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SpreadCatalogue {
    pub spread: Vec<SpreadRow>,
}

/// How uncertain one input is.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct SpreadRow {
    /// Key under `[spread]`.
    pub key: String,
    /// In plain words.
    pub title: String,
    /// One standard deviation as a share of the value.
    pub sd: Sourced<Share>,
    /// Why so much.
    pub reason: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DefaultCatalogue {
    pub default: Vec<DefaultRow>,
}

/// What holds where a job does not say.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct DefaultRow {
    /// Key in the job file.
    pub key: String,
    /// In plain words.
    pub title: String,
    /// The value.
    pub value: Sourced<AsWritten>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TouchCatalogue {
    pub threshold: Vec<Threshold>,
}

/// A burn threshold (ISO 13732-1).
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Threshold {
    /// Time of contact.
    pub contact: Sourced<Time>,
    /// Surface temperature.
    pub temperature: Sourced<Temperature>,
}

impl Threshold {
    /// Time of contact, s.
    pub fn contact_s(&self) -> f64 {
        self.contact.is.si()
    }
}
