//! What the trade knows: holders, resists, how uncertain things are, how warm is too warm.

use super::rows::rows;
use super::sourced::{AsWritten, Number, Sourced, takes, within};
use crate::units::{ChargePerArea, Quantity, Resistance, Share, Temperature, Time};

rows! {
    /// A holder of cells.
    Holder called "Name." {
        /// In plain words.
        title: String = "", takes("a text");
        exposed_share: Sourced<Share> = "surface left open, worst cell", within("1 %", "100 %").turn(1);
        contact: Sourced<Resistance> = "of a cell, both ends", within("0 ohm", "10 ohm").turn(1);
        convection_factor: Sourced<Number> = "on natural convection", within("0.01", "20").turn(1);
        /// What to know of it.
        note: String = "", takes("what to know of it, a text").optional();
    }
}

rows! {
    /// A resist.
    Resist called "Name." {
        begins: Sourced<ChargePerArea> = "begins to lift, charge through the bare metal", within("1 C/cm2", "1000000 C/cm2").turn(1);
        sure: Sourced<ChargePerArea> = "has lifted", within("1 C/cm2", "1000000 C/cm2").turn(1);
        max_temperature: Sourced<Temperature> = "warmest it may get", within("10 degC", "150 degC").turn(1);
        /// What to know of it.
        note: String = "", takes("what to know of it, a text").optional();
    }
}

rows! {
    /// What to warn by when no resist is named.
    DefaultResist {
        begins: Sourced<ChargePerArea> = "begins to lift, charge through the bare metal", within("1 C/cm2", "1000000 C/cm2");
        sure: Sourced<ChargePerArea> = "has lifted", within("1 C/cm2", "1000000 C/cm2");
        max_temperature: Sourced<Temperature> = "warmest it may get", within("10 degC", "150 degC");
        /// Why these.
        note: String = "", takes("why these, a text");
    }
}

/// Resists, and what holds where none is named.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Resists {
    /// By name.
    pub resist: Vec<Resist>,
    /// Where the job names none.
    pub default: DefaultResist,
}

impl Resists {
    /// Charge through each bare area at which a resist begins to lift, and has; of the usual one
    /// where none is named.
    pub fn lifts(&self, named: Option<&str>) -> (&Sourced<ChargePerArea>, &Sourced<ChargePerArea>) {
        let row = self.resist.iter().find(|r| named.is_some_and(|n| r.name == n));
        row.map_or((&self.default.begins, &self.default.sure), |r| (&r.begins, &r.sure))
    }
}

rows! {
    /// How uncertain one input is.
    SpreadRow {
        /// Key under `[spread]`.
        key: String = "", takes("a key of [spread]");
        /// In plain words.
        title: String = "", takes("a text");
        /// Whether a bench can measure it.
        measurable: bool = "", takes("true or false");
        sd: Sourced<Share> = "one standard deviation", within("0 %", "100 %");
        measured: Option<Sourced<Share>> = "the same where the job measures it", within("0 %", "100 %").optional();
        /// Why so much.
        reason: String = "", takes("why so much, a text");
    }
}

rows! {
    /// What holds where a job does not say.
    DefaultRow {
        /// Key in the job file.
        key: String = "", takes("a key of a job");
        /// In plain words.
        title: String = "", takes("a text");
        /// The value.
        value: Sourced<AsWritten> = "", takes("");
    }
}

rows! {
    /// A burn threshold (ISO 13732-1).
    Threshold {
        /// Time of contact.
        contact: Sourced<Time> = "contact", within("0.1 s", "24 h");
        temperature: Sourced<Temperature> = "of the surface", within("30 degC", "100 degC");
    }
}

impl Threshold {
    /// Time of contact, s.
    pub fn contact_s(&self) -> f64 {
        self.contact.is.si()
    }
}
