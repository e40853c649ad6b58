//! `[[stage]]`: one source after the other on the same piece, each until a time or a depth.

use super::source::{self, Source};
use crate::reader::{At, Place, Reader, short};
use crate::stock::Stock;
use crate::units::{Length, Quantity, Time, parse};

/// One source of several.
#[derive(Debug, Clone)]
pub struct Stage {
    /// The source.
    pub source: Source,
    /// Until when; none for the last.
    pub until: Option<At<Until>>,
}

/// When a source has done its part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Until {
    /// After so long with the current on.
    Time(Time),
    /// With the floor so deep.
    Depth(Length),
}

/// Most stages of a job.
const MOST: usize = 8;
const ALLOWED: &str = "a time such as \"45 min\", 1 s to 100 h, or a depth such as \"0.2 mm\", \
                       0.001 mm to 20 mm";

/// Reads the stages; none where the job has none. `source` is the only one or the first.
pub fn read(reader: &mut Reader, stock: &Stock) -> Vec<Stage> {
    let tables = reader.tables("stage");
    let count = tables.len();
    if count > 0 && reader.has("source") {
        reader.complain("source", "given beside [[stage]]; allowed: the one or the other");
    }
    if count == 1 {
        reader.complain("stage", "only one; allowed: two or more, or a [source] alone");
    }
    let mut list = Vec::new();
    for (n, sub) in tables.into_iter().enumerate() {
        if n == MOST {
            sub.complain("", format!("one stage too many; allowed: {MOST} at most"));
        }
        list.extend(stage(sub, n + 1 == count, stock));
    }
    if list.len() == count { list } else { Vec::new() }
}

fn stage(mut r: Reader, last: bool, stock: &Stock) -> Option<Stage> {
    if !last {
        r.require("until", ALLOWED);
    }
    let until = r.text("until", ALLOWED);
    let read = until.as_ref().map(|at| (at, until_of(&at.is)));
    if let Some((at, None)) = &read {
        r.complain("until", format!("found \"{}\"; allowed: {ALLOWED}", short(&at.is)));
    }
    if last && until.is_some() {
        r.complain("until", "the last stage goes on to the depth of the piece; leave it out");
    }
    let until = read.and_then(|(at, until)| Some(placed(until?, &at.place, &at.key)));
    let source = source::read(r, stock)?;
    if !last && until.is_none() {
        return None;
    }
    Some(Stage { source, until })
}

fn placed(is: Until, place: &Place, key: &str) -> At<Until> {
    At { is, place: place.clone(), key: key.into() }
}

fn until_of(text: &str) -> Option<Until> {
    let time = parse::<Time>(text).ok().filter(|t| (1.0..=360_000.0).contains(&t.si()));
    let depth = || parse::<Length>(text).ok().filter(|d| (1e-6..=20e-3).contains(&d.si()));
    time.map(Until::Time).or_else(|| depth().map(Until::Depth))
}
