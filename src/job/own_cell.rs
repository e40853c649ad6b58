//! `cell = { like = "LR6", ... }`: a cell of stock with the user's own numbers laid over, in a
//! job or in a stock file.

use super::numbers::Numbers;
use super::resolve::CORE_SHARE;
use crate::laws::cell::core_to_surface;
use crate::laws::curve::Curve;
use crate::reader::{At, Reader, quoted, short};
use crate::stock::{Cell, CutoffOn, Named, Pairs, Stock};
use crate::units::Quantity;
use crate::units::say::figures;

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
    if let Some(flag) = r.flag("rechargeable") {
        cell.rechargeable = flag.is;
    }
    let mut n = Numbers::of_job(r);
    numbers(&mut n, &mut cell, base.is_some());
    let r = n.finish();
    base?;
    holds_together(&r, &cell);
    Some(cell)
}

/// Lays every number over that is given; `based` when the cell's others may be trusted.
pub fn numbers(n: &mut Numbers, cell: &mut Cell, based: bool) {
    electrical(n, cell, based);
    thermal(n, cell);
    for (key, slot) in
        [("ocv_curve_v", &mut cell.ocv_curve_v), ("r0_curve_factor", &mut cell.r0_curve_factor)]
    {
        if let Some(got) = n.read(key, CURVE, curve) {
            *slot = got;
        }
    }
}

fn electrical(n: &mut Numbers, cell: &mut Cell, based: bool) {
    n.over("nominal", "0.5 V", "60 V", &mut cell.nominal);
    n.over("capacity", "1 mAh", "1000 Ah", &mut cell.capacity);
    n.over("well_rate", "1e-7 1/s", "1 1/s", &mut cell.well_rate);
    n.over("r0", "0.01 mohm", "100 ohm", &mut cell.r0);
    n.over("r0_temperature", "-10000 K", "10000 K", &mut cell.r0_temperature);
    n.over("r1", "0.01 mohm", "100 ohm", &mut cell.r1);
    n.over("c1", "1 F", "1000000 F", &mut cell.c1);
    n.over("cutoff", "0.1 V", "60 V", &mut cell.cutoff);
    n.over("continuous_current", "1 mA", "1000 A", &mut cell.continuous_current);
    n.over("capacity_spread", "0 %", "100 %", &mut cell.capacity_spread);
    n.over("resistance_spread", "0 %", "100 %", &mut cell.resistance_spread);
    n.over_number("available_share", 0.001, 0.999, &mut cell.available_share);
    // r1 and c1 make the one time constant that the run must follow.
    let tau = cell.r1.is.si() * cell.c1.is.si();
    if based && !(0.1..=1e6).contains(&tau) {
        let key = if n.r.has("c1") { "c1" } else { "r1" };
        let tau = figures(tau, 3);
        n.r.complain(
            key,
            format!("r1 times c1 is {tau} s; allowed: r1 and c1 that make 0.1 s to 1000000 s"),
        );
    }
}

fn thermal(n: &mut Numbers, cell: &mut Cell) {
    n.over("mass", "1 g", "100 kg", &mut cell.mass);
    n.over("specific_heat", "100 J/(kg K)", "5000 J/(kg K)", &mut cell.specific_heat);
    n.over("diameter", "3 mm", "1 m", &mut cell.diameter);
    n.over("length", "3 mm", "1 m", &mut cell.length);
    n.over("radial_conductivity", "0.05 W/(m K)", "50 W/(m K)", &mut cell.radial_conductivity);
    n.over("entropy", "-5 mV/K", "5 mV/K", &mut cell.entropy);
    n.over("max_temperature", "20 degC", "150 degC", &mut cell.max_temperature);
    n.over_number("emissivity", 0.0, 1.0, &mut cell.emissivity);
}

const CURVE: &str = "up to 200 pairs [share left, value], the share rising from 0 to 1, values \
                     above 0 and below 100";

fn curve(r: &mut Reader, key: &str) -> Option<At<Pairs>> {
    let at = r.pairs(key, CURVE)?;
    let inside = |[x, y]: &&[f64; 2]| (0.0..=1.0).contains(x) && *y > 0.0 && *y < 100.0;
    let found = match (Curve::new(at.is.clone()), at.is.iter().find(|p| !inside(p))) {
        (Err(why), _) => why.to_string(),
        (_, Some([x, y])) => format!("the pair [{x:?}, {y:?}]"),
        (Ok(_), None) if at.is.len() > 200 => format!("{} pairs", at.is.len()),
        (Ok(_), None) => return Some(At { is: Pairs(at.is), place: at.place, key: at.key }),
    };
    r.complain(key, format!("found {found}; allowed: {CURVE}"));
    None
}

/// What no single number of a cell shows to be wrong.
pub fn holds_together(r: &Reader, cell: &Cell) {
    let curve = &cell.ocv_curve_v.is.0;
    if let Some(pair) = curve.windows(2).find(|w| w[1][1] < w[0][1]) {
        let ([_, high], [share, low]) = (pair[0], pair[1]);
        let text = format!(
            "the rest voltage falls from {high:?} to {low:?} V towards a share of {share:?}; \
             allowed: one that does not fall as the charge left rises"
        );
        r.complain("ocv_curve_v", text);
    }
    let full = curve.last().map_or(f64::INFINITY, |p| p[1]);
    let cutoff = cell.cutoff.is.si();
    if cutoff >= full {
        let text = format!("found {cutoff} V; allowed: less than the full cell's {full} V");
        r.complain("cutoff", text);
    }
    let nominal = cell.nominal.is.si();
    if full > MOST_OVER_NOMINAL * nominal {
        let key = if r.has("ocv_curve_v") { "ocv_curve_v" } else { "nominal" };
        let text = format!(
            "a full cell rests at {} V, its nominal voltage is {} V; allowed: a full cell of at \
             most {} V, or a higher nominal",
            figures(full, 3),
            figures(nominal, 3),
            figures(MOST_OVER_NOMINAL * nominal, 3)
        );
        r.complain(key, text);
    }
    heat_holds_together(r, cell);
}

/// A full cell's rest voltage over its nominal one, at most; 1.2 is usual. The highest voltage
/// of a pack is reckoned by the nominal one.
const MOST_OVER_NOMINAL: f64 = 1.5;

/// Density of a cell, g/cm3: the usual ones weigh 1.5 to 4 (from memory).
const DENSITY: std::ops::RangeInclusive<f64> = 0.2..=20.0;
/// Least time that heat takes from core to surface, s; an LR03 takes 1.5 s by its numbers.
const LEAST_HEAT_TIME_S: f64 = 0.1;

/// Mass, size and conductivity go together; where they do not, a unit has slipped, and a run
/// would have to follow the heat in steps of microseconds.
fn heat_holds_together(r: &Reader, cell: &Cell) {
    let first = |keys: &[&'static str]| keys.iter().find(|k| r.has(k)).map_or("mass", |k| *k);
    let (d, l, mass) = (cell.diameter.is.si(), cell.length.is.si(), cell.mass.is.si());
    let density = mass * 1e-3 / (std::f64::consts::FRAC_PI_4 * d * d * l);
    if !DENSITY.contains(&density) {
        let text = format!(
            "{} g in {} mm by {} mm are {} g/cm3; allowed: {} to {} g/cm3",
            figures(mass * 1e3, 3),
            figures(d * 1e3, 3),
            figures(l * 1e3, 3),
            figures(density, 2),
            DENSITY.start(),
            DENSITY.end()
        );
        r.complain(first(&["mass", "diameter", "length"]), text);
        return;
    }
    let surface = (1.0 - CORE_SHARE) * mass * cell.specific_heat.is.si();
    let took = surface * core_to_surface(cell.radial_conductivity.is.si(), l);
    if took < LEAST_HEAT_TIME_S {
        let text = format!(
            "by these numbers heat comes from core to surface in {} s; allowed: {LEAST_HEAT_TIME_S} \
             s or more, with a lower conductivity or a higher specific_heat",
            figures(took, 2)
        );
        r.complain(first(&["radial_conductivity", "specific_heat", "diameter", "mass"]), text);
    }
}

/// The words that a stock file has for a cell besides its numbers.
pub fn words(r: &mut Reader, cell: &mut Cell, needed: bool) {
    if needed {
        r.require("rechargeable", "true or false: whether it may be charged");
        r.require("chemistry", CHEMISTRY);
        r.require("cutoff_on", CUTOFF_ON);
    }
    if let Some(flag) = r.flag("rechargeable") {
        cell.rechargeable = flag.is;
    }
    if let Some(text) = r.text("chemistry", CHEMISTRY) {
        cell.chemistry = short(&text.is);
    }
    if let Some(text) = r.text("cutoff_on", CUTOFF_ON) {
        match text.is.trim().to_ascii_lowercase().as_str() {
            "terminal" => cell.cutoff_on = CutoffOn::Terminal,
            "rested" => cell.cutoff_on = CutoffOn::Rested,
            _ => {
                let text = format!("found \"{}\"; allowed: {CUTOFF_ON}", short(&text.is));
                r.complain("cutoff_on", text);
            }
        }
    }
}

const CHEMISTRY: &str = "what is inside, such as \"alkaline\" or \"lithium iron phosphate\"";
const CUTOFF_ON: &str = "\"terminal\" (of a cell that is charged) or \"rested\" (of a primary one)";
