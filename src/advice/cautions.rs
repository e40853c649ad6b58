//! The usual cautions, said where they matter.

use crate::job::{Job, Source};

/// Sentences for this bath and source, each said once.
pub fn cautions(job: &Job, source: Option<&Source>) -> Vec<String> {
    let mut list = vec![
        "Switch off before you reach into the bath; goggles, gloves, an aired room.".to_string(),
    ];
    for key in &job.bath.stock.cautions {
        if let Some(text) = bath_caution(key) {
            list.push(text.to_string());
        }
    }
    if job.piece.alloy.parts.iter().any(|p| p.element == "Ag") {
        list.push("Silver salts stain skin and bench black and poison water: collect them.".into());
    }
    if let Some(Source::Pack(pack)) = source {
        list.push(if pack.cell.rechargeable {
            "Never charge hot cells: let them come to room temperature first.".into()
        } else {
            "Primary cells: never charge them, never mix kinds, or old and new.".into()
        });
        if pack.cell.chemistry.starts_with("lithium") {
            list.push(
                "Lithium cells: protected ones only, in a holder, away from splashes; shorted or \
                 damaged they catch fire."
                    .into(),
            );
        }
        list.push(
            "Never short the pack: clip the sheet and the pan before the last cell goes in.".into(),
        );
    }
    list.push(
        "Local codes on waste, fire and electricity come first; ask licensed people where they ask \
         for them."
            .into(),
    );
    list
}

fn bath_caution(key: &str) -> Option<&'static str> {
    Some(match key {
        "oxidiser" => "Nitrates feed fire: keep dry salt and soaked paper from flame and solvent.",
        "corrosive" => "The bath is corrosive: rinse splashes at once, with plenty of water.",
        "harmful if swallowed" => {
            "Poisonous if swallowed: no food, and no kitchen ware back to the kitchen."
        }
        "irritant" => "The bath irritates skin and eyes.",
        "eye damage" => "Copper salts harm the eyes for good: goggles, not glasses.",
        "aquatic toxic" => "Spent bath and sludge hold metal: collect them, never down the drain.",
        "chlorine" => "Brine can give off chlorine: air the room, never add acid or bleach.",
        "alkaline pan" => "The pan makes hydrogen and turns the bath alkaline: no flames.",
        "sludge" => "Dissolved metal falls out as sludge: filter it off and keep it.",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stock::Stock;

    #[test]
    fn every_caution_in_stock_has_words() {
        for bath in Stock::builtin().unwrap().baths {
            for key in &bath.cautions {
                assert!(bath_caution(key).is_some(), "{}: {key}", bath.name);
            }
        }
    }
}
