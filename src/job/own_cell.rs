//! `cell = { like = "LR6", ... }`: a cell of stock with the user's own numbers laid over.

use super::reader::{Reader, quoted};
use super::tree::short;
use crate::laws::curve::Curve;
use crate::stock::{Cell, Named, Sourced, Stock};
use crate::units::Quantity;
use crate::units::say::figures;

/// Replaces a number when its key is there.
fn over<Q: Quantity>(r: &mut Reader, key: &str, low: &str, high: &str, slot: &mut Sourced<Q>) {
    if let Some(at) = r.quantity::<Q>(key, low, high) {
        *slot = Sourced::own(at.is);
    }
}

pub fn read(mut r: Reader, stock: &Stock) -> Option<Cell> {
    let names = quoted(stock.cells.iter().map(Named::name));
    let what = format!("the cell in stock that lends what is not given: {names}");
    r.require("like", &what);
    let base = r.named("like", &stock.cells, &names);
    // Without a base the keys are still read, so that all complaints come at once.
    let mut cell = base.or(stock.cells.first())?.clone();
    let name = r.text("name", "the cell's name, a text");
    cell.name = match name {
        Some(name) => short(&name.is),
        None => format!("{} (own numbers)", cell.name),
    };
    electrical(&mut r, &mut cell, base.is_some());
    thermal(&mut r, &mut cell);
    curves(&mut r, &mut cell);
    r.finish();
    base.map(|_| cell)
}

fn electrical(r: &mut Reader, cell: &mut Cell, based: bool) {
    if let Some(flag) = r.flag("rechargeable") {
        cell.rechargeable = flag.is;
    }
    over(r, "nominal", "0.5 V", "60 V", &mut cell.nominal);
    over(r, "capacity", "1 mAh", "1000 Ah", &mut cell.capacity);
    over(r, "well_rate", "1e-7 1/s", "1 1/s", &mut cell.well_rate);
    over(r, "r0", "0.01 mohm", "100 ohm", &mut cell.r0);
    over(r, "r0_temperature", "-10000 K", "10000 K", &mut cell.r0_temperature);
    over(r, "r1", "0.01 mohm", "100 ohm", &mut cell.r1);
    over(r, "c1", "1 F", "1000000 F", &mut cell.c1);
    over(r, "cutoff", "0.1 V", "60 V", &mut cell.cutoff);
    over(r, "continuous_current", "1 mA", "1000 A", &mut cell.continuous_current);
    over(r, "capacity_spread", "0 %", "100 %", &mut cell.capacity_spread);
    over(r, "resistance_spread", "0 %", "100 %", &mut cell.resistance_spread);
    if let Some(share) = r.number("available_share", 0.001, 0.999) {
        cell.available_share = Sourced::own(crate::stock::Number(share.is));
    }
    // r1 and c1 make the one time constant that the run must follow.
    let tau = cell.r1.is.si() * cell.c1.is.si();
    if based && !(0.1..=1e6).contains(&tau) {
        let key = if r.has("c1") { "c1" } else { "r1" };
        let tau = figures(tau, 3);
        r.complain(key, format!("r1 times c1 is {tau} s; allowed: 0.1 s to 1000000 s"));
    }
}

fn thermal(r: &mut Reader, cell: &mut Cell) {
    over(r, "mass", "1 g", "100 kg", &mut cell.mass);
    over(r, "specific_heat", "100 J/(kg K)", "5000 J/(kg K)", &mut cell.specific_heat);
    over(r, "diameter", "3 mm", "1 m", &mut cell.diameter);
    over(r, "length", "3 mm", "1 m", &mut cell.length);
    over(r, "radial_conductivity", "0.05 W/(m K)", "50 W/(m K)", &mut cell.radial_conductivity);
    over(r, "entropy", "-5 mV/K", "5 mV/K", &mut cell.entropy);
    over(r, "max_temperature", "20 degC", "150 degC", &mut cell.max_temperature);
    if let Some(emissivity) = r.number("emissivity", 0.0, 1.0) {
        cell.emissivity = Sourced::own(crate::stock::Number(emissivity.is));
    }
}

fn curves(r: &mut Reader, cell: &mut Cell) {
    const ALLOWED: &str = "up to 200 pairs [share left, value], the share rising from 0 to 1, \
                           values above 0 and below 100";
    for (key, slot) in
        [("ocv_curve_v", &mut cell.ocv_curve_v), ("r0_curve_factor", &mut cell.r0_curve_factor)]
    {
        let Some(at) = r.pairs(key, ALLOWED) else {
            continue;
        };
        let inside = |[x, y]: &&[f64; 2]| (0.0..=1.0).contains(x) && *y > 0.0 && *y < 100.0;
        let found = match (Curve::new(at.is.clone()), at.is.iter().find(|p| !inside(p))) {
            (Err(why), _) => why.to_string(),
            (_, Some([x, y])) => format!("the pair [{x:?}, {y:?}]"),
            (Ok(_), None) if at.is.len() > 200 => format!("{} pairs", at.is.len()),
            (Ok(_), None) => {
                *slot = Sourced::own(crate::stock::Pairs(at.is));
                continue;
            }
        };
        r.complain(key, format!("found {found}; allowed: {ALLOWED}"));
    }
}
