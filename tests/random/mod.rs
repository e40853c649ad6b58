//! Random valid jobs over the whole range of every key, as text: what a user could write.
//!
//! A job is made from a list of numbers from 0 to 1, so that a list that fails can be cut down
//! to a simple one: 0 leaves an optional key out, takes the first of a choice and the low end of
//! a range.

#![allow(dead_code)] // each test file uses its part

mod source;

use restbite::job::layout;
use restbite::job::{self, Checked, Job, Needs, Written};
use restbite::stock::{Named, Stock};
use restbite::units::{
    Area, Conductivity, CurrentDensity, Density, HeatCapacity, Length, MassConcentration,
    MolarConcentration, Quantity, Resistance, Share, Temperature, ThermalConductance, Time, Volume,
};

/// Numbers from 0 to 1; 0 when a list has run out.
pub struct Dice(Box<dyn Iterator<Item = f64>>);

impl Dice {
    /// From a list.
    pub fn of(list: Vec<f64>) -> Self {
        Self(Box::new(list.into_iter().chain(std::iter::repeat(0.0))))
    }

    /// From a seed: the same on every machine.
    pub fn seeded(seed: u64) -> Self {
        use rand::{Rng, SeedableRng};
        let mut rng = rand_pcg::Pcg64::seed_from_u64(seed);
        Self(Box::new(std::iter::repeat_with(move || {
            (rng.next_u64() >> 11) as f64 / 2f64.powi(53)
        })))
    }

    fn roll(&mut self) -> f64 {
        self.0.next().unwrap_or(0.0)
    }

    /// True so often.
    pub fn now_and_then(&mut self, share: f64) -> bool {
        self.roll() > 1.0 - share
    }

    /// One of a list.
    pub fn pick<T: Clone>(&mut self, list: &[T]) -> T {
        list[((self.roll() * list.len() as f64) as usize).min(list.len() - 1)].clone()
    }

    /// From `low` to `high`; one time in ten an end of the range.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        let x = self.roll();
        if x > 0.95 {
            return high;
        }
        if x < 0.05 { low } else { low + (x - 0.05) / 0.9 * (high - low) }
    }

    /// The same, evenly over orders of magnitude.
    pub fn over(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp().clamp(low, high)
    }

    /// A whole number, evenly over orders of magnitude.
    pub fn whole(&mut self, low: u32, high: u32) -> u32 {
        (self.over(f64::from(low), f64::from(high) + 0.999) as u32).clamp(low, high)
    }

    /// A quantity (SI) as a job writes it, in any of its units.
    pub fn say<Q: Quantity>(&mut self, si: f64) -> String {
        let unit = self.pick(Q::KIND.units);
        format!("'{} {}'", (si - unit.offset) / unit.factor, unit.name)
    }
}

/// A job as tables of keys and values, both as TOML writes them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Draft {
    /// Tables in order; the one without a name comes first.
    pub tables: Vec<(String, Vec<(String, String)>)>,
}

impl Draft {
    /// Writes a key anew, or for the first time.
    pub fn put(&mut self, table: &str, key: &str, value: impl ToString) {
        if !self.tables.iter().any(|(name, _)| name == table) {
            self.tables.push((table.into(), Vec::new()));
        }
        for (_, keys) in self.tables.iter_mut().filter(|(name, _)| name == table) {
            keys.retain(|(k, _)| k != key);
            keys.push((key.into(), value.to_string()));
        }
    }

    /// The same of a quantity, SI.
    pub fn say<Q: Quantity>(&mut self, dice: &mut Dice, table: &str, key: &str, si: f64) {
        let text = dice.say::<Q>(si);
        self.put(table, key, text);
    }

    /// As a file.
    pub fn text(&self) -> String {
        let mut text = String::new();
        for (name, keys) in &self.tables {
            if !name.is_empty() {
                text += &format!("[{name}]\n");
            }
            for (key, value) in keys {
                text += &format!("{key} = {value}\n");
            }
        }
        text
    }

    /// Read and checked.
    pub fn read(&self, stock: &Stock) -> Job {
        let text = self.text();
        let written = Written { text: &text, name: "job.toml", ..Written::default() };
        match job::read(&written, stock, Needs::Source) {
            Ok(Checked::Job(job)) => *job,
            other => panic!("{text}\n{other:?}"),
        }
    }
}

/// A job of any kind.
pub fn job(dice: &mut Dice, stock: &Stock) -> Draft {
    let mut d = Draft::default();
    d.put("", "title", "'Fern'");
    let main = metal(dice, &mut d, stock);
    let sheet = piece(dice, &mut d);
    bath(dice, &mut d, stock, &main, sheet);
    source::source(dice, &mut d, stock);
    rest(dice, &mut d, stock);
    d
}

fn text(word: &str) -> String {
    format!("'{word}'")
}

/// A metal of stock or of the user's own; its main constituent.
fn metal(dice: &mut Dice, d: &mut Draft, stock: &Stock) -> String {
    if !dice.now_and_then(0.3) {
        let metal = dice.pick(&stock.metals);
        d.put("piece", "metal", text(metal.name()));
        return metal.main;
    }
    let main = dice.pick(&["Cu", "Ag"]);
    let others: Vec<&str> = ["Cu", "Ag", "Zn", "Ni", "Ge", "Sn", "Fe", "Pb", "Mn"]
        .into_iter()
        .filter(|e| *e != main)
        .filter(|_| dice.now_and_then(0.3))
        .collect();
    let each: Vec<f64> = others.iter().map(|_| dice.over(0.01, 4.9)).collect();
    let valence = |dice: &mut Dice| {
        if dice.now_and_then(0.5) {
            format!(", valence = {}", dice.whole(1, 7))
        } else {
            String::new()
        }
    };
    let rest = 100.0 - each.iter().sum::<f64>();
    let mut parts = vec![format!("{{ element = '{main}', share = '{rest} %'{} }}", valence(dice))];
    for (element, share) in others.iter().zip(&each) {
        let valence = valence(dice);
        parts.push(format!("{{ element = '{element}', share = '{share} %'{valence} }}"));
    }
    let si = dice.between(1e3, 25e3);
    let density = dice.say::<Density>(si);
    let parts = parts.join(", ");
    d.put("piece", "metal", format!("{{ name = 'own', density = {density}, parts = [{parts}] }}"));
    main.into()
}

/// What the bath must know of the sheet, m: both sides and the thickness.
struct Sheet(f64, f64, f64);

fn piece(dice: &mut Dice, d: &mut Draft) -> Sheet {
    let (mut a, mut b) = (dice.over(1e-3, 2.0), dice.over(1e-3, 2.0));
    let unit = dice.pick(&[("mm", 1e-3), ("cm", 1e-2), ("m", 1.0), ("in", 0.0254)]);
    match dice.pick(&["sides", "round", "area"]) {
        "sides" => {
            let (x, y) = (a / unit.1, b / unit.1);
            d.put("piece", "outline", format!("'{x} {} x {y} {0}'", unit.0));
        }
        "round" => {
            b = a;
            d.put("piece", "outline", format!("'{} {} round'", a / unit.1, unit.0));
        }
        _ => d.say::<Area>(dice, "piece", "outline_area", a * b),
    }
    let round = if a == b { std::f64::consts::FRAC_PI_4 } else { 1.0 };
    if dice.now_and_then(0.4) {
        let area = dice.over((1e-3f64).min(0.999 * a * b * round).max(1e-7), 0.999 * a * b * round);
        d.say::<Area>(dice, "piece", "exposed_area", area);
    } else {
        let share = dice.over(1e-3, 1.0);
        d.say::<Share>(dice, "piece", "exposed", share);
    }
    if a < b {
        std::mem::swap(&mut a, &mut b);
    }
    let thickness = dice.over(5e-5, 2e-2);
    d.say::<Length>(dice, "piece", "thickness", thickness);
    let depth = dice.over(1e-6, 0.999 * thickness);
    d.say::<Length>(dice, "piece", "depth", depth);
    if dice.now_and_then(0.4) {
        let floor = dice.between(0.0, 0.999 * (thickness - depth));
        d.say::<Length>(dice, "piece", "floor", floor);
    }
    if dice.now_and_then(0.4) {
        let si = dice.over(1e-6, 5e-3);
        d.say::<Length>(dice, "piece", "depth_tolerance", si);
    }
    piece_words(dice, d);
    Sheet(a, b, thickness)
}

fn piece_words(dice: &mut Dice, d: &mut Draft) {
    match dice.pick(&["", "detail", "line_pitch"]) {
        "detail" => {
            let word = dice.pick(&["bold", "medium", "fine"]);
            d.put("piece", "detail", text(word));
        }
        "line_pitch" => {
            let pitch = dice.over(5e-5, 0.2);
            d.say::<Length>(dice, "piece", "line_pitch", pitch);
        }
        _ => {}
    }
    if dice.now_and_then(0.3) {
        d.put("piece", "etch_factor", dice.over(0.1, 100.0));
    }
    if dice.now_and_then(0.3) {
        let si = dice.between(0.01, 1.0);
        d.say::<Share>(dice, "piece", "efficiency", si);
    }
    if dice.now_and_then(0.3) {
        d.put("piece", "resist", dice.pick(&["'packing tape'", "'beeswax'", "'acrylic paint'"]));
    }
}

/// A bath that suits the metal, in a pan that holds the sheet, and deep enough to cover it.
fn bath(dice: &mut Dice, d: &mut Draft, stock: &Stock, main: &String, sheet: Sheet) {
    let Sheet(long, short, thickness) = sheet;
    let suits: Vec<_> = stock.baths.iter().filter(|b| b.suits.contains(main)).collect();
    let kind = dice.pick(&suits);
    d.put("bath", "electrolyte", text(kind.name()));
    let (low, high) = (kind.concentration_min.is.si(), kind.concentration_max.is.si());
    let concentration = dice.over(low, high);
    d.say::<MolarConcentration>(dice, "bath", "concentration", concentration);
    // At most 200 L: the widest pan that still covers the sheet.
    const MOST: f64 = 0.2;
    let widest = MOST / (thickness + 1e-3);
    let wide = |side: f64| side.max(1e-2) * 1.001;
    let slack = (widest / (wide(long) * wide(short))).sqrt().clamp(1.0, 5.0 / wide(long));
    let factor = dice.over(1.0, slack);
    let (a, b) = ((wide(long) * factor).min(5.0), (wide(short) * factor).min(5.0));
    d.put("bath", "pan", format!("'{} mm x {} mm'", a * 1e3, b * 1e3));
    let gap = dice.over(5e-4, (0.99 * MOST / (a * b) - thickness).clamp(5.1e-4, 1.0));
    d.say::<Length>(dice, "bath", "gap", gap);
    // What is written has a last digit.
    let fits = layout::most((1.001 * long, 1.001 * short), (a.max(b), a.min(b)), 1.001 * gap);
    if dice.now_and_then(0.3) {
        d.put("piece", "count", dice.whole(1, fits.count().clamp(1, 100)));
    }
    let volume = dice.over(((gap + thickness) * a * b * 1.001).max(5e-6), MOST);
    d.say::<Volume>(dice, "bath", "volume", volume);
    if dice.now_and_then(0.5) {
        let si = dice.between(273.15, 368.15);
        d.say::<Temperature>(dice, "bath", "temperature", si);
    }
    d.put("bath", "stirred", dice.now_and_then(0.5));
    if dice.now_and_then(0.3) {
        let si = dice.over(1e-3, 500.0);
        d.say::<MassConcentration>(dice, "bath", "dissolved_silver", si);
    }
    if dice.now_and_then(0.3) {
        d.put("bath", "ph", dice.between(-1.0, 14.0));
    }
    if dice.now_and_then(0.3) {
        let si = dice.over(0.01, 200.0);
        d.say::<Conductivity>(dice, "bath", "conductivity", si);
        let at = dice.between(273.15, 368.15);
        d.say::<Temperature>(dice, "bath", "conductivity_at", at);
    }
    // A bath has at least half of water's heat, and takes more than ten seconds to cool.
    let mut heat = 4.0e6 * volume;
    if dice.now_and_then(0.2) {
        heat = dice.over(2.01e6 * volume, 1e6).max(200.0 * a * b).clamp(1.0, 1e6);
        d.say::<HeatCapacity>(dice, "bath", "heat_capacity", heat);
    }
    if dice.now_and_then(0.2) {
        let si = dice.between(0.0, (0.099 * heat).min(1000.0));
        d.say::<ThermalConductance>(dice, "bath", "heat_loss", si);
    }
}

fn rest(dice: &mut Dice, d: &mut Draft, stock: &Stock) {
    let wires: Vec<String> = (10..=30)
        .map(|n| format!("AWG {n}"))
        .chain(["0.5", "0.75", "1", "1.5", "2.5", "4", "6", "10"].map(|mm2| format!("{mm2} mm2")))
        .collect();
    let wire = dice.pick(&wires);
    d.put("leads", "wire", text(&wire));
    let length = dice.over(1e-2, 50.0);
    d.say::<Length>(dice, "leads", "length", length);
    if dice.now_and_then(0.5) {
        d.put("leads", "clips", dice.whole(1, 21) - 1);
        let si = dice.over(1e-6, 10.0);
        d.say::<Resistance>(dice, "leads", "clip_resistance", si);
    }
    if dice.now_and_then(0.5) {
        let si = dice.between(253.15, 333.15);
        d.say::<Temperature>(dice, "room", "temperature", si);
    }
    if dice.now_and_then(0.5) {
        let si = dice.over(1.0, 360_000.0);
        d.say::<Time>(dice, "limits", "time", si);
    }
    if dice.now_and_then(0.3) {
        let si = dice.over(10.0, 1e6);
        d.say::<CurrentDensity>(dice, "limits", "current_density", si);
    }
    for key in ["cell_temperature", "touch_temperature"] {
        if dice.now_and_then(0.3) {
            let si = dice.between(253.15, 423.15);
            d.say::<Temperature>(dice, "limits", key, si);
        }
    }
    if dice.now_and_then(0.3) {
        d.put("limits", "cells", dice.whole(1, 100));
        d.put("limits", "pieces_per_charge", dice.whole(1, 10_000));
    }
    if dice.now_and_then(0.3) {
        let si = dice.between(0.0, 86_400.0);
        d.say::<Time>(dice, "session", "bench_time", si);
        d.put("session", "fresh_bath", dice.now_and_then(0.5));
        d.put("session", "silver_price", dice.over(1e-3, 1e6));
    }
    for row in &stock.spreads {
        if dice.now_and_then(0.2) {
            let si = dice.between(0.0, 1.0);
            d.say::<Share>(dice, "spread", &row.key, si);
        }
    }
}
