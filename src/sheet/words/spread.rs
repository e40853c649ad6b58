//! How sure: the spread in sentences.

use super::limits;
use crate::advice::spread::Spread;
use crate::advice::spread::charge::PieceSpread;
use crate::advice::spread::options::OptionSpread;
use crate::advice::spread::quantile::{Chance, Quantiles};
use crate::advice::{Case, Limit};
use crate::units::say::{self, System};

/// How many pieces for sure, and how many with luck.
pub fn pieces_in_words(s: &PieceSpread) -> String {
    let least = match s.pieces.p10 {
        Some(0) => {
            return match s.pieces.p90 {
                Some(0) => "hardly one charge in ten gives even one piece".into(),
                Some(n) => format!(
                    "{} of the charges give none, one in ten gives {n} or more",
                    say::share(s.none.share)
                ),
                None => format!(
                    "{} of the charges give none, one in ten gives more than {}",
                    say::share(s.none.share),
                    s.most
                ),
            };
        }
        Some(n) => format!("nine charges in ten give at least {n}"),
        None => return format!("nine charges in ten give more than {}", s.most),
    };
    match s.pieces.p90 {
        Some(n) if s.pieces.p10 == Some(n) => format!("{least}, hardly one gives more"),
        Some(n) => format!("{least}, one in ten gives {n} or more"),
        None => format!("{least}, one in ten gives more than {}", s.most),
    }
}

/// How sure an option of `size` is, in a few words.
pub fn option_in_words(s: &OptionSpread, limit_s: f64) -> String {
    let limit = say::time(limit_s);
    let mut text = match (s.outcomes.time_s.p10, s.outcomes.time_s.p90) {
        (None, _) => format!("hardly one in ten comes to depth within {limit}"),
        (Some(low), Some(high)) => format!("{} to {}", say::moment(low), say::moment(high)),
        (Some(low), None) => format!("{} or more", say::moment(low)),
    };
    let mut chances = vec![
        ("of not finishing", &s.outcomes.unfinished),
        ("of going through", &s.outcomes.through),
    ];
    if s.outcomes.hot_spot_k.is_some() {
        chances.push(("of cells too warm", &s.outcomes.hot));
    }
    for (what, c) in chances.into_iter().filter(|(_, c)| c.share > 0.0) {
        text += &format!(", {} chance {what}", chance(c));
    }
    // Every other limit that decides, too.
    const NAMED: [Limit; 6] =
        [Limit::Time, Limit::Empty, Limit::NoCurrent, Limit::Floor, Limit::Hot, Limit::OwnTouch];
    let others = Limit::ALL.into_iter().filter(|l| l.firm() && !NAMED.contains(l));
    for limit in others.filter(|l| s.outcomes.chances.of_limit(*l) > 0.0) {
        let often = say::share(s.outcomes.chances.of_limit(limit));
        text += &format!(", {often} chance of failing for {}", limits::name(limit));
    }
    match &s.pieces {
        Some(pieces) => format!("{text}; {}", pieces_in_words(pieces)),
        None => text,
    }
}

/// How sure, and what to measure next, in a few sentences.
pub fn sentence(case: &Case, s: &Spread, u: System) -> String {
    let limit = say::time(case.setup.time_limit_s);
    let mut text = match (s.outcomes.time_s.p10, s.outcomes.time_s.p90) {
        (None, _) => format!("Hardly one in ten comes to depth within {limit}."),
        (Some(low), Some(high)) => {
            format!("Eight times in ten it takes {} to {}.", say::moment(low), say::moment(high))
        }
        (Some(low), None) => format!(
            "One in ten takes less than {}, more than one in ten is not done within {limit}.",
            say::moment(low)
        ),
    };
    if let (Some(low), Some(high)) = (s.outcomes.depth_m.p10, s.outcomes.depth_m.p90) {
        let stop = say::time(case.run.time_s);
        text += &format!(
            " Stopped at {stop} unseen, it would be {} to {} deep.",
            u.depth(low),
            u.depth(high)
        );
    }
    let floor =
        if case.setup.piece.floor.is_some() { "into the floor" } else { "through the sheet" };
    text += &format!(
        " Chance of eating {floor} so {}, of not coming to depth {}",
        chance(&s.outcomes.through),
        chance(&s.outcomes.unfinished)
    );
    if s.outcomes.hot_spot_k.is_some() {
        text += &format!(", of cells too warm {}", chance(&s.outcomes.hot));
    }
    text + &format!(" ({} draws).{}", s.outcomes.sampling.draws, measure(s))
}

/// One line: how long eight times in ten, and what to measure.
pub fn brief(case: &Case, s: &Spread, _: System) -> String {
    let limit = say::time(case.setup.time_limit_s);
    let span = match (s.outcomes.time_s.p10, s.outcomes.time_s.p90) {
        (Some(low), Some(high)) => {
            format!("Eight times in ten {} to {}.", say::moment(low), say::moment(high))
        }
        (Some(low), None) => {
            format!("{} or more; more than one in ten is not done in {limit}.", say::moment(low))
        }
        (None, _) => format!("Hardly one in ten is done within {limit}."),
    };
    // What share of the unknown it is, `--full` says.
    let measure = measure(s);
    let short = measure
        .split_once(": it is ")
        .and_then(|(what, rest)| Some(format!("{what}: {}", rest.split_once("; ")?.1)));
    format!("{span}{}", short.unwrap_or(measure))
}

/// A chance as people say it, with its error where that matters.
fn chance(c: &Chance) -> String {
    let percent = 100.0 * c.share;
    if percent < 0.05 {
        "under 0.1 %".into()
    } else if percent < 10.0 {
        format!("{} % (+-{})", say::figures(percent, 2), say::figures(100.0 * c.error, 1))
    } else {
        format!("{} %", say::figures(percent, 2))
    }
}

/// What to measure next, and what that would give.
fn measure(s: &Spread) -> String {
    let (Some(m), Some(first)) = (&s.measure, s.drivers.first()) else {
        return String::new();
    };
    let share = s.drivers.iter().find(|d| d.key == m.key).map_or(first.share, |d| d.share);
    let span = |q: &Quantiles| Some((q.p10?, q.p90?));
    let Some((low, high)) = span(&m.time_s) else {
        return String::new();
    };
    let ends = |(low, high)| format!("{} to {}", say::moment(low), say::moment(high));
    let now = span(&s.outcomes.time_s);
    let would = match now {
        // Half minutes hide what it takes off.
        Some(now) if ends(now) == ends((low, high)) => {
            let narrower = (1.0 - (high - low) / (now.1 - now.0)).max(0.0);
            format!("make that span {} narrower", say::share(narrower))
        }
        _ => format!("narrow that to {}", ends((low, high))),
    };
    // By what a ruler can tell.
    let what = if m.key == "edge_length" { "pitch of the lines" } else { &m.title };
    format!(
        " Measure the {what}: it is {} of what you do not know; to {} it would {would}.",
        say::share(share),
        say::share(m.to),
    )
}
