//! A number with its source and how sure it is.

use crate::units::{Quantity, parse};
use serde::{Deserialize, Deserializer, de::Error};

/// How sure a number is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Certainty {
    /// Seen in a published page or a library's data file.
    Read,
    /// Worked out here from numbers that are.
    Computed,
    /// Recalled, not verified.
    Memory,
    /// Chosen by us, for the reason its source gives.
    Judgement,
    /// The user's own, from the job.
    Own,
}

/// A value, where it is from and how sure it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced<T> {
    /// The value.
    pub is: T,
    /// Key of its source text in the catalogue.
    pub source: String,
    /// How sure it is.
    pub certainty: Certainty,
}

impl<T> Sourced<T> {
    /// A value from the user's job.
    pub fn own(is: T) -> Self {
        Self { is, source: "the job".into(), certainty: Certainty::Own }
    }
}

/// What a catalogue may hold under `is`.
pub trait Datum: Sized {
    /// From the TOML value.
    fn read(value: toml::Value) -> Result<Self, String>;
}

impl<Q: Quantity> Datum for Q {
    fn read(value: toml::Value) -> Result<Self, String> {
        let text = value.as_str().ok_or("a quantity is a text with a unit")?;
        parse(text).map_err(|e| format!("found {}; allowed: {}", e.found, e.allowed))
    }
}

/// A plain number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number(pub f64);

impl Datum for Number {
    fn read(value: toml::Value) -> Result<Self, String> {
        let number = value.as_float().or_else(|| value.as_integer().map(|i| i as f64));
        number.filter(|x| x.is_finite()).map(Self).ok_or_else(|| "not a finite number".into())
    }
}

/// Pairs of numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Pairs(pub Vec<[f64; 2]>);

impl Datum for Pairs {
    fn read(value: toml::Value) -> Result<Self, String> {
        let pair = |v: &toml::Value| match v.as_array().map(Vec::as_slice) {
            Some([x, y]) => Ok([Number::read(x.clone())?.0, Number::read(y.clone())?.0]),
            _ => Err("a curve is a list of pairs of numbers".to_string()),
        };
        let list = value.as_array().ok_or("a curve is a list of pairs of numbers")?;
        list.iter().map(pair).collect::<Result<_, _>>().map(Self)
    }
}

impl<'de, T: Datum> Deserialize<'de> for Sourced<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct Raw {
            is: toml::Value,
            source: String,
            certainty: Certainty,
        }
        let raw = Raw::deserialize(deserializer)?;
        let is = T::read(raw.is).map_err(D::Error::custom)?;
        Ok(Self { is, source: raw.source, certainty: raw.certainty })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Voltage;

    #[test]
    fn a_row_without_a_source_is_refused() {
        let full = "is = '1.5 V'\nsource = 'x'\ncertainty = 'read'\n";
        assert!(toml::from_str::<Sourced<Voltage>>(full).is_ok());
        for gone in ["source = 'x'\n", "certainty = 'read'\n", "is = '1.5 V'\n"] {
            let text = full.replace(gone, "");
            assert!(toml::from_str::<Sourced<Voltage>>(&text).is_err(), "{text}");
        }
        for bad in ["'1.5'", "1.5", "'1.5 A'", "true"] {
            let text = full.replace("'1.5 V'", bad);
            assert!(toml::from_str::<Sourced<Voltage>>(&text).is_err(), "{text}");
        }
    }
}
