//! A concentration by weight: "120 g/L CuSO4.5H2O", grams of the salt as it is weighed in a litre
//! of bath.
//!
//! c = g/(M + n M_water), n the crystal water of the formula, M the molar mass of the salt
//! without it (stock), M_water = 18.015 g/mol (IUPAC standard atomic weights added up). Salts that
//! are sold with crystal water are not taken by weight unless the formula is said: copper
//! sulphate with its five waters weighs half as much again as without.

use super::baths::Bath;
use crate::units::{
    MassConcentration, Misread, MolarConcentration, Quantity, parse as read, short,
};

/// Molar mass of water, kg/mol: 2 x 1.008 + 15.999 g/mol (IUPAC).
const WATER_KG_PER_MOL: f64 = 18.015e-3;
/// Most crystal water that any salt has, and some.
const MOST_WATER: f64 = 24.0;

/// The salt's formula, without an acid that goes with it.
fn salt(bath: &Bath) -> &str {
    bath.formula.split(" + ").next().unwrap_or(&bath.formula)
}

/// What may be written for this bath.
pub fn allowed(bath: &Bath) -> String {
    let forms = bath.as_sold.iter().map(String::as_str).chain([salt(bath)]);
    let forms: Vec<String> = forms.map(|f| format!("\"100 g/L {f}\"")).collect();
    format!("{}, or by weight, such as {}", MolarConcentration::KIND.allowed(), forms.join(", "))
}

/// Reads "0.5 mol/L" or "120 g/L CuSO4.5H2O".
///
/// # Errors
/// When it is neither, or does not say with how much crystal water the salt is weighed.
pub fn parse(text: &str, bath: &Bath) -> Result<MolarConcentration, Misread> {
    let Some((number, formula)) = text.split_once("g/L").or_else(|| text.split_once("g/l")) else {
        return read(text).map_err(|e| Misread { found: e.found, allowed: allowed(bath) });
    };
    let wrong = |why: &str| Misread {
        found: format!("\"{}\"{why}", short(text.trim())),
        allowed: allowed(bath),
    };
    let weight: MassConcentration =
        read(&format!("{number}g/L")).map_err(|e| Misread { allowed: allowed(bath), ..e })?;
    let formula = formula.trim();
    let water = if formula.is_empty() && bath.as_sold.is_empty() {
        0.0
    } else if formula.is_empty() {
        return Err(wrong(", which does not say with how much crystal water the salt is weighed"));
    } else {
        water_of(formula, salt(bath)).ok_or_else(|| wrong(", whose formula is not this bath's"))?
    };
    let molar_mass = bath.molar_mass.is.si() + water * WATER_KG_PER_MOL;
    Ok(MolarConcentration::from_si(weight.si() / molar_mass))
}

/// The salt in every form that is sold: its formula, and how much a mole of the salt weighs in
/// it, kg/mol; the dry salt where stock knows no other.
pub fn sold(bath: &Bath) -> Vec<(&str, f64)> {
    let dry = bath.molar_mass.is.si();
    let form = |formula: &'_ String| Some(dry + water_of(formula, salt(bath))? * WATER_KG_PER_MOL);
    let list = bath.as_sold.iter().filter_map(|f| Some((f.as_str(), form(f)?)));
    let list: Vec<_> = list.collect();
    if list.is_empty() { vec![(salt(bath), dry)] } else { list }
}

/// Whether a formula is the bath's salt, with or without crystal water.
pub fn is_of(formula: &str, bath: &Bath) -> bool {
    water_of(formula, salt(bath)).is_some()
}

/// Crystal water of a formula: 5 of "CuSO4.5H2O".
fn water_of(formula: &str, salt: &str) -> Option<f64> {
    let plain = |c: char| match c {
        '·' | '*' | '•' => '.',
        c => c,
    };
    let formula: String = formula.chars().filter(|c| !c.is_whitespace()).map(plain).collect();
    let rest = formula.strip_prefix(salt)?;
    if rest.is_empty() {
        return Some(0.0);
    }
    let number = rest.strip_prefix('.')?.strip_suffix("H2O")?;
    let water = if number.is_empty() { 1.0 } else { number.parse::<f64>().ok()? };
    (water > 0.0 && water <= MOST_WATER).then_some(water)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::{Stock, find};

    #[test]
    fn by_weight_with_the_water_that_is_said() {
        let stock = Stock::builtin().unwrap();
        let of = |bath: &str, text: &str| {
            parse(text, find(&stock.baths, bath).unwrap()).map(|c| c.si() / 1000.0)
        };
        // Molar masses as on labels: CuSO4.5H2O 249.69, Cu(NO3)2.3H2O 241.60, Cu(NO3)2.2.5H2O
        // 232.59, CuSO4 159.61, NaCl 58.44 g/mol.
        for (bath, text, want) in [
            ("copper sulphate", "124.845 g/L CuSO4.5H2O", 0.5),
            ("copper sulphate", "124.845g/l CuSO4 · 5 H2O", 0.5),
            ("acid copper sulphate", "124.845 g/L CuSO4*5H2O", 0.5),
            ("copper sulphate", "79.805 g/L CuSO4", 0.5),
            ("copper nitrate", "120.80 g/L Cu(NO3)2.3H2O", 0.5),
            ("copper nitrate", "116.295 g/L Cu(NO3)2.2.5H2O", 0.5),
            ("brine", "58.44 g/L", 1.0),
            ("brine", "58.44 g/L NaCl", 1.0),
            ("copper nitrate", "0.5 mol/L", 0.5),
        ] {
            let got = of(bath, text).unwrap();
            assert!((got / want - 1.0).abs() < 2e-4, "{text}: {got}");
        }
        for (text, word) in [
            ("120 g/L", "crystal water"),
            ("120 g/L NaCl", "formula is not"),
            ("120 g/L CuSO4.xH2O", "formula is not"),
            ("120 g/L CuSO4.-5H2O", "formula is not"),
            ("120 g/L CuSO4.1e9H2O", "formula is not"),
            ("g/L CuSO4", "begin with a number"),
            ("120", "bare number"),
            ("120 g", "whose unit"),
        ] {
            let error = of("copper sulphate", text).unwrap_err();
            assert!(error.found.contains(word), "{text}: {error:?}");
            assert!(error.allowed.contains("CuSO4.5H2O"), "{text}: {error:?}");
        }
    }
}
