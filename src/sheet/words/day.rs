//! What pieces of a day are called, and what stops them.

use crate::job::Day;
use crate::run::Stop;

/// A piece by its name, numbered where there are more of it.
pub fn piece_name(day: &Day, kind: usize, copy: u32) -> String {
    let piece = &day.pieces[kind];
    let together = match piece.job.piece.count.is {
        1 => String::new(),
        n => format!(", a batch of {n}"),
    };
    if piece.count > 1 {
        format!("{} {copy} of {}{together}", piece.name, piece.count)
    } else {
        format!("{}{together}", piece.name)
    }
}

/// The end that came before the depth.
pub fn stop_words(stop: Stop) -> &'static str {
    match stop {
        Stop::Empty => "empty before the depth is reached, and no fresh charge at hand",
        Stop::Hot => "too hot after the pieces before, however long it rests",
        Stop::Boil => "the bath boils before the depth is reached",
        Stop::Freeze => "the bath freezes before the depth is reached",
        Stop::NoCurrent => "no current: too few volts",
        Stop::Floor | Stop::Depth => "down to the floor before the depth is reached",
        Stop::Time => "not at its depth within its time limit",
    }
}
