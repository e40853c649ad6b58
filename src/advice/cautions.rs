//! The usual cautions, said where they matter.

use crate::job::{Job, Source};
use crate::stock::CAUTIONS;

/// Sentences for this bath and source, each said once.
pub fn cautions(job: &Job, source: Option<&Source>) -> Vec<String> {
    let mut list = vec![
        "Switch off before you reach into the bath; goggles, gloves, an aired room.".to_string(),
        "The plus clip's jaws stay out of the bath. The pan: stainless steel or copper, never \
         aluminium or zinc."
            .to_string(),
    ];
    let copper = job.bath.stock.copper_per_formula.is.0 > 0.0;
    if copper || job.piece.alloy.main == "Ag" {
        list.push("Metal trees from the pan short the gap: knock them off at every look.".into());
    }
    for key in &job.bath.stock.cautions {
        let told = CAUTIONS.iter().find(|(word, _)| word == key);
        list.extend(told.map(|(_, text)| (*text).to_string()));
    }
    if job.piece.alloy.parts.iter().any(|p| p.element == "Ag") {
        list.push("Silver salts stain skin and bench black.".into());
    }
    if let Some(Source::Pack(pack)) = source {
        list.push(if pack.cell.rechargeable {
            "Never charge hot cells: let them come to room temperature first.".into()
        } else {
            "Primary cells: never charge them, never mix kinds, or old and new.".into()
        });
        if pack.cell.is_lithium() {
            list.push(
                "Lithium cells: protected ones only, a fuse in the plus lead, away from splashes; \
                 shorted or damaged they vent and catch fire."
                    .into(),
            );
        }
        if pack.cell.chemistry.to_lowercase().contains("lead") {
            list.push(
                "Lead-acid: a fuse in the plus lead, rings and watches off; a shorted block burns \
                 and sprays acid, and it gives off gas on charge."
                    .into(),
            );
        }
        list.push("Never short the pack: clip sheet and pan before the last cell goes in.".into());
    }
    list.push(
        "Local codes on waste, fire and electricity, and licensed practice, come first.".into(),
    );
    list
}
