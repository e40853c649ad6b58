//! What the keys of the catalogues mean, in a few words.

const WORDS: [(&str, &str); 69] = [
    ("nominal", "nominal voltage"),
    ("capacity", "charge of both wells"),
    ("available_share", "of it at hand at once"),
    ("well_rate", "how fast the rest comes up"),
    ("r0", "resistance, full, 25 degC"),
    ("r0_temperature", "its B in exp(B/T)"),
    ("r0_curve_factor", "its factor over the charge at hand"),
    ("r1", "slow share of the sag"),
    ("c1", "r1 c1 is its time"),
    ("ocv_curve_v", "rest voltage over the charge at hand"),
    ("cutoff", "counts as empty"),
    ("mass", "mass"),
    ("specific_heat", "specific heat"),
    ("diameter", "diameter"),
    ("length", "length"),
    ("radial_conductivity", "heat from core to jacket"),
    ("emissivity", "of the jacket"),
    ("entropy", "dU/dT"),
    ("max_temperature", "warmest it may get"),
    ("continuous_current", "stands it for long"),
    ("capacity_spread", "between like cells"),
    ("resistance_spread", "between like cells"),
    ("density", "density"),
    ("parts", "mass share"),
    ("molar_mass", "without crystal water"),
    ("acid_concentration", "acid that goes with it"),
    ("acid_molar_mass", "of that acid"),
    ("beta", "conductivity's rise, of that at 25 degC"),
    ("concentration_min", "least the curve holds for"),
    ("concentration_max", "most the curve holds for"),
    ("copper_per_formula", "copper ions a formula"),
    ("ph", "pH of the fresh bath"),
    ("solubility", "dissolved metal at which a salt film forms"),
    ("valence_cu", "electrons of copper here"),
    ("e0", "standard potential"),
    ("n", "electrons"),
    ("alpha", "transfer coefficient"),
    ("i0", "exchange current density"),
    ("mass_transfer_still", "to and from the face, still"),
    ("mass_transfer_stirred", "the same, stirred"),
    ("m_max_mol_per_kg", "where it conducts best"),
    ("kappa_max_ms_per_cm", "how well it does there"),
    ("a", "exponent"),
    ("b", "coefficient"),
    ("at", "temperature of the data"),
    ("lowest_mol_per_kg", "lowest of the data"),
    ("highest_mol_per_kg", "highest of the data"),
    ("points_mol_per_l_ms_per_cm", "conductivity over concentration"),
    ("density.c1", "density equation"),
    ("density.c0", "density equation"),
    ("density.c2", "density equation"),
    ("density.c3", "density equation"),
    ("density.c4", "density equation"),
    ("mass_share_max", "most salt it holds for"),
    ("r20", "of one lead, at 20 degC"),
    ("outer_diameter", "over the insulation"),
    ("resistance", "of one"),
    ("resistivity", "at 20 degC"),
    ("temperature_coefficient", "of the resistance"),
    ("awg_thickest", "thickest gauge in stock"),
    ("awg_thinnest", "thinnest gauge in stock"),
    ("max_current_density", "bears on the bare metal"),
    ("exposed_share", "surface left open, worst cell"),
    ("contact", "of a cell, both ends"),
    ("convection_factor", "on natural convection"),
    ("sd", "one standard deviation"),
    ("temperature", "of the surface"),
    ("valence", "electrons on dissolving"),
    ("value", ""),
];

/// The words for a key of a part of an entry; none where it speaks for itself.
pub fn words(part: &str, key: &str) -> &'static str {
    let within = format!("{part}.{key}");
    let find = |name: &str| WORDS.iter().find(|(k, _)| *k == name).map(|(_, words)| *words);
    find(&within).or_else(|| find(key)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::{Stock, shelves};
    use serde_json::Value;
    use std::collections::BTreeSet;

    #[test]
    fn every_key_of_a_number_has_words_and_every_word_a_key() {
        fn keys(part: &str, value: &Value, seen: &mut BTreeSet<String>) {
            if let Value::Object(map) = value {
                for (key, value) in map {
                    let listed = value
                        .as_array()
                        .is_some_and(|l| l.iter().any(|v| v.get("element").is_some()));
                    if value.get("certainty").is_some() || listed {
                        let within = format!("{part}.{key}");
                        let told = WORDS.iter().any(|(k, _)| *k == within);
                        seen.insert(if told { within } else { key.clone() });
                    } else {
                        keys(key, value, seen);
                    }
                }
            }
        }
        let mut seen = BTreeSet::new();
        for shelf in shelves(&Stock::builtin().unwrap()) {
            shelf.entries.iter().for_each(|e| keys("", &e.data, &mut seen));
        }
        let told: BTreeSet<String> = WORDS.iter().map(|(k, _)| (*k).to_string()).collect();
        assert_eq!(seen, told);
    }
}
