//! A number under a key that ends in its SI unit (`piece.depth_m`), said to four figures in
//! the unit that a person would write it in.

use super::say::{System, figures};
use super::tables::ZERO_CELSIUS_K;

/// SI unit in a key's end; the unit to say it in and how many of it make one SI unit,
/// metric and imperial. The first row that fits counts.
type Row = (&'static str, (&'static str, f64), (&'static str, f64));

const fn alike(key: &'static str, unit: &'static str, factor: f64) -> Row {
    (key, (unit, factor), (unit, factor))
}

/// NIST SP 811 (2008), appendix B: 0.0254 m an inch, exact.
const INCH_M: f64 = 0.0254;

const ROWS: &[Row] = &[
    alike("_kg_per_mol", "g/mol", 1e3),
    alike("_kg_per_m3", "g/cm3", 1e-3),
    alike("_mol_per_m3", "mol/L", 1e-3),
    ("_a_per_m2", ("A/m2", 1.0), ("A/in2", INCH_M * INCH_M)),
    ("_m_per_s", ("m/s", 1.0), ("in/s", 1.0 / INCH_M)),
    alike("_s_per_m", "mS/cm", 10.0),
    ("_k_per_w", ("K/W", 1.0), ("degF/W", 1.8)),
    ("_j_per_k", ("J/K", 1.0), ("J/degF", 1.0 / 1.8)),
    ("_w_per_k", ("W/K", 1.0), ("W/degF", 1.0 / 1.8)),
    ("_v_per_k", ("V/K", 1.0), ("V/degF", 1.0 / 1.8)),
    ("_per_k", ("1/K", 1.0), ("1/degF", 1.0 / 1.8)),
    alike("_per_s", "1/s", 1.0),
    ("_per_m", ("1/m", 1.0), ("1/in", INCH_M)),
    ("_m3", ("mL", 1e6), ("in3", 1.0 / (INCH_M * INCH_M * INCH_M))),
    ("_m2", ("cm2", 1e4), ("in2", 1.0 / (INCH_M * INCH_M))),
    ("_m", ("mm", 1e3), ("in", 1.0 / INCH_M)),
    alike("_ohm", "ohm", 1.0),
    alike("_v", "V", 1.0),
    alike("_a", "A", 1.0),
    alike("_c", "C", 1.0),
    alike("_f", "F", 1.0),
    alike("_s", "s", 1.0),
    ("_k", ("K", 1.0), ("degF", 1.8)),
];

/// Keys that hold a temperature, and not a difference or a constant, in K.
const TEMPERATURES: [&str; 2] = ["temperature_k", "ambient_k"];

/// A key parted into what ends in its unit and what follows that, as a symbol does
/// (`molar_mass_kg_per_mol.Ag`).
fn parted(key: &str) -> (&str, &str) {
    match key.rfind('.') {
        Some(dot) if ROWS.iter().any(|row| key[..dot].ends_with(row.0)) => key.split_at(dot),
        _ => (key, ""),
    }
}

/// The key without its unit.
pub fn name(key: &str) -> String {
    let (head, tail) = parted(key);
    let head = ROWS.iter().find_map(|row| head.strip_suffix(row.0)).unwrap_or(head);
    format!("{head}{tail}")
}

/// The value (SI) with its unit; a bare number where the key names none.
pub fn said(key: &str, value: f64, system: System) -> String {
    let (key, _) = parted(key);
    if TEMPERATURES.iter().any(|end| key.ends_with(end)) {
        let celsius = value - ZERO_CELSIUS_K;
        return match system {
            System::Metric => format!("{} degC", small(celsius)),
            System::Imperial => format!("{} degF", small(celsius * 1.8 + 32.0)),
        };
    }
    let Some((_, metric, imperial)) = ROWS.iter().find(|row| key.ends_with(row.0)) else {
        return small(value);
    };
    let (unit, factor) = if system == System::Metric { metric } else { imperial };
    format!("{} {unit}", small(value * factor))
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
        assert_eq!(name("piece.depth_m"), "piece.depth");
        assert_eq!(name("bath.anode.mass_transfer_m_per_s"), "bath.anode.mass_transfer");
        assert_eq!(name("source.kind"), "source.kind");
        assert_eq!(name("piece.molar_mass_kg_per_mol.Ag"), "piece.molar_mass.Ag");
        assert_eq!(said("piece.molar_mass_kg_per_mol.Ag", 0.107_87, m), "107.9 g/mol");
        assert_eq!(said("piece.depth_m", 0.35e-3, m), "0.35 mm");
        assert_eq!(said("piece.depth_m", 0.254e-3, i), "0.01 in");
        assert_eq!(said("bath.kappa25_s_per_m", 6.7, m), "67 mS/cm");
        assert_eq!(said("bath.temperature_k", 294.15, m), "21 degC");
        assert_eq!(said("ambient_k", 293.15, i), "68 degF");
        assert_eq!(said("source.cell.r0_temp_k", 2000.0, m), "2000 K");
        assert_eq!(said("source.cell.r0_temp_k", 2000.0, i), "3600 degF");
        assert_eq!(said("piece.current_efficiency", 1.0, m), "1");
        assert_eq!(said("bath.volume_m3", 7e-4, m), "700 mL");
        // One inch cubed, squared (NIST SP 811): 16.387064 cm3, 6.4516 cm2.
        assert_eq!(said("bath.volume_m3", 16.387_064e-6, i), "1 in3");
        assert_eq!(said("piece.exposed_area_m2", 6.4516e-4, i), "1 in2");
        assert_eq!(said("bath.anode.i0_a_per_m2", 1e-5, m), "1.00e-5 A/m2");
    }
}
