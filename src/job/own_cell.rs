//! `cell = { like = "LR6", ... }`: a cell of stock with the user's own numbers laid over.

use super::reader::{Reader, nearest, quoted};
use crate::laws::curve::Curve;
use crate::stock::{Cell, Named, Sourced, Stock, find};
use crate::units::Quantity;

/// Replaces a number when its key is there.
fn over<Q: Quantity>(r: &mut Reader, key: &str, low: &str, high: &str, slot: &mut Sourced<Q>) {
    if let Some(at) = r.quantity::<Q>(key, low, high) {
        *slot = Sourced::own(at.is);
    }
}

pub fn read(mut r: Reader, stock: &Stock) -> Option<Cell> {
    let names = quoted(stock.cells.iter().map(Named::name));
    let what = format!("the cell of stock that it is like, which lends what is not given: {names}");
    r.require("like", &what);
    let like = r.text("like", &names);
    let base = like.as_ref().and_then(|text| {
        let found = find(&stock.cells, &text.is);
        if found.is_none() {
            let near = nearest(&text.is, stock.cells.iter().map(Named::name));
            let hint = near.map(|n| format!("did you mean \"{n}\"? ")).unwrap_or_default();
            let text = format!("\"{}\" is not in stock; {hint}allowed: {names}", text.is);
            r.complain("like", text);
        }
        found
    });
    // Without a base the keys are still read, so that all complaints come at once.
    let mut cell = base.or(stock.cells.first())?.clone();
    let name = r.text("name", "the cell's name, a text");
    cell.name = match name {
        Some(name) => name.is,
        None => format!("{}, own numbers", cell.name),
    };
    electrical(&mut r, &mut cell);
    thermal(&mut r, &mut cell);
    curves(&mut r, &mut cell);
    r.finish();
    base.map(|_| cell)
}

fn electrical(r: &mut Reader, cell: &mut Cell) {
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
    if !(0.1..=1e6).contains(&tau) {
        r.complain("c1", format!("r1 times c1 is {tau} s; allowed: 0.1 s to 1000000 s"));
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
    const ALLOWED: &str = "pairs [share left, value], the share rising from 0 to 1, values above 0";
    for (key, slot) in
        [("ocv_curve_v", &mut cell.ocv_curve_v), ("r0_curve_factor", &mut cell.r0_curve_factor)]
    {
        let Some(at) = r.pairs(key, ALLOWED) else {
            continue;
        };
        let fits = at.is.len() <= 200
            && at.is.iter().all(|[x, y]| (0.0..=1.0).contains(x) && *y > 0.0 && *y < 100.0);
        match Curve::new(at.is.clone()) {
            Ok(_) if fits => *slot = Sourced::own(crate::stock::Pairs(at.is)),
            Ok(_) => r.complain(key, format!("found a point out of range; allowed: {ALLOWED}")),
            Err(why) => r.complain(key, format!("found {why}; allowed: {ALLOWED}")),
        }
    }
}
