//! The SI units of the model's keys (`piece.depth_m`), and a number in one said to four figures
//! in the unit that a person would write it in.

use super::say::{System, figures};
use super::tables::ZERO_CELSIUS_K;

/// A unit to say a number in, and how many of it make one SI unit.
type Said = (&'static str, f64);

/// An SI unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// How a key ends that holds a number in it.
    end: &'static str,
    metric: Said,
    imperial: Said,
    /// Whether it counts from absolute zero: a temperature, and not a difference or a constant.
    absolute: bool,
}

const fn unit(end: &'static str, metric: Said, imperial: Said) -> Unit {
    Unit { end, metric, imperial, absolute: false }
}

const fn alike(end: &'static str, said: &'static str, factor: f64) -> Unit {
    unit(end, (said, factor), (said, factor))
}

/// NIST SP 811 (2008), appendix B: 0.0254 m an inch, exact.
const INCH_M: f64 = 0.0254;

/// None: a share, a count, a word.
pub const NONE: Unit = alike("", "", 1.0);
/// Molar mass.
pub const KG_PER_MOL: Unit = alike("_kg_per_mol", "g/mol", 1e3);
/// Density.
pub const KG_PER_M3: Unit = alike("_kg_per_m3", "g/cm3", 1e-3);
/// Concentration.
pub const MOL_PER_M3: Unit = alike("_mol_per_m3", "mol/L", 1e-3);
/// Current density.
pub const A_PER_M2: Unit = unit("_a_per_m2", ("A/m2", 1.0), ("A/in2", INCH_M * INCH_M));
/// Charge for each bare area.
pub const C_PER_M2: Unit = unit("_c_per_m2", ("C/cm2", 1e-4), ("C/in2", INCH_M * INCH_M));
/// Velocity.
pub const M_PER_S: Unit = unit("_m_per_s", ("m/s", 1.0), ("in/s", 1.0 / INCH_M));
/// Conductivity.
pub const S_PER_M: Unit = alike("_s_per_m", "mS/cm", 10.0);
/// Thermal resistance.
pub const K_PER_W: Unit = unit("_k_per_w", ("K/W", 1.0), ("degF/W", 1.8));
/// Heat capacity.
pub const J_PER_K: Unit = unit("_j_per_k", ("J/K", 1.0), ("J/degF", 1.0 / 1.8));
/// Thermal conductance.
pub const W_PER_K: Unit = unit("_w_per_k", ("W/K", 1.0), ("W/degF", 1.0 / 1.8));
/// Voltage against temperature.
pub const V_PER_K: Unit = unit("_v_per_k", ("V/K", 1.0), ("V/degF", 1.0 / 1.8));
/// Share against temperature.
pub const PER_K: Unit = unit("_per_k", ("1/K", 1.0), ("1/degF", 1.0 / 1.8));
/// Rate.
pub const PER_S: Unit = alike("_per_s", "1/s", 1.0);
/// Shape factor.
pub const PER_M: Unit = unit("_per_m", ("1/m", 1.0), ("1/in", INCH_M));
/// Volume.
pub const M3: Unit = unit("_m3", ("mL", 1e6), ("in3", 1.0 / (INCH_M * INCH_M * INCH_M)));
/// Area.
pub const M2: Unit = unit("_m2", ("cm2", 1e4), ("in2", 1.0 / (INCH_M * INCH_M)));
/// Length.
pub const M: Unit = unit("_m", ("mm", 1e3), ("in", 1.0 / INCH_M));
/// Resistance.
pub const OHM: Unit = alike("_ohm", "ohm", 1.0);
/// Voltage.
pub const V: Unit = alike("_v", "V", 1.0);
/// Current.
pub const A: Unit = alike("_a", "A", 1.0);
/// Charge.
pub const C: Unit = alike("_c", "C", 1.0);
/// Capacitance.
pub const F: Unit = alike("_f", "F", 1.0);
/// Time.
pub const S: Unit = alike("_s", "s", 1.0);
/// A temperature constant or difference.
pub const K: Unit = unit("_k", ("K", 1.0), ("degF", 1.8));
/// A temperature.
pub const KELVIN: Unit = Unit { absolute: true, ..K };

impl Unit {
    /// The key of a number of this name: the unit at its end, or before the chemical symbol
    /// that stands there (`molar_mass_kg_per_mol.Ag`).
    pub fn key(self, name: &str) -> String {
        let symbol = |(_, tail): &(&str, &str)| tail.starts_with(|c: char| c.is_ascii_uppercase());
        match name.rsplit_once('.').filter(symbol) {
            Some((head, symbol)) => format!("{head}{}.{symbol}", self.end),
            None => format!("{name}{}", self.end),
        }
    }

    /// A value (SI) with its unit; a bare number where there is none.
    pub fn said(self, value: f64, system: System) -> String {
        if self.absolute {
            let celsius = value - ZERO_CELSIUS_K;
            return match system {
                System::Metric => format!("{} degC", small(celsius)),
                System::Imperial => format!("{} degF", small(celsius * 1.8 + 32.0)),
            };
        }
        let (unit, factor) = if system == System::Metric { self.metric } else { self.imperial };
        format!("{} {unit}", small(value * factor)).trim_end().to_string()
    }
}

/// Four figures; with a power of ten where a row of zeros would stand.
fn small(x: f64) -> String {
    let plain = x == 0.0 || (1e-3..1e6).contains(&x.abs());
    if plain || !x.is_finite() { figures(x, 4) } else { format!("{x:.2e}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_of_keys() {
        let (m, i) = (System::Metric, System::Imperial);
        assert_eq!(M.key("piece.depth"), "piece.depth_m");
        assert_eq!(NONE.key("source.kind"), "source.kind");
        assert_eq!(KG_PER_MOL.key("piece.molar_mass.Ag"), "piece.molar_mass_kg_per_mol.Ag");
        assert_eq!(V.key("bath.cathode.Ag.e0"), "bath.cathode.Ag.e0_v");
        for (unit, value, system, want) in [
            (KG_PER_MOL, 0.107_87, m, "107.9 g/mol"),
            (M, 0.35e-3, m, "0.35 mm"),
            (M, 0.254e-3, i, "0.01 in"),
            (S_PER_M, 6.7, m, "67 mS/cm"),
            (KELVIN, 294.15, m, "21 degC"),
            (KELVIN, 293.15, i, "68 degF"),
            (K, 2000.0, m, "2000 K"),
            (K, 2000.0, i, "3600 degF"),
            (NONE, 1.0, m, "1"),
            (M3, 7e-4, m, "700 mL"),
            // One inch cubed, squared (NIST SP 811): 16.387064 cm3, 6.4516 cm2.
            (M3, 16.387_064e-6, i, "1 in3"),
            (M2, 6.4516e-4, i, "1 in2"),
            (A_PER_M2, 1e-5, m, "1.00e-5 A/m2"),
        ] {
            assert_eq!(unit.said(value, system), want);
        }
    }
}
