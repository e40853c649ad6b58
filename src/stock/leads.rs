//! Wires and clips.

use super::rows::rows;
use super::sourced::{Certainty, Number, Sourced, takes, within};
use crate::laws::wire;
use crate::units::{
    Area, Length, Quantity, Resistance, ResistancePerLength, Resistivity, Temperature,
    TemperatureCoefficient, Wire, gauge_m, parse_wire,
};

/// What is known of leads.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Leads {
    /// The copper.
    pub conductor: Conductor,
    /// A clip.
    pub clip: Clip,
    /// The jacket.
    pub insulation: Insulation,
    pub(super) class5: Vec<Class5>,
    pub(super) insulated: Vec<Insulated>,
}

rows! {
    /// The wires' copper.
    Conductor {
        resistivity: Sourced<Resistivity> = "at 20 degC", within("1e-8 ohm m", "1e-6 ohm m");
        temperature_coefficient: Sourced<TemperatureCoefficient> = "of the resistance", within("0 %/K", "1 %/K");
        /// Temperature that the resistivity stands for.
        at: Sourced<Temperature> = "temperature of the data", within("0 degC", "95 degC");
        awg_thickest: Sourced<Number> = "thickest gauge in stock", within("0", "40");
        awg_thinnest: Sourced<Number> = "thinnest gauge in stock", within("0", "40");
    }
}

rows! {
    /// A clip on the lead's end.
    Clip {
        resistance: Sourced<Resistance> = "of one", within("0 ohm", "1 ohm");
    }
}

rows! {
    /// The jacket of a wire.
    Insulation {
        emissivity: Sourced<Number> = "of the jacket", within("0", "1");
    }
}

rows! {
    /// A conductor by its nominal section.
    Class5 {
        area: Sourced<Area> = "nominal section", within("0.1 mm2", "100 mm2");
        r20: Sourced<ResistancePerLength> = "of one lead, at 20 degC", within("0.1 ohm/km", "1000 ohm/km");
    }
}

rows! {
    /// A wire over its insulation.
    Insulated {
        /// As in a job file.
        wire: String = "", takes("a wire such as \"AWG 20\" or \"0.75 mm2\"");
        outer_diameter: Sourced<Length> = "over the insulation", within("0.1 mm", "50 mm");
    }
}

rows! {
    /// One wire of stock, as it is shown.
    WireRow called "Its gauge or section." {
        diameter: Option<Sourced<Length>> = "diameter", takes("");
        r20: Sourced<ResistancePerLength> = "of one lead, at 20 degC", takes("");
        outer_diameter: Option<Sourced<Length>> = "over the insulation", takes("");
    }
}

impl Leads {
    /// Resistance per metre at 20 degC, ohm/m; none for a wire that is not in stock.
    pub fn per_metre(&self, wire: Wire) -> Option<f64> {
        match wire {
            Wire::Awg(n) => self
                .gauges()
                .contains(&n)
                .then(|| wire::per_metre(gauge_m(n), self.conductor.resistivity.is.si())),
            Wire::Nominal(area) => {
                let same = |row: &&Class5| (row.area.is.si() / area.si() - 1.0).abs() < 1e-6;
                self.class5.iter().find(same).map(|row| row.r20.is.si())
            }
        }
    }

    /// Outer diameter over the insulation, m.
    pub fn outer_diameter(&self, wire: Wire) -> Option<f64> {
        self.insulated(wire).map(|row| row.outer_diameter.is.si())
    }

    fn insulated(&self, wire: Wire) -> Option<&Insulated> {
        let same = |text: &str| match (parse_wire(text), wire) {
            (Ok(Wire::Awg(a)), Wire::Awg(b)) => a == b,
            (Ok(Wire::Nominal(a)), Wire::Nominal(b)) => (a.si() / b.si() - 1.0).abs() < 1e-6,
            _ => false,
        };
        self.insulated.iter().find(|row| same(&row.wire))
    }

    /// Every wire in stock, with what is known of it.
    pub(super) fn rows(&self) -> Vec<WireRow> {
        let outer = |wire| self.insulated(wire).map(|row| row.outer_diameter.clone());
        let gauge = |n: u32| {
            let area = "ASTM B258: 0.127 mm x 92^((36 - n)/39)";
            let ohm = self.per_metre(Wire::Awg(n)).unwrap_or(f64::NAN);
            let (ohm, metre) = (four_figures(ohm), four_figures(gauge_m(n)));
            WireRow {
                name: format!("AWG {n}"),
                aliases: vec![format!("{n} AWG")],
                diameter: Some(computed(Length::from_si(metre), area.into())),
                r20: computed(
                    ResistancePerLength::from_si(ohm),
                    format!("resistivity over area; {}", self.conductor.resistivity.source),
                ),
                outer_diameter: outer(Wire::Awg(n)),
            }
        };
        let section = |row: &Class5| WireRow {
            name: format!("{} mm2", round6(row.area.is.si() * 1e6)),
            aliases: Vec::new(),
            diameter: None,
            r20: row.r20.clone(),
            outer_diameter: outer(Wire::Nominal(row.area.is)),
        };
        self.gauges().map(gauge).chain(self.class5.iter().map(section)).collect()
    }

    fn gauges(&self) -> std::ops::RangeInclusive<u32> {
        let whole = |n: &Sourced<Number>| n.is.0 as u32;
        whole(&self.conductor.awg_thickest)..=whole(&self.conductor.awg_thinnest)
    }

    /// "AWG 10 to AWG 30, or 0.5, 0.75, ... mm2".
    pub fn in_stock(&self) -> String {
        let range = self.gauges();
        let areas: Vec<String> =
            self.class5.iter().map(|row| format!("{}", round6(row.area.is.si() * 1e6))).collect();
        format!("AWG {} to AWG {}, or {} mm2", range.start(), range.end(), areas.join(", "))
    }
}

/// A number worked out here from others.
fn computed<T>(is: T, source: String) -> Sourced<T> {
    Sourced { is, source, certainty: Certainty::Computed }
}

/// As many as resistivity and gauge are good for.
fn four_figures(x: f64) -> f64 {
    format!("{x:.3e}").parse().unwrap_or(x)
}

fn round6(x: f64) -> f64 {
    (x * 1e6).round() / 1e6
}

#[cfg(test)]
mod tests {
    use crate::laws::wire::{COPPER_PER_K, WIRE_REFERENCE_K};
    use crate::stock::Stock;
    use crate::units::{Quantity, Wire, parse_wire};

    #[test]
    fn standards() {
        let leads = Stock::builtin().unwrap().leads;
        // IEC 60228 class 5, plain copper, 20 degC: 0.75 mm2 26.0 ohm/km.
        let r = leads.per_metre(parse_wire("0.75 mm2").unwrap()).unwrap();
        assert!((r - 0.026).abs() < 1e-12);
        // NBS Handbook 100 (from memory): AWG 10 0.9988, 30 103.2 ohm/1000 ft.
        for (n, ohm) in [(10, 0.9988), (18, 6.385), (30, 103.2)] {
            let got = leads.per_metre(Wire::Awg(n)).unwrap() * 304.8;
            assert!((got / ohm - 1.0).abs() < 5e-4, "{n} {got}");
        }
        assert!(leads.per_metre(Wire::Awg(31)).is_none());
        for n in 10..=30 {
            assert!(leads.outer_diameter(Wire::Awg(n)).unwrap() > crate::units::gauge_m(n));
        }
        assert!((leads.conductor.temperature_coefficient.is.si() - COPPER_PER_K).abs() < 1e-9);
        assert!((leads.conductor.at.is.si() - WIRE_REFERENCE_K).abs() < 1e-9);
        assert!(leads.in_stock().contains("0.5, 0.75, 1, 1.5"), "{}", leads.in_stock());
    }
}
