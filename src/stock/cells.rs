//! Cells by IEC designation.

use super::numbers::Numbers;
use super::rows::{Slot, Words, rows};
use super::sourced::{Certainty, Key, Number, Pairs, Sourced, takes, within};
use crate::laws::cell::{CORE_SHARE, CutoffOn, core_to_surface};
use crate::reader::{Reader, short};
use crate::units::say::figures;
use crate::units::{
    Capacitance, Charge, Current, Length, Mass, Quantity, RateConstant, Resistance, Share,
    SpecificHeatCapacity, Temperature, TemperatureInterval, ThermalConductivity, Voltage,
    VoltsPerKelvin,
};
use serde_json::Value;

rows! {
    /// One kind of cell, or a block counted as one. Resistances at 25 degC.
    Cell called "IEC designation." {
        /// In plain words.
        title: String = "", takes("a text");
        /// What is inside.
        chemistry: String = "", takes(CHEMISTRY).turn(1);
        /// Whether it may be charged.
        rechargeable: bool = "", takes("true or false: whether it may be charged");
        /// What the cut-off is compared with.
        cutoff_on: CutoffOn = "", takes(CUTOFF_ON).turn(1);
        nominal: Sourced<Voltage> = "nominal voltage", within("0.5 V", "60 V").turn(2);
        capacity: Sourced<Charge> = "charge of both wells", within("1 mAh", "1000 Ah").turn(2);
        available_share: Sourced<Number> = "of it at hand at once", within("0.001", "0.999").turn(4);
        well_rate: Sourced<RateConstant> = "how fast the rest comes up", within("1e-7 1/s", "1 1/s").turn(2);
        r0: Sourced<Resistance> = "resistance, full, 25 degC", within("0.01 mohm", "100 ohm").turn(2);
        r0_temperature: Sourced<TemperatureInterval> = "its B in exp(B/T)", within("-10000 K", "10000 K").turn(2);
        r0_curve_factor: Sourced<Pairs> = "its factor over the charge at hand", takes("pairs").turn(8);
        r1: Sourced<Resistance> = "slow share of the sag", within("0.01 mohm", "100 ohm").turn(2);
        c1: Sourced<Capacitance> = "r1 c1 is its time", within("1 F", "1000000 F").turn(2);
        ocv_curve_v: Sourced<Pairs> = "rest voltage over the charge at hand", takes("pairs").unit("1, V").turn(7);
        cutoff: Sourced<Voltage> = "counts as empty", within("0.1 V", "60 V").turn(2);
        mass: Sourced<Mass> = "mass", within("1 g", "100 kg").turn(5);
        specific_heat: Sourced<SpecificHeatCapacity> = "specific heat", within("100 J/(kg K)", "5000 J/(kg K)").turn(5);
        diameter: Sourced<Length> = "diameter", within("3 mm", "1 m").turn(5);
        length: Sourced<Length> = "length", within("3 mm", "1 m").turn(5);
        radial_conductivity: Sourced<ThermalConductivity> = "heat from core to jacket", within("0.05 W/(m K)", "50 W/(m K)").turn(5);
        emissivity: Sourced<Number> = "of the jacket", within("0", "1").turn(6);
        entropy: Sourced<VoltsPerKelvin> = "dU/dT", within("-5 mV/K", "5 mV/K").turn(5);
        max_temperature: Sourced<Temperature> = "warmest it may get", within("20 degC", "150 degC").turn(5);
        continuous_current: Sourced<Current> = "stands it for long", within("1 mA", "1000 A").turn(3);
        capacity_spread: Sourced<Share> = "between like cells", within("0 %", "100 %").turn(3);
        resistance_spread: Sourced<Share> = "between like cells", within("0 %", "100 %").turn(3);
    }
}

const CHEMISTRY: &str = "what is inside, such as \"alkaline\" or \"lithium iron phosphate\"";
const CUTOFF_ON: &str = "\"terminal\" (of a cell that is charged) or \"rested\" (of a primary one)";

impl CutoffOn {
    const ALL: [(&'static str, Self); 2] = [("terminal", Self::Terminal), ("rested", Self::Rested)];
}

impl Slot for CutoffOn {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        let mut text = String::new();
        text.read(n, key);
        let word = text.trim().to_ascii_lowercase();
        match Self::ALL.iter().find(|(known, _)| *known == word) {
            Some((_, on)) => *self = *on,
            None if text.is_empty() => {}
            None => {
                let text = format!("found \"{}\"; allowed: {CUTOFF_ON}", short(&text));
                n.r.complain(key.name, text);
            }
        }
    }

    fn shown(&mut self, _: &Key, _: &str, _: &mut Words) -> Option<Value> {
        Self::ALL.iter().find(|(_, on)| on == self).map(|(word, _)| (*word).into())
    }
}

impl Cell {
    /// Whether it is one of lithium: not to be driven over what its maker allows.
    pub fn is_lithium(&self) -> bool {
        self.chemistry.to_lowercase().contains("lithium")
    }

    /// Whether the numbers that rule a run are recalled or judged rather than read.
    pub fn mostly_recalled(&self) -> bool {
        let weak = |c: Certainty| matches!(c, Certainty::Memory | Certainty::Judgement);
        weak(self.r0.certainty) && weak(self.ocv_curve_v.certainty)
    }

    /// r1 and c1 make the one time constant that the run must follow.
    pub fn time_holds(&self, r: &Reader) {
        let tau = self.r1.is.si() * self.c1.is.si();
        if !(0.1..=1e6).contains(&tau) {
            let key = if r.has("c1") { "c1" } else { "r1" };
            let tau = figures(tau, 3);
            r.complain(
                key,
                format!("r1 times c1 is {tau} s; allowed: r1 and c1 that make 0.1 s to 1000000 s"),
            );
        }
    }

    /// What no single number of a cell shows to be wrong.
    pub fn holds_together(&self, r: &Reader) {
        let curve = &self.ocv_curve_v.is.0;
        if let Some(pair) = curve.windows(2).find(|w| w[1][1] < w[0][1]) {
            let ([_, high], [share, low]) = (pair[0], pair[1]);
            let text = format!(
                "the rest voltage falls from {high:?} to {low:?} V towards a share of {share:?}; \
                 allowed: one that does not fall as the charge left rises"
            );
            r.complain("ocv_curve_v", text);
        }
        let full = curve.last().map_or(f64::INFINITY, |p| p[1]);
        let cutoff = self.cutoff.is.si();
        if cutoff >= full {
            let text = format!("found {cutoff} V; allowed: less than the full cell's {full} V");
            r.complain("cutoff", text);
        }
        let nominal = self.nominal.is.si();
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
        self.heat_holds_together(r);
    }

    /// Mass, size and conductivity go together; where they do not, a unit has slipped, and a run
    /// would have to follow the heat in steps of microseconds.
    fn heat_holds_together(&self, r: &Reader) {
        let first = |keys: &[&'static str]| keys.iter().find(|k| r.has(k)).map_or("mass", |k| *k);
        let (d, l, mass) = (self.diameter.is.si(), self.length.is.si(), self.mass.is.si());
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
        let surface = (1.0 - CORE_SHARE) * mass * self.specific_heat.is.si();
        let took = surface * core_to_surface(self.radial_conductivity.is.si(), l);
        if took < LEAST_HEAT_TIME_S {
            let text = format!(
                "by these numbers heat comes from core to surface in {} s; allowed: {LEAST_HEAT_TIME_S} \
                 s or more, with a lower conductivity or a higher specific_heat",
                figures(took, 2)
            );
            r.complain(first(&["radial_conductivity", "specific_heat", "diameter", "mass"]), text);
        }
    }
}

/// A full cell's rest voltage over its nominal one, at most; 1.2 is usual. The highest voltage
/// of a pack is reckoned by the nominal one.
const MOST_OVER_NOMINAL: f64 = 1.5;

/// Density of a cell, g/cm3: the usual ones weigh 1.5 to 4 (from memory).
const DENSITY: std::ops::RangeInclusive<f64> = 0.2..=20.0;
/// Least time that heat takes from core to surface, s; an LR03 takes 1.5 s by its numbers.
const LEAST_HEAT_TIME_S: f64 = 0.1;
