//! The small tests of a bench: a cell under two loads, a bath under two currents.

use crate::laws::conductivity::temperature_factor;
use crate::laws::two_loads::{self, Load};
use crate::reader::{Reader, quoted, short};
use crate::stock::{self, Named, Stock};
use crate::units::{
    Area, Current, Length, MolarConcentration, Quantity, Temperature, Time, Voltage,
};

/// A cell under two loads (IEC 61960-3).
#[derive(Debug, Clone, PartialEq)]
pub struct CellTrial {
    /// The cell's name in stock.
    pub cell: String,
    /// Resistance that came out, ohm.
    pub ohm: f64,
    /// What the cell in stock would show in the same test, ohm.
    pub stock_ohm: f64,
    /// Difference of the two voltages, V, and of the two currents, A.
    pub volts: f64,
    /// See `volts`.
    pub amps: f64,
}

/// A bath between two plates under one current or two.
#[derive(Debug, Clone, PartialEq)]
pub struct BathTrial {
    /// The salt's name in stock.
    pub electrolyte: String,
    /// Conductivity that came out, corrected to 25 degC, S/m.
    pub kappa25: f64,
    /// What stock has for this strength, S/m; none where it has none.
    pub stock_kappa25: Option<f64>,
    /// Whether two currents were used; with one, what the electrodes take counts as bath.
    pub two: bool,
    /// Difference of the two voltages, V, and of the two currents, A.
    pub volts: f64,
    /// See `volts`.
    pub amps: f64,
}

/// What was read under a load.
struct Read {
    amps: f64,
    volts: f64,
    after: f64,
}

fn load(r: &mut Reader, key: &str, usual_s: Option<f64>) -> Option<Read> {
    let mut sub = r.sub(key)?;
    sub.require("amps", "the current, such as \"0.4 A\"");
    sub.require("volts", "the voltage read under it, such as \"1.27 V\"");
    let amps = sub.quantity::<Current>("amps", "0 A", "1000 A");
    let volts = sub.quantity::<Voltage>("volts", "0 V", "60 V");
    let after = usual_s.and_then(|_| sub.quantity::<Time>("after", "1 ms", "10 min"));
    sub.finish();
    let after = after.map(|t| t.is.si()).or(usual_s).unwrap_or(0.0);
    Some(Read { amps: amps?.is.si(), volts: volts?.is.si(), after })
}

pub fn cell(mut r: Reader, stock: &Stock) -> Option<CellTrial> {
    let names = quoted(stock.cells.iter().map(Named::name));
    r.require("cell", &format!("a cell in stock: {names}"));
    r.require("first", "{ amps, volts, after }: the smaller load");
    r.require("second", "{ amps, volts, after }: the larger load");
    let cell = r.named("cell", &stock.cells, &names).cloned();
    let (first, second) = (load(&mut r, "first", Some(10.0)), load(&mut r, "second", Some(1.0)));
    let (first, second) = (first?, second?);
    if second.amps <= first.amps {
        r.complain("second", "no more amps than the first; allowed: the larger load second");
    } else if second.volts >= first.volts {
        r.complain("second", "no fewer volts than under the first load; no cell does that");
    }
    r.finish();
    let (amps, volts) = (second.amps - first.amps, first.volts - second.volts);
    let c: stock::Cell = cell.filter(|_| amps > 0.0 && volts > 0.0)?;
    let held = |read: &Read| Load { current: read.amps, after: read.after };
    let (r1, c1) = (c.r1.is.si(), c.c1.is.si());
    Some(CellTrial {
        ohm: two_loads::resistance((first.amps, first.volts), (second.amps, second.volts)),
        stock_ohm: two_loads::expected(c.r0.is.si(), r1, c1, held(&first), held(&second)),
        cell: c.name,
        volts,
        amps,
    })
}

pub fn bath(mut r: Reader, stock: &Stock) -> Option<BathTrial> {
    let names = quoted(stock.baths.iter().map(Named::name));
    for (key, what) in [
        ("electrolyte", names.as_str()),
        ("concentration", "the strength, such as \"0.5 mol/L\""),
        ("area", "the area of one plate, such as \"20 cm2\""),
        ("gap", "the distance of the plates, such as \"20 mm\""),
        ("first", "{ amps, volts }"),
    ] {
        r.require(key, what);
    }
    let salt = r.named("electrolyte", &stock.baths, &names).cloned();
    let strength = r.quantity::<MolarConcentration>("concentration", "1 mmol/L", "20 mol/L");
    let area = r.quantity::<Area>("area", "1 mm2", "4 m2");
    let gap = r.quantity::<Length>("gap", "0.1 mm", "1 m");
    let at = r.quantity::<Temperature>("temperature", "0 degC", "90 degC");
    let (first, second) = (load(&mut r, "first", None), load(&mut r, "second", None));
    let (two, first) = (second.is_some(), first?);
    let nothing = Read { amps: 0.0, volts: 0.0, after: 0.0 };
    let second = second.unwrap_or(nothing);
    let (amps, volts) = (second.amps - first.amps, second.volts - first.volts);
    if two && (amps <= 0.0 || volts <= 0.0) {
        r.complain("second", "not more amps and more volts than the first; allowed: both larger");
    } else if !two && (first.amps <= 0.0 || first.volts <= 0.0) {
        r.complain("first", "no amps or no volts; allowed: both over zero");
    }
    r.finish();
    let (salt, strength, area, gap) = (salt?, strength?.is, area?.is.si(), gap?.is.si());
    let reads = [(first.amps, first.volts), (second.amps, second.volts)];
    let (low, high) = if two { (reads[0], reads[1]) } else { ((0.0, 0.0), reads[0]) };
    let kappa = two_loads::conductivity(gap, area, low, high);
    let at = at.map_or(crate::job::rest::ROOM_K, |t| t.is.si());
    let kappa25 = kappa / temperature_factor(salt.beta.is.si(), at);
    Some(BathTrial {
        electrolyte: short(&salt.name),
        stock_kappa25: salt.kappa25(strength.si()),
        kappa25,
        two,
        volts: volts.abs(),
        amps: amps.abs(),
    })
    .filter(|t| t.kappa25.is_finite() && t.kappa25 > 0.0)
}
