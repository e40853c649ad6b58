//! Rests in sentences.

use crate::advice::Case;
use crate::advice::rest::Rests;
use crate::run::Stop;
use crate::units::say::{self, System};

/// What to do, in one or two sentences.
pub fn sentence(case: &Case, rests: &Rests, u: System) -> String {
    let run = &case.run;
    let hottest = run.peak_hot_spot_k.map_or_else(String::new, |k| u.temperature(k));
    let warm = rests.piece_needs || !rests.never_needed();
    let Some(best) = rests.best.as_ref().filter(|_| warm || run.stop == Stop::Depth) else {
        if !rests.piece_needs && run.stop != Stop::Depth {
            return format!(
                "Rests are not what is wanting: the cells stay at {hottest}, but the piece does not \
                 come to depth. See `restbite plan` and `restbite size`."
            );
        }
        return "No cycle of on and off gets the piece to depth in the time with the cells cool \
                enough: take more or larger cells, a wider gap, or more time (`restbite size`)."
            .into();
    };
    let (on, off) = (say::time(best.cycle.on_s), say::time(best.cycle.off_s));
    let factor = say::share(best.cycle.duration_factor());
    if rests.piece_needs {
        return format!(
            "{on} on, {off} off, in turn: {} to depth all in all, cyclic duration factor {factor} \
             (IEC 60034-1, S3). Look while it rests. In one go the cells would come to {hottest}.",
            say::time(best.elapsed_s)
        );
    }
    if rests.never_needed() {
        return format!(
            "No rest needed: {hottest} inside in this piece, and {} however long it goes on.",
            u.temperature(rests.running_on.0)
        );
    }
    format!(
        "This piece needs no rest: {hottest} inside at most. Etching piece after piece, give the \
         cells {off} off for every {on} on (cyclic duration factor {factor}, IEC 60034-1, S3)."
    )
}

/// What comes after the piece, in two sentences.
pub fn after(rests: &Rests) -> String {
    let next = match rests.cool_down_s {
        s if s < 1.0 => "The next piece can follow at once".to_string(),
        s => format!("Rest {} before the next piece", say::time(s)),
    };
    let away = match rests.pack_away_s {
        s if s < 1.0 => "at once".to_string(),
        s => format!("after {}", say::time(s)),
    };
    format!(
        "{next}; the cells are cool enough to pack away {away}. A rest brings the pack back \
         from {} to {} at rest.",
        say::voltage(rests.recovery_v.0),
        say::voltage(rests.recovery_v.1)
    )
}

/// What a source without cells has to say.
pub const NO_CELLS: &str = "No cells, so none to cool: this source needs no rest.";
