//! A number with its source and how sure it is, and the key that it stands under.

use crate::laws::curve::Curve;
use crate::reader::{At, Node, Reader};
use crate::units::{Kind, Quantity};
use serde_json::{Value, json};
use std::borrow::Cow;

/// How sure a number is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
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
    #[default]
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

    fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, sure)| *sure == self).map_or("", |(word, _)| word)
    }
}

/// A value, where it is from and how sure it is.
#[derive(Debug, Clone, PartialEq, Default)]
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

/// A key of a catalogue: how it is read, told and put in words.
#[derive(Debug, Clone, Copy)]
pub struct Key {
    /// The key.
    pub name: &'static str,
    /// What it means, in a few words; none where it speaks for itself.
    pub words: &'static str,
    /// Least value, as it is written; of a text, a list or a table what it takes.
    pub low: &'static str,
    /// Greatest value.
    pub high: &'static str,
    /// Unit of plain numbers, which the key's name has.
    pub unit: &'static str,
    /// Words out of which a text or a list is chosen; empty for any.
    pub of: fn() -> Vec<&'static str>,
    /// Whether it may be left out.
    pub optional: bool,
    /// When it is read; keys of one table are read by this, and shown as they are written.
    pub turn: u8,
}

/// A key that takes numbers from `low` to `high`, both as they are written.
pub const fn within(low: &'static str, high: &'static str) -> Key {
    Key { name: "", words: "", low, high, unit: "", of: Vec::new, optional: false, turn: 0 }
}

/// A key of a text, a list or a table, and what it takes.
pub const fn takes(what: &'static str) -> Key {
    within(what, "")
}

impl Key {
    /// With a unit that its name has.
    pub const fn unit(self, unit: &'static str) -> Self {
        Self { unit, ..self }
    }

    /// With the words to choose from.
    pub const fn of(self, of: fn() -> Vec<&'static str>) -> Self {
        Self { of, ..self }
    }

    /// One that may be left out.
    pub const fn optional(self) -> Self {
        Self { optional: true, ..self }
    }

    /// One that is read in a turn after the first.
    pub const fn turn(self, turn: u8) -> Self {
        Self { turn, ..self }
    }

    fn range(&self) -> (f64, f64) {
        // The ends are ours and do parse; a test reads every one.
        let end = |text: &str| text.parse().unwrap_or(f64::NAN);
        (end(self.low), end(self.high))
    }
}

/// What a catalogue may hold under `is`.
pub trait Datum: Sized {
    /// What a key of this takes, in words.
    fn what(key: &Key) -> String;
    /// From what stands under the key `at`.
    fn read(r: &mut Reader, at: &str, key: &Key) -> Option<At<Self>>;
    /// As a person would write it: the value and its unit, where it has one.
    fn written(&self) -> (Value, Option<Cow<'static, str>>);
}

impl<Q: Quantity> Datum for Q {
    fn what(_: &Key) -> String {
        Q::KIND.allowed()
    }

    fn read(r: &mut Reader, at: &str, key: &Key) -> Option<At<Self>> {
        r.quantity(at, key.low, key.high)
    }

    fn written(&self) -> (Value, Option<Cow<'static, str>>) {
        // The first unit of a kind is the one to suggest.
        let Kind { units, .. } = Q::KIND;
        let unit = &units[0];
        (rounded((self.si() - unit.offset) / unit.factor).into(), Some(unit.name.into()))
    }
}

/// Without the last binary digits, in which only the units' factors show.
fn rounded(x: f64) -> f64 {
    format!("{x:.12e}").parse().unwrap_or(x)
}

/// A plain number.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Number(pub f64);

impl Datum for Number {
    fn what(key: &Key) -> String {
        format!("a number from {} to {}", key.low, key.high)
    }

    fn read(r: &mut Reader, at: &str, key: &Key) -> Option<At<Self>> {
        let (low, high) = key.range();
        r.number(at, low, high).map(|x| x.map(Self))
    }

    fn written(&self) -> (Value, Option<Cow<'static, str>>) {
        (self.0.into(), None)
    }
}

/// Pairs of numbers: something over the share of charge that is left.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pairs(pub Vec<[f64; 2]>);

impl Datum for Pairs {
    fn what(_: &Key) -> String {
        "up to 200 pairs [share left, value], the share rising from 0 to 1, values above 0 and \
         below 100"
            .into()
    }

    fn read(r: &mut Reader, at: &str, key: &Key) -> Option<At<Self>> {
        let inside = |[x, y]: &[f64; 2]| (0.0..=1.0).contains(x) && *y > 0.0 && *y < 100.0;
        curve(r, at, &Self::what(key), 1, inside).map(|at| at.map(Self))
    }

    fn written(&self) -> (Value, Option<Cow<'static, str>>) {
        (json!(self.0), None)
    }
}

/// Points of a conductivity curve, mol/L against mS/cm.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Points(pub Vec<[f64; 2]>);

impl Datum for Points {
    fn what(_: &Key) -> String {
        "2 to 200 pairs [mol/L, mS/cm], the first numbers rising, the second from 0.1 to 2000"
            .into()
    }

    fn read(r: &mut Reader, at: &str, key: &Key) -> Option<At<Self>> {
        let inside = |[x, y]: &[f64; 2]| (0.0..=50.0).contains(x) && (0.1..=2000.0).contains(y);
        curve(r, at, &Self::what(key), 2, inside).map(|at| at.map(Self))
    }

    fn written(&self) -> (Value, Option<Cow<'static, str>>) {
        (json!(self.0), None)
    }
}

/// `least` to 200 pairs that make a curve and lie inside what is allowed.
fn curve(
    r: &mut Reader,
    key: &str,
    allowed: &str,
    least: usize,
    inside: impl Fn(&[f64; 2]) -> bool,
) -> Option<At<Vec<[f64; 2]>>> {
    let at = r.pairs(key, allowed)?;
    let found = match (Curve::new(at.is.clone()), at.is.iter().find(|p| !inside(p))) {
        (Err(why), _) => why.to_string(),
        (Ok(_), _) if !(least..=200).contains(&at.is.len()) => format!("{} pairs", at.is.len()),
        (Ok(_), Some([x, y])) => format!("the pair [{x:?}, {y:?}]"),
        (Ok(_), None) => return Some(at),
    };
    r.complain(key, format!("found {found}; allowed: {allowed}"));
    None
}

/// A value as written, of whatever kind: "4 h", 2, "medium", false.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AsWritten {
    value: Value,
    unit: Option<String>,
}

impl Datum for AsWritten {
    fn what(_: &Key) -> String {
        "a text, a number, true or false".into()
    }

    fn read(r: &mut Reader, at: &str, key: &Key) -> Option<At<Self>> {
        let node = &r.item(at)?.node;
        let (value, unit) = match node {
            Node::Flag(b) => ((*b).into(), None),
            Node::Whole(n) => ((*n).into(), None),
            Node::Float(x) => ((*x).into(), None),
            Node::Text(text) => match text.split_once(' ') {
                Some((number, unit)) if number.parse::<f64>().is_ok_and(f64::is_finite) => {
                    (number.parse::<f64>().unwrap_or_default().into(), Some(unit.into()))
                }
                _ => (text.as_str().into(), None),
            },
            other => {
                let allowed = Self::what(key);
                r.complain(at, format!("found {}; allowed: {allowed}", other.kind()));
                return None;
            }
        };
        Some(At { is: Self { value, unit }, place: r.place.clone(), key: r.full(at) })
    }

    fn written(&self) -> (Value, Option<Cow<'static, str>>) {
        (self.value.clone(), self.unit.clone().map(Cow::Owned))
    }
}

impl<T: Datum> Sourced<T> {
    /// As an object of value, unit, source and certainty.
    pub(super) fn shown(&self, key: &Key) -> Value {
        let (value, unit) = self.is.written();
        let unit = if key.unit.is_empty() { unit } else { Some(key.unit.into()) };
        let certainty = self.certainty.word();
        json!({ "value": value, "unit": unit, "source": self.source, "certainty": certainty })
    }
}
