//! Pieces of a charge in sentences.

use super::spread;
use crate::advice::Case;
use crate::advice::charge::Charge;
use crate::job::Source;
use crate::run::Stop;
use crate::units::say::{self, System};

/// How many pieces, in a sentence.
pub fn sentence(case: &Case, charge: &Charge, u: System) -> String {
    let count = charge.pieces.count();
    let piece = match (count, case.job.piece.count.is) {
        (1, 1) => "piece".to_string(),
        (_, 1) => "pieces".to_string(),
        (1, together) => format!("batch of {together} pieces"),
        (_, together) => format!("batches of {together} pieces"),
    };
    let honest = charge.before_reversal.unwrap_or(count).min(count);
    let weak = if honest < count {
        format!(
            " But stop after {honest}: by then a cell that holds {} of what the others do would be \
             driven backwards.",
            say::share(charge.weakest_holds)
        )
    } else {
        String::new()
    };
    let renew = match &case.source {
        Source::Pack(p) if p.cell.rechargeable => "Recharge",
        _ => "Take fresh cells, all at once,",
    };
    let swap = if honest > 0 {
        format!(" {renew} after {honest}, so that none is stranded half done.")
    } else {
        String::new()
    };
    let sure = charge.spread.as_ref().map_or_else(String::new, |s| {
        let sure = spread::pieces_in_words(s);
        format!(" {}{}.", sure[..1].to_uppercase(), &sure[1..])
    });
    if !charge.pieces.ended() {
        return format!("More than {count} {piece} from this charge.{sure}{weak}");
    }
    format!("{count} {piece} from this charge: {}.{sure}{weak}{swap}", ends(case, charge, u))
}

/// Why the next piece fails.
pub fn ends(case: &Case, charge: &Charge, u: System) -> String {
    let target = u.depth(case.setup.piece.depth);
    let Some(last) = charge.pieces.each.last().filter(|p| p.stop != Stop::Depth) else {
        return format!("not within {} pieces", charge.pieces.each.len());
    };
    let depth = u.depth(last.depth_m);
    match last.stop {
        Stop::Empty => format!("the next piece runs the cells empty at {depth} of {target}"),
        Stop::Hot => format!("the next piece gets too hot at {depth} of {target}"),
        Stop::Time => format!("the next piece is out of time at {depth} of {target}"),
        Stop::Boil => format!("the bath boils under the next piece at {depth} of {target}"),
        Stop::Freeze => format!("the bath freezes under the next piece at {depth} of {target}"),
        Stop::NoCurrent => "the cells no longer push a current".into(),
        Stop::Floor | Stop::Depth => format!("the next piece ends at {depth} of {target}"),
    }
}
