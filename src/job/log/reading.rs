//! What was read at one time of a run.

use crate::reader::Reader;
use crate::units::{Current, Length, Mass, Quantity, Temperature, Time, Voltage};

/// One reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// When, s since the current was on.
    pub at_s: f64,
    /// Of what.
    pub what: What,
    /// Value, SI.
    pub value: f64,
}

/// What a reading is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum What {
    /// Voltage at the source's terminals, V.
    SourceVolts,
    /// Voltage between the piece and the pan, V.
    BathVolts,
    /// Current, A.
    Amps,
    /// Depth, m.
    Depth,
    /// Metal lost by all pieces together, kg.
    WeightLoss,
    /// Surface of the warmest cell, K.
    CellTemperature,
}

/// Latest that anything is read.
pub(super) const LATEST: &str = "100 h";

/// Least and most that is believed of a reading.
pub(super) fn ends(what: What) -> (&'static str, &'static str) {
    match what {
        What::SourceVolts | What::BathVolts => ("0 V", "60 V"),
        What::Amps => ("0 A", "1000 A"),
        What::Depth => ("0 mm", "20 mm"),
        What::WeightLoss => ("0 g", "10 kg"),
        What::CellTemperature => ("-20 degC", "200 degC"),
    }
}

impl What {
    /// All of them, as a log names them.
    pub const ALL: [(Self, &'static str); 6] = [
        (Self::SourceVolts, "source_volts"),
        (Self::BathVolts, "bath_volts"),
        (Self::Amps, "amps"),
        (Self::Depth, "depth"),
        (Self::WeightLoss, "weight_loss"),
        (Self::CellTemperature, "cell_temperature"),
    ];

    /// Its key in a log.
    pub fn key(self) -> &'static str {
        Self::ALL.iter().find(|(what, _)| *what == self).map_or("", |(_, key)| key)
    }
}

/// Everything that was read at one time; `cells` unless the source is known to have none.
pub fn reading(mut r: Reader, cells: bool, list: &mut Vec<Reading>) {
    r.require("at", "a time since the current was on, such as \"5 min\"");
    let at = r.quantity::<Time>("at", "0 s", LATEST).map(|t| t.is.si());
    let (low, high) = ends(What::SourceVolts);
    let volts = |r: &mut Reader, key| r.quantity::<Voltage>(key, low, high).map(|v| v.is.si());
    let (source_volts, bath_volts) = (volts(&mut r, "source_volts"), volts(&mut r, "bath_volts"));
    let [amps, depth, weight, warmth] =
        [What::Amps, What::Depth, What::WeightLoss, What::CellTemperature].map(ends);
    let values = [
        source_volts,
        bath_volts,
        r.quantity::<Current>("amps", amps.0, amps.1).map(|v| v.is.si()),
        r.quantity::<Length>("depth", depth.0, depth.1).map(|v| v.is.si()),
        r.quantity::<Mass>("weight_loss", weight.0, weight.1).map(|v| v.is.si()),
        r.quantity::<Temperature>("cell_temperature", warmth.0, warmth.1).map(|v| v.is.si()),
    ];
    if !What::ALL.iter().any(|(_, key)| r.has(key)) {
        let others: Vec<&str> = What::ALL.iter().map(|(_, key)| *key).collect();
        r.missing("amps", &format!("something that was read: any of {}", others.join(", ")));
    }
    if values[5].is_some() && !cells {
        r.complain("cell_temperature", "this job's source has no cells; allowed: only of a pack");
    }
    r.finish();
    let Some(at_s) = at else {
        return;
    };
    for ((what, _), value) in What::ALL.into_iter().zip(values) {
        list.extend(value.map(|value| Reading { at_s, what, value }));
    }
}
