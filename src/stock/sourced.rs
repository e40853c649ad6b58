//! A number with its source and how sure it is.

use crate::units::{Quantity, parse};
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};
use std::borrow::Cow;

/// How sure a number is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
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
    /// The user's own, from a job or a stock file.
    Own,
}

impl Certainty {
    /// All, by the words of a catalogue.
    pub const ALL: [(&'static str, Self); 5] = [
        ("read", Self::Read),
        ("computed", Self::Computed),
        ("memory", Self::Memory),
        ("judgement", Self::Judgement),
        ("own", Self::Own),
    ];
}

/// A value, where it is from and how sure it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced<T> {
    /// The value.
    pub is: T,
    /// Where it is from.
    pub source: String,
    /// How sure it is.
    pub certainty: Certainty,
}

/// The source of a number that the job itself gives.
pub const OF_THE_JOB: &str = "the job";

impl<T> Sourced<T> {
    /// A value from the user's job.
    pub fn own(is: T) -> Self {
        Self { is, source: OF_THE_JOB.into(), certainty: Certainty::Own }
    }
}

/// What a catalogue may hold under `is`.
pub trait Datum: Sized {
    /// From the TOML value.
    fn read(value: toml::Value) -> Result<Self, String>;
    /// As a person would write it: the value and its unit, where it has one.
    fn written(&self) -> (serde_json::Value, Option<Cow<'static, str>>);
}

impl<Q: Quantity> Datum for Q {
    fn read(value: toml::Value) -> Result<Self, String> {
        let text = value.as_str().ok_or("a quantity is a text with a unit")?;
        parse(text).map_err(|e| format!("found {}; allowed: {}", e.found, e.allowed))
    }

    fn written(&self) -> (serde_json::Value, Option<Cow<'static, str>>) {
        // The first unit of a kind is the one to suggest.
        let unit = &Q::KIND.units[0];
        (rounded((self.si() - unit.offset) / unit.factor).into(), Some(unit.name.into()))
    }
}

/// Without the last binary digits, in which only the units' factors show.
fn rounded(x: f64) -> f64 {
    format!("{x:.12e}").parse().unwrap_or(x)
}

/// A plain number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number(pub f64);

impl Datum for Number {
    fn read(value: toml::Value) -> Result<Self, String> {
        let number = value.as_float().or_else(|| value.as_integer().map(|i| i as f64));
        number.filter(|x| x.is_finite()).map(Self).ok_or_else(|| "not a finite number".into())
    }

    fn written(&self) -> (serde_json::Value, Option<Cow<'static, str>>) {
        (self.0.into(), None)
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

    fn written(&self) -> (serde_json::Value, Option<Cow<'static, str>>) {
        (serde_json::json!(self.0), None)
    }
}

/// A value as written, of whatever kind: "4 h", 2, "medium", false.
#[derive(Debug, Clone, PartialEq)]
pub struct AsWritten {
    value: serde_json::Value,
    unit: Option<String>,
}

impl Datum for AsWritten {
    fn read(value: toml::Value) -> Result<Self, String> {
        let plain = |value| Ok(Self { value, unit: None });
        match value {
            toml::Value::Boolean(b) => plain(b.into()),
            toml::Value::Integer(n) => plain(n.into()),
            toml::Value::Float(x) => plain(x.into()),
            toml::Value::String(text) => match text.split_once(' ') {
                Some((number, unit)) if number.parse::<f64>().is_ok_and(f64::is_finite) => {
                    let value = number.parse::<f64>().unwrap_or_default().into();
                    Ok(Self { value, unit: Some(unit.into()) })
                }
                _ => plain(text.into()),
            },
            _ => Err("neither a text nor a number".into()),
        }
    }

    fn written(&self) -> (serde_json::Value, Option<Cow<'static, str>>) {
        (self.value.clone(), self.unit.clone().map(Cow::Owned))
    }
}

impl<T: Datum> Serialize for Sourced<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let (value, unit) = self.is.written();
        let mut map = serializer.serialize_map(Some(4))?;
        map.serialize_entry("value", &value)?;
        map.serialize_entry("unit", &unit)?;
        map.serialize_entry("source", &self.source)?;
        map.serialize_entry("certainty", &self.certainty)?;
        map.end()
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
