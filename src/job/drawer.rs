//! `[[drawer]]`: what the studio owns, cells, supplies and adapters.

use super::source::{Adapter, HIGHEST, Supply, no_resistor};
use crate::reader::{At, Reader, quoted, short};
use crate::stock::{self, Named, Stock};
use crate::units::say;
use crate::units::{Current, Quantity, Resistance, Share, Voltage};

/// One thing that is owned.
#[derive(Debug, Clone)]
pub struct Owned {
    /// What it is called.
    pub name: String,
    /// What it is.
    pub rated: Rated,
}

/// What it is, as its label or the user's meter says.
#[derive(Debug, Clone)]
pub enum Rated {
    /// Cells.
    Cells {
        /// The cell.
        cell: Box<stock::Cell>,
        /// How many.
        have: u32,
        /// Charge left in each.
        charge_left: Share,
        /// The holder they go in, where there is one only.
        holder: Option<stock::Holder>,
    },
    /// A bench supply: the most volts and amperes that it may be set to.
    Supply(Supply),
    /// An adapter or a charger, as it is.
    Adapter(Adapter),
}

/// Words in the names of what gives its own voltage whatever is drawn, up to the current of its
/// label, and is not to be set (common practice, no published source).
const CHARGERS: [&str; 7] =
    ["usb", "charger", "power bank", "powerbank", "brick", "phone", "laptop"];
/// How far such a one may sag at the current of its label: USB 2.0 allows 4.75 V of 5 V (from
/// memory).
const CHARGER_SAGS: f64 = 0.05;
const CELLS: &[&str] = &["cell", "have", "charge_left", "holder"];
const OTHERS: &[&str] = &[
    "kind",
    "voltage",
    "current_limit",
    "output_resistance",
    "open_voltage",
    "series_resistance",
    "rated_voltage",
    "rated_current",
];
const WHAT: &str = "cell with have; a name with voltage and current_limit (a bench supply or a \
                    charger); or a name with open_voltage, rated_voltage and rated_current (an \
                    adapter)";

/// Reads the drawer.
pub fn read(reader: &mut Reader, stock: &Stock) -> Vec<Owned> {
    reader.tables("drawer").into_iter().filter_map(|sub| owned(sub, stock)).collect()
}

fn owned(mut r: Reader, stock: &Stock) -> Option<Owned> {
    let name = r.text("name", "a text to tell it by").map(|n| short(n.is.trim()));
    let owned = if r.has("cell") {
        for key in OTHERS.iter().filter(|key| r.has(key)) {
            r.complain(key, "given beside cell; allowed: the one or the other");
        }
        r.leave(OTHERS);
        cells(&mut r, name, stock)
    } else {
        for key in CELLS.iter().filter(|key| r.has(key)) {
            r.complain(key, "belongs to cells; name the cell too");
        }
        r.leave(CELLS);
        powered(&mut r, name)
    };
    r.finish();
    owned
}

fn cells(r: &mut Reader, name: Option<String>, stock: &Stock) -> Option<Owned> {
    let names = quoted(stock.cells.iter().map(Named::name));
    let cell = r.named("cell", &stock.cells, &names).cloned();
    r.require("have", "how many, such as 8");
    let have = r.whole("have", 0, 1000);
    let charge = r.quantity::<Share>("charge_left", "0 %", "100 %");
    let holders = quoted(stock.holders.iter().map(Named::name));
    let holder = r.named("holder", &stock.holders, &holders).cloned();
    let cell = Box::new(cell?);
    Some(Owned {
        name: name.unwrap_or_else(|| match &charge {
            // Two lots of one cell are told apart by what is left in them.
            Some(left) if left.is.si() < 1.0 => {
                format!("{}, {} left", cell.name, say::share(left.is.si()))
            }
            _ => cell.name.clone(),
        }),
        rated: Rated::Cells {
            cell,
            have: have?.is,
            charge_left: charge.map_or_else(|| Share::from_si(1.0), |c| c.is),
            holder,
        },
    })
}

fn powered(r: &mut Reader, name: Option<String>) -> Option<Owned> {
    let kind = r.text("kind", "\"supply\" or \"adapter\"").map(|k| k.is.trim().to_lowercase());
    if kind.as_ref().is_some_and(|k| k != "supply" && k != "adapter") {
        r.complain("kind", "allowed: \"supply\", \"adapter\"");
        return None;
    }
    let mut volts = |key: &str| r.quantity::<Voltage>(key, "0.1 V", HIGHEST);
    let (voltage, open, rated) = (volts("voltage"), volts("open_voltage"), volts("rated_voltage"));
    let mut amps = |key: &str| r.quantity::<Current>(key, "1 mA", "200 A");
    let (limit, rated_a) = (amps("current_limit"), amps("rated_current"));
    let mut ohms = |key: &str| r.quantity::<Resistance>(key, "0 ohm", "1 kohm");
    let (out, series) = (ohms("output_resistance"), ohms("series_resistance"));
    // A label's numbers are those of a thing that is as it is; a bench supply is set.
    let named = |n: &String| CHARGERS.iter().any(|word| n.to_lowercase().contains(word));
    let charger = name.as_ref().is_some_and(named) || (voltage.is_none() && rated.is_some());
    let volts = voltage.or(rated).map(|v: At<Voltage>| v.is);
    let amps = limit.or(rated_a).map(|a: At<Current>| a.is);
    let rated = match (open, volts, amps) {
        (Some(open), volts, amps) => {
            let sag = volts.zip(amps).map(|(v, a)| (open.is.si() - v.si()) / a.si());
            let Some(ohm) = series.map(|s| s.is.si()).or(sag).filter(|ohm| *ohm >= 0.0) else {
                r.complain(
                    "open_voltage",
                    "beside it: series_resistance, or rated_voltage under it and rated_current",
                );
                return None;
            };
            Rated::Adapter(Adapter {
                open_voltage: open.is,
                series_resistance: Resistance::from_si(ohm),
                rated_current: amps,
                resistor: no_resistor(),
            })
        }
        (None, Some(volts), Some(amps)) if charger => Rated::Adapter(Adapter {
            open_voltage: volts,
            series_resistance: Resistance::from_si(CHARGER_SAGS * volts.si() / amps.si()),
            rated_current: Some(amps),
            resistor: no_resistor(),
        }),
        (None, Some(voltage), Some(amps)) if kind.as_deref() != Some("adapter") => {
            Rated::Supply(Supply {
                voltage,
                current_limit: Some(amps),
                output_resistance: out.map_or(no_resistor(), |x| x.is),
                resistor: no_resistor(),
                pulse: None,
            })
        }
        (None, Some(_), Some(_)) => {
            r.missing("open_voltage", "what a meter shows at its plug with nothing on it");
            return None;
        }
        _ => {
            r.missing("cell", WHAT);
            return None;
        }
    };
    let name = name.unwrap_or_else(|| {
        if matches!(rated, Rated::Supply(_)) { "bench supply" } else { "adapter" }.into()
    });
    Some(Owned { name, rated })
}
