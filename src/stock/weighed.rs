//! A concentration by weight: "120 g/L CuSO4.5H2O", grams of the salt as it is weighed in a litre
//! of bath.
//!
//! c = g/(M + n M_water), n the crystal water of the formula, M the molar mass of the salt
//! without it (stock), M_water = 18.015 g/mol (IUPAC standard atomic weights added up). Salts that
//! are sold with crystal water are not taken by weight unless the formula is said: copper
//! sulphate with its five waters weighs half as much again as without.

use super::baths::{Bath, MOLARITY_AT_C};
use crate::units::{
    Mass, MassConcentration, Misread, MolarConcentration, Quantity, Share, Volume, parse as read,
    short,
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
    let one = bath.as_sold.first().map_or_else(|| salt(bath), String::as_str);
    let share = bath.density_law().map_or_else(String::new, |_| format!(", \"10 % {one}\""));
    format!(
        "{}, \"half molar\", or by weight, such as {}, \"100 g {one} in 1 L\"{share}",
        MolarConcentration::KIND.allowed(),
        forms.join(", ")
    )
}

/// How strong a bath is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strength {
    /// Its concentration.
    pub is: MolarConcentration,
    /// Crystal water of the form of the salt that is weighed, where it was named.
    pub form: Option<f64>,
}

impl Strength {
    fn of(is: MolarConcentration) -> Self {
        Self { is, form: None }
    }
}

/// Molar concentrations in words, mol/m3.
const IN_WORDS: [(&str, f64); 4] = [
    ("half molar", 500.0),
    ("one molar", 1000.0),
    ("quarter molar", 250.0),
    ("tenth molar", 100.0),
];

/// Reads "0.5 mol/L", "half molar", "120 g/L CuSO4.5H2O", "100 g CuSO4.5H2O in 1 L" or "10 %
/// CuSO4.5H2O", which is grams in 100 g of the bath.
///
/// # Errors
/// When it is neither, or does not say with how much crystal water the salt is weighed.
pub fn parse(text: &str, bath: &Bath) -> Result<Strength, Misread> {
    let told = |e: Misread| Misread { allowed: allowed(bath), ..e };
    let plain = text.trim().to_lowercase();
    if let Some((_, c)) = IN_WORDS.iter().find(|(words, _)| plain == *words) {
        return Ok(Strength::of(MolarConcentration::from_si(*c)));
    }
    let (weight, formula) = match by_weight(text).map_err(told)? {
        Some(found) => found,
        None => return read(text).map(Strength::of).map_err(told),
    };
    let wrong = |why: &str| Misread {
        found: format!("\"{}\"{why}", short(text.trim())),
        allowed: allowed(bath),
    };
    let formula = formula.trim();
    let water = if formula.is_empty() && bath.as_sold.is_empty() {
        0.0
    } else if formula.is_empty() {
        return Err(wrong(", which does not say with how much crystal water the salt is weighed"));
    } else {
        water_of(formula, salt(bath)).ok_or_else(|| wrong(", whose formula is not this bath's"))?
    };
    let dry = bath.molar_mass.is.si();
    let molar_mass = dry + water * WATER_KG_PER_MOL;
    let per_m3 = match weight {
        Weight::PerVolume(kg_per_m3) => kg_per_m3 / molar_mass,
        Weight::Share(share) => {
            let law =
                bath.density_law().ok_or_else(|| wrong(", and stock has no density of it"))?;
            let w = share * dry / molar_mass;
            w * law.density(w, MOLARITY_AT_C) / dry
        }
    };
    let form = (!formula.is_empty()).then_some(water);
    Ok(Strength { is: MolarConcentration::from_si(per_m3), form })
}

/// How a salt was weighed.
enum Weight {
    /// kg in a cubic metre of the bath.
    PerVolume(f64),
    /// Share of the bath's mass.
    Share(f64),
}

/// A weight and the formula beside it; none where the text is no weight.
fn by_weight(text: &str) -> Result<Option<(Weight, String)>, Misread> {
    if let Some((number, formula)) = text.split_once("g/L").or_else(|| text.split_once("g/l")) {
        let weight: MassConcentration = read(&format!("{number}g/L"))?;
        return Ok(Some((Weight::PerVolume(weight.si()), formula.into())));
    }
    if let Some((number, formula)) = text.split_once('%') {
        let share: Share = read(&format!("{number}%"))?;
        return Ok(Some((Weight::Share(share.si()), formula.into())));
    }
    let Some((mass, volume)) = text.split_once(" in ") else {
        return Ok(None);
    };
    // A number with its unit, and what stands after it.
    let split = |text: &str| {
        let text = text.trim();
        let number = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
        let unit = text[number..].find(' ').map_or(text.len(), |n| number + n);
        (text[..unit].to_string(), text[unit..].trim().to_string())
    };
    let ((mass, before), (volume, after)) = (split(mass), split(volume));
    let (mass, volume): (Mass, Volume) = (read(&mass)?, read(&volume)?);
    if volume.si() <= 0.0 {
        return Ok(None);
    }
    Ok(Some((Weight::PerVolume(mass.si() / volume.si()), format!("{before}{after}"))))
}

/// The salt in every form that is sold, or the one whose crystal water was named: its formula, and
/// how much a mole of the salt weighs in it, kg/mol; the dry salt where stock knows no other.
pub fn sold(bath: &Bath, named: Option<f64>) -> Vec<(&str, f64)> {
    let dry = bath.molar_mass.is.si();
    let form = |formula: &'_ String| Some(dry + water_of(formula, salt(bath))? * WATER_KG_PER_MOL);
    let list = bath.as_sold.iter().filter_map(|f| Some((f.as_str(), form(f)?)));
    let list: Vec<_> =
        list.filter(|(f, _)| named.is_none() || water_of(f, salt(bath)) == named).collect();
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
            parse(text, find(&stock.baths, bath).unwrap()).map(|c| c.is.si() / 1000.0)
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
            ("copper nitrate", "half molar", 0.5),
            ("copper sulphate", "124.845 g CuSO4.5H2O in 1 L", 0.5),
            ("copper sulphate", "62.42 g in 500 mL CuSO4.5H2O", 0.5),
            // CRC, aqueous solutions: NaCl 10 mass % is 1.0707 g/cm3 at 20 degC, 1.832 mol/L; at
            // 25 degC 1.0688 g/cm3 (from memory).
            ("brine", "10 %", 1.829),
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
