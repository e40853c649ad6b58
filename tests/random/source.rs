//! Random sources: packs of stock cells and of the user's own, supplies, adapters.

use super::{Dice, Draft, text};
use restbite::stock::{Cell, Named, Stock};
use restbite::units::{
    Capacitance, Charge, Current, Length, Mass, Quantity, RateConstant, Resistance, Share,
    SpecificHeatCapacity, Temperature, TemperatureInterval, ThermalConductivity, Voltage,
    VoltsPerKelvin,
};

/// Highest voltage of a source, V.
const HIGHEST_V: f64 = 60.0;

pub fn source(dice: &mut Dice, d: &mut Draft, stock: &Stock) {
    match dice.pick(&["pack", "supply", "adapter"]) {
        "pack" => pack(dice, d, stock),
        "supply" => supply(dice, d),
        _ => adapter(dice, d),
    }
}

pub fn pack(dice: &mut Dice, d: &mut Draft, stock: &Stock) {
    d.put("source", "kind", "'pack'");
    let cell = dice.pick(&stock.cells);
    let mut nominal = cell.nominal.is.si();
    if dice.now_and_then(0.3) {
        let (value, volts) = own_cell(dice, &cell);
        d.put("source", "cell", value);
        nominal = volts;
    } else {
        d.put("source", "cell", text(cell.name()));
    }
    let most = ((HIGHEST_V / nominal) as u32).clamp(1, 100);
    d.put("source", "series", dice.whole(1, most));
    d.put("source", "parallel", dice.whole(1, 100));
    if dice.now_and_then(0.5) {
        let holder = dice.pick(&stock.holders);
        d.put("source", "holder", text(holder.name()));
    }
    if dice.now_and_then(0.3) {
        let si = dice.over(1e-6, 10.0);
        d.say::<Resistance>(dice, "source", "contact", si);
    }
    if dice.now_and_then(0.5) {
        let si = dice.between(0.0, 1.0);
        d.say::<Share>(dice, "source", "charge_left", si);
    }
    if dice.now_and_then(0.2) {
        d.put("source", "price", dice.over(0.01, 1e6));
    }
}

/// A cell of the user's own, and its nominal voltage.
fn own_cell(dice: &mut Dice, like: &Cell) -> (String, f64) {
    let mut keys = vec![format!("like = '{}'", like.name())];
    let mut nominal = like.nominal.is.si();
    let own = own_curve(dice, &mut keys);
    let full = own.unwrap_or(like.ocv_curve_v.is.0.last().unwrap()[1]);
    if own.is_some() || dice.now_and_then(0.3) {
        nominal = dice.over((full / 1.49).max(0.5), HIGHEST_V);
        keys.push(format!("nominal = {}", dice.say::<Voltage>(nominal)));
    }
    if dice.now_and_then(0.3) || like.cutoff.is.si() >= full {
        let si = dice.over(0.1, (0.99 * full).max(0.1));
        keys.push(format!("cutoff = {}", dice.say::<Voltage>(si)));
    }
    if dice.now_and_then(0.4) {
        let r1 = dice.over(1e-5, 100.0);
        let c1 = dice.over((0.100_001 / r1).max(1.0), (0.999_999e6 / r1).min(1e6));
        keys.push(format!("r1 = {}", dice.say::<Resistance>(r1)));
        keys.push(format!("c1 = {}", dice.say::<Capacitance>(c1)));
    }
    fn over<Q: Quantity>(dice: &mut Dice, keys: &mut Vec<String>, key: &str, low: f64, high: f64) {
        if dice.now_and_then(0.3) {
            let si = if low > 0.0 { dice.over(low, high) } else { dice.between(low, high) };
            keys.push(format!("{key} = {}", dice.say::<Q>(si)));
        }
    }
    over::<Charge>(dice, &mut keys, "capacity", 3.6, 3.6e6);
    over::<RateConstant>(dice, &mut keys, "well_rate", 1e-7, 1.0);
    over::<Resistance>(dice, &mut keys, "r0", 1e-5, 100.0);
    over::<TemperatureInterval>(dice, &mut keys, "r0_temperature", -1e4, 1e4);
    over::<Current>(dice, &mut keys, "continuous_current", 1e-3, 1e3);
    over::<Share>(dice, &mut keys, "capacity_spread", 0.0, 1.0);
    over::<Share>(dice, &mut keys, "resistance_spread", 0.0, 1.0);
    if dice.now_and_then(0.3) {
        body(dice, &mut keys);
    }
    over::<VoltsPerKelvin>(dice, &mut keys, "entropy", -5e-3, 5e-3);
    over::<Temperature>(dice, &mut keys, "max_temperature", 293.15, 423.15);
    if dice.now_and_then(0.3) {
        keys.push(format!("available_share = {}", dice.between(0.001, 0.999)));
        keys.push(format!("emissivity = {}", dice.between(0.0, 1.0)));
        keys.push(format!("rechargeable = {}", dice.now_and_then(0.5)));
    }
    (format!("{{ {} }}", keys.join(", ")), nominal)
}

/// Size, mass and the way of heat, such that they go together: a density from 0.2 to 20 g/cm3,
/// and a tenth of a second or more from core to surface.
fn body(dice: &mut Dice, keys: &mut Vec<String>) {
    let (d, l) = (dice.over(3e-3, 1.0), dice.over(3e-3, 1.0));
    let filled = std::f64::consts::FRAC_PI_4 * d * d * l;
    let mass =
        dice.over((201.0 * filled).clamp(1e-3, 99.0), (19_900.0 * filled).clamp(1.01e-3, 100.0));
    if !(0.201e3..19.9e3).contains(&(mass / filled)) {
        return;
    }
    let heat = dice.over(100.0, 5000.0);
    let most = 0.15 * mass * heat / (8.0 * std::f64::consts::PI * l * 0.101);
    if most < 0.05 {
        return;
    }
    let conductivity = dice.over(0.05, most.min(50.0));
    keys.push(format!("diameter = {}", dice.say::<Length>(d)));
    keys.push(format!("length = {}", dice.say::<Length>(l)));
    keys.push(format!("mass = {}", dice.say::<Mass>(mass)));
    keys.push(format!("specific_heat = {}", dice.say::<SpecificHeatCapacity>(heat)));
    keys.push(format!("radial_conductivity = {}", dice.say::<ThermalConductivity>(conductivity)));
}

/// Curves of the user's own; the full cell's voltage.
fn own_curve(dice: &mut Dice, keys: &mut Vec<String>) -> Option<f64> {
    if !dice.now_and_then(0.3) {
        return None;
    }
    let (n, mut volts) = (dice.whole(1, 20), dice.over(0.2, 50.0));
    let (mut rest, mut ohms, mut full) = (Vec::new(), Vec::new(), 0.0);
    for k in 0..=n {
        full = volts;
        let share = f64::from(k) / f64::from(n);
        rest.push(format!("[{share}, {volts}]"));
        ohms.push(format!("[{share}, {}]", dice.over(1e-3, 99.0)));
        volts = (volts * dice.over(1.0, 1.1)).min(59.0);
    }
    keys.push(format!("ocv_curve_v = [{}]", rest.join(", ")));
    keys.push(format!("r0_curve_factor = [{}]", ohms.join(", ")));
    Some(full)
}

pub fn supply(dice: &mut Dice, d: &mut Draft) {
    d.put("source", "kind", "'supply'");
    let si = dice.over(0.1, HIGHEST_V);
    d.say::<Voltage>(dice, "source", "voltage", si);
    if dice.now_and_then(0.5) {
        let si = dice.over(1e-3, 200.0);
        d.say::<Current>(dice, "source", "current_limit", si);
    }
    if dice.now_and_then(0.5) {
        let si = dice.between(0.0, 100.0);
        d.say::<Resistance>(dice, "source", "output_resistance", si);
    }
}

pub fn adapter(dice: &mut Dice, d: &mut Draft) {
    d.put("source", "kind", "'adapter'");
    let open = dice.over(0.11, HIGHEST_V);
    d.say::<Voltage>(dice, "source", "open_voltage", open);
    if dice.now_and_then(0.5) {
        let si = dice.between(0.1, 0.999 * open);
        d.say::<Voltage>(dice, "source", "rated_voltage", si);
        let si = dice.over(1e-3, 200.0);
        d.say::<Current>(dice, "source", "rated_current", si);
    } else {
        let si = dice.between(0.0, 1000.0);
        d.say::<Resistance>(dice, "source", "series_resistance", si);
    }
}
