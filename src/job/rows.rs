//! The numbers of a run as rows under the keys of the model: what, how much, in which unit,
//! where from. Each is taken down where it is put into the setup, and nowhere else.

use super::bench::Bench;
use crate::stock::{Certainty, OF_THE_JOB, Sourced};
use crate::units::keyed::Unit;
use serde::Serialize;
use serde_json::{Map, Value, json};
use std::fmt::Display;

/// Where one number is from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// The job says so, or its default does.
    Job,
    /// The bench file of that name, which lies under the job.
    Bench(String),
    /// Worked out from other numbers, and from which.
    Worked(&'static str),
    /// The stock: its source there, how sure.
    Stock(String, Certainty),
}

impl Origin {
    /// Of a number that knows its source.
    pub fn of<T>(number: &Sourced<T>) -> Self {
        match number.certainty {
            Certainty::Own if number.source == OF_THE_JOB => Self::Job,
            sure => Self::Stock(number.source.clone(), sure),
        }
    }
}

/// One number, or one word, that a run uses.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its key: the name, and the unit where it has one (`piece.molar_mass_kg_per_mol.Ag`).
    pub key: String,
    /// Its name (`piece.molar_mass.Ag`).
    pub name: String,
    /// Its value in that unit; null where there is none.
    pub value: Value,
    /// Its unit.
    pub unit: Unit,
    /// Where it is from.
    pub origin: Origin,
}

/// Rows in the order of the model.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rows(pub Vec<Row>);

impl Rows {
    /// Values by their keys, for programs.
    pub fn map(&self) -> Map<String, Value> {
        self.0.iter().map(|row| (row.key.clone(), row.value.clone())).collect()
    }
}

impl Rows {
    /// What would be the job's own is the bench's where a bench file says so.
    pub fn from_bench(&mut self, bench: &Bench) {
        let same = |row: &Row, key: &String| {
            *key == row.name || (row.name == "ambient" && key == "room.temperature")
        };
        for row in self.0.iter_mut().filter(|row| row.origin == Origin::Job) {
            if bench.keys.iter().any(|key| same(row, key)) {
                row.origin = Origin::Bench(bench.file.clone());
            }
        }
    }
}

/// Takes numbers down on their way into the setup, or lets them pass: a draw, one of
/// thousands, pays nothing for rows that nobody reads.
#[derive(Debug, Default)]
pub struct Recorder(Option<Rows>);

impl Recorder {
    /// One that takes everything down; the default takes nothing.
    pub fn awake() -> Self {
        Self(Some(Rows::default()))
    }

    /// Another that does as this one does, for rows that come later.
    pub fn beside(&self) -> Self {
        Self(self.0.as_ref().map(|_| Rows::default()))
    }

    /// Takes over what another has taken down.
    pub fn append(&mut self, other: Self) {
        if let (Self(Some(mine)), Self(Some(other))) = (self, other) {
            mine.0.extend(other.0);
        }
    }

    /// What it has taken down.
    pub fn rows(self) -> Rows {
        self.0.unwrap_or_default()
    }

    /// A number from wherever `origin` says.
    pub fn put<V: Serialize>(
        &mut self,
        name: impl Display,
        unit: Unit,
        value: V,
        origin: impl FnOnce() -> Origin,
    ) -> V {
        if let Some(rows) = &mut self.0 {
            let name = name.to_string();
            let (key, value_as_json) = (unit.key(&name), json!(&value));
            rows.0.push(Row { key, name, value: value_as_json, unit, origin: origin() });
        }
        value
    }

    /// A number that the job states, or that holds where it says nothing.
    pub fn job<V: Serialize>(&mut self, name: impl Display, unit: Unit, value: V) -> V {
        self.put(name, unit, value, || Origin::Job)
    }

    /// A number of an entry in stock, or of the user's own in its place.
    pub fn stock<V: Serialize, T>(
        &mut self,
        name: impl Display,
        unit: Unit,
        value: V,
        number: &Sourced<T>,
    ) -> V {
        self.put(name, unit, value, || Origin::of(number))
    }

    /// A number worked out from others.
    pub fn worked<V: Serialize>(
        &mut self,
        name: impl Display,
        unit: Unit,
        value: V,
        from: &'static str,
    ) -> V {
        self.put(name, unit, value, || Origin::Worked(from))
    }
}
