//! Rests in sentences.

use crate::advice::Case;
use crate::advice::LONGEST_REST_MIN;
use crate::advice::rest::{LONGEST_WAIT_S, Rests};
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

/// The same for the one screen: no words of a standard.
pub fn brief(case: &Case, rests: &Rests, u: System) -> String {
    let Some(best) = rests.best.as_ref().filter(|_| rests.piece_needs) else {
        let hottest = case.run.peak_hot_spot_k.map_or_else(String::new, |k| u.temperature(k));
        let next = match rests.cool_down_s {
            None => "The next piece cannot follow: the cells stay too hot.".to_string(),
            Some(s) if s < 1.0 => "The next piece can follow at once.".to_string(),
            Some(s) => format!("Rest them {} before the next.", say::time(s)),
        };
        return format!("None ({hottest} inside the cells). {next}");
    };
    format!(
        "{} on, {} off, in turn: {} in all. Look while it rests.",
        say::time(best.cycle.on_s),
        say::time(best.cycle.off_s),
        say::time(best.elapsed_s)
    )
}

/// Why there is no rest before the next piece.
pub fn never_cool_enough() -> String {
    let longest = say::time(LONGEST_REST_MIN as f64 * 60.0);
    format!("no rest of up to {longest} keeps a piece cool enough")
}

/// Why there is no time to pack away at.
pub fn still_warm() -> String {
    format!("the cells are still warm after {}", say::time(LONGEST_WAIT_S))
}

/// What comes after the piece, in two sentences.
pub fn after(rests: &Rests) -> String {
    let next = match rests.cool_down_s {
        None => format!("The next piece cannot follow: {}", never_cool_enough()),
        Some(s) if s < 1.0 => "The next piece can follow at once".to_string(),
        Some(s) => format!("Rest {} before the next piece", say::time(s)),
    };
    let away = match rests.pack_away_s {
        None => still_warm(),
        Some(s) if s < 1.0 => "the cells are cool enough to pack away at once".to_string(),
        Some(s) => format!("the cells are cool enough to pack away after {}", say::time(s)),
    };
    format!(
        "{next}; {away}. A rest brings the pack back from {} to {} at rest.",
        say::voltage(rests.recovery_v.0),
        say::voltage(rests.recovery_v.1)
    )
}

/// What a source without cells has to say.
pub const NO_CELLS: &str = "No cells, so none to cool: this source needs no rest.";
