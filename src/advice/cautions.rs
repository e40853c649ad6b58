//! The usual cautions, said where they matter.

use crate::job::{Job, Source};
use crate::stock::CAUTIONS;

/// Sentences for this bath and source, each said once.
pub fn cautions(job: &Job, source: Option<&Source>) -> Vec<String> {
    let mut list = vec![
        "Switch off before you reach into the bath; goggles, gloves, an aired room.".to_string(),
    ];
    for key in &job.bath.stock.cautions {
        let told = CAUTIONS.iter().find(|(word, _)| word == key);
        list.extend(told.map(|(_, text)| (*text).to_string()));
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
        if pack.cell.chemistry.to_lowercase().starts_with("li") {
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
