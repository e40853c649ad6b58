//! The answer of `day` on a terminal: what the hands do by the clock, then each source.

use super::page::Page;
use crate::advice::Grade;
use crate::advice::day::{DayPlan, Entry, Method, Of, Stuck, Why, Work};
use crate::advice::size::Reason;
use crate::job::clock::{DAY_S, clock};
use crate::job::{Day, Refused, Source};
use crate::run::{Silver, Stop};
use crate::sheet::words::day::{piece_name, stop_words};
use crate::sheet::words::reasons::{reason, reasons};
use crate::sheet::words::size::source_words;
use crate::sheet::words::verdict::brief;
use crate::units::say::{self, System};

/// The whole page.
pub fn day(day: &Day, plan: &DayPlan, u: System) -> String {
    let mut page = Page::default();
    page.title(&day.title);
    match plan.end_s {
        Some(end) => {
            page.lines(&format!("{} {}", span(day, plan, end), driven(day, plan)));
            page.blank();
            let heads = ["from", "to", "hands", "piece", "source", "depth"];
            page.table_from(&heads, &rows(day, plan, u), 5);
            page.blank();
            sources(&mut page, day, plan, u);
            silver(&mut page, plan);
            bounds(&mut page, day, plan, end);
            page.blank();
            page.lines(HOW);
        }
        None => cannot(&mut page, day, plan, u),
    }
    page.text
}

/// The page where a piece is refused.
pub fn refused(name: &str, refused: &Refused) -> String {
    let mut page = Page::default();
    page.title(name);
    page.barred(&refused.text);
    page.text
}

const HOW: &str = "Clock times are rounded down to the minute. Switch off for every look and \
    whenever you reach into a bath. Stop when a piece is deep enough, whatever the clock says; \
    what comes after it moves along. A late look may find it too deep.";

fn span(day: &Day, plan: &DayPlan, end: f64) -> String {
    let at = |t: f64| clock(day.start_s, t);
    format!(
        "From {} to {}, {}; {}, {}, one pair of hands.",
        at(0.0),
        at(end),
        say::time(end),
        many(plan.entries.len(), "piece"),
        many(day.sources.len(), "source"),
    )
}

fn many(n: usize, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

/// How the sources are driven.
fn driven(day: &Day, plan: &DayPlan) -> String {
    let hard = plan.verdicts.iter().filter(|(_, v)| v.grade != Grade::Does);
    let hard: Vec<String> = hard
        .map(|((kind, source), v)| {
            let (piece, source) = (&day.pieces[*kind].name, &day.sources[*source].name);
            format!("{piece} on {source}: {}", brief(v).to_lowercase())
        })
        .collect();
    if hard.is_empty() { "Nothing is driven hard.".into() } else { format!("{}.", hard.join("; ")) }
}

/// Where the day's silver is as each piece is taken down.
fn silver(page: &mut Page, plan: &DayPlan) {
    let all = |of: fn(&Silver) -> f64| plan.entries.iter().map(|e| of(&e.etched.silver)).sum();
    let (down, loose, left): (f64, f64, f64) =
        (all(Silver::down), all(|s| s.loose), all(|s| s.solution));
    if down > 0.0 {
        let text = format!(
            "As the pieces are taken down {} is on the pans, {} of it loose, and {} dissolved, most \
             of which falls overnight. Keep baths, pans and sludge.",
            say::mass(down),
            say::mass(loose),
            say::mass(left.max(0.0))
        );
        page.row("Silver", &text);
    }
}

/// What the hands do, with breaks and rests in between.
fn rows(day: &Day, plan: &DayPlan, u: System) -> Vec<Vec<String>> {
    let at = |t: f64| clock(day.start_s, t);
    // Past midnight clock times are longer, and names have less room.
    let late = plan.end_s.is_some_and(|end| day.start_s + end >= DAY_S);
    let (wide, narrow) = if late { (21, 13) } else { (24, 16) };
    let mut rows: Vec<(f64, Vec<String>)> = Vec::new();
    for t in &plan.hands {
        let entry = t.piece.and_then(|p| plan.entries.iter().find(|e| (e.kind, e.copy) == p));
        let depth = entry.and_then(|e| match t.what {
            Work::Look => {
                let look = e.etched.looks.iter().find(|l| l.at_s == t.start_s);
                look.map(|l| u.depth(l.depth_m))
            }
            Work::TakeDown => Some(u.depth(e.etched.depth_m)),
            _ => None,
        });
        let name = t.piece.map(|(kind, copy)| piece_name(day, kind, copy));
        let row = vec![
            at(t.start_s),
            at(t.end_s),
            t.what.word().into(),
            cut(&name.unwrap_or_default(), wide),
            cut(&day.sources[t.source].name, narrow),
            depth.unwrap_or_default(),
        ];
        rows.push((t.start_s, row));
    }
    for e in &plan.entries {
        let name = cut(&piece_name(day, e.kind, e.copy), wide);
        let source = cut(&day.sources[e.source].name, narrow);
        let all = [("(rest)", &e.etched.rests), ("(wait)", &e.etched.waits)];
        for (what, list) in all {
            for (from, to) in list.iter().filter(|(from, to)| to - from >= 1.0) {
                let row = [at(*from), at(*to), what.into(), name.clone(), source.clone()];
                rows.push((*from, row.into()));
            }
        }
    }
    let within = day.breaks.iter().filter(|b| plan.end_s.is_some_and(|end| b.0 < end));
    rows.extend(within.map(|(a, b)| (*a, vec![at(*a), at(*b), "(break)".into()])));
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    // Short of an hour's second digit, a clock time stands under the others' minutes.
    let under = |clock: &str| if clock.find(':') == Some(1) { " " } else { "" };
    let aligned = |(_, mut row): (f64, Vec<String>)| {
        for clock in &mut row[..2] {
            clock.insert_str(0, under(clock));
        }
        row
    };
    rows.into_iter().map(aligned).collect()
}

fn cut(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.into();
    }
    let kept: String = text.chars().take(most - 1).collect();
    format!("{}…", kept.trim_end())
}

/// Who etches when on what.
fn sources(page: &mut Page, day: &Day, plan: &DayPlan, u: System) {
    for (n, source) in day.sources.iter().enumerate() {
        let mine: Vec<&Entry> = plan.entries.iter().filter(|e| e.source == n).collect();
        let mut text = format!("{}: {}. ", source.name, source_words(&source.source));
        if mine.is_empty() {
            let fits_some = (0..day.pieces.len()).any(|k| unfit(plan, k, n).is_none());
            text += if fits_some { "Not needed. " } else { "Fits none of the pieces. " };
        }
        for e in &mine {
            text += &etched(day, e, u);
        }
        for swap in plan.recharges().filter(|t| t.source == n) {
            text += &format!("Fresh charge at {}. ", clock(day.start_s, swap.start_s));
        }
        if matches!(source.source, Source::Pack(_)) {
            let used = plan.recharges().filter(|t| t.source == n).count() as u32;
            let spare = source.charges - 1 - used;
            text += &format!("Fresh charges left over: {spare}.");
        }
        page.row("Source", text.trim_end());
    }
    for (kind, source, why) in &plan.unfit {
        let (piece, source) = (&day.pieces[*kind].name, &day.sources[*source].name);
        page.row("Unfit", &format!("{source} for {piece}: {}.", reasons(why, u)));
    }
}

/// Why a source does not fit a kind of piece; none where it does.
fn unfit(plan: &DayPlan, kind: usize, source: usize) -> Option<&Vec<Reason>> {
    plan.unfit.iter().find(|u| (u.0, u.1) == (kind, source)).map(|u| &u.2)
}

fn etched(day: &Day, e: &Entry, u: System) -> String {
    let at = |t: f64| clock(day.start_s, t);
    let done = &e.etched;
    let on_s: f64 = done.on.iter().map(|(a, b)| b - a).sum();
    let from = done.on.first().map_or(0.0, |on| on.0);
    let left = done
        .wells
        .map_or_else(String::new, |w| format!(", {} of the charge left", say::share(w.total)));
    let warm = done
        .peak_hot_spot_k
        .map_or_else(String::new, |k| format!(", cells at most {}", u.temperature(k)));
    format!(
        "{} from {} to {}, {} with the current on{left}{warm}. ",
        piece_name(day, e.kind, e.copy),
        at(from),
        at(done.take_down.0),
        say::time(on_s),
    )
}

/// What bounds the day, and how far it is from that.
fn bounds(page: &mut Page, day: &Day, plan: &DayPlan, end: f64) {
    let Some((of, lower)) = plan.bounds.first() else {
        return;
    };
    let what = match of {
        Of::Sources => "all sources busy without a gap".to_string(),
        Of::Source(n) => format!("the pieces that only {} can do", day.sources[*n].name),
        Of::Hands => "the hands' own work, around the breaks".into(),
        Of::Piece(n) if day.pieces[*n].count > 1 => {
            format!("{}, one after the other", day.pieces[*n].name)
        }
        Of::Piece(n) => format!("{} alone", day.pieces[*n].name),
    };
    let over = (end - lower).max(0.0);
    let text = format!(
        "No order can end before {} ({}: {what}). This one ends {} after that, {} of it.",
        clock(day.start_s, *lower),
        say::time(*lower),
        say::time(over),
        say::share(over / lower.max(1.0)),
    );
    page.row("Bound", &text);
    let text = match plan.method {
        Method::EveryOrder => {
            "Every order in which the pieces can be begun was followed or ruled out by its bound."
        }
        Method::SomeOrders => {
            "The best of the orders that were followed; there are too many to follow all."
        }
        Method::Changes => {
            "The longest piece first, then pieces changed places as long as that helped; a \
             better order may exist."
        }
    };
    page.row("Order", text);
}

/// Why the day cannot be done, and what would do.
fn cannot(page: &mut Page, day: &Day, plan: &DayPlan, u: System) {
    page.lines("The day cannot be done as given.");
    page.blank();
    for stuck in &plan.stuck {
        page.row("STOP", &stuck_words(day, stuck, u));
    }
}

fn stuck_words(day: &Day, s: &Stuck, u: System) -> String {
    let piece = &day.pieces[s.kind];
    let left =
        if piece.count > 1 { format!(" ({} of {})", s.left, piece.count) } else { "".into() };
    let mut text = format!("{}{left} has no source. ", piece.name);
    let mut runs_out = false;
    for (source, why) in day.sources.iter().zip(&s.why) {
        let why = match why {
            Why::Unfit(reasons) => self::reasons(reasons, u),
            Why::Current(over) => reason(over, u),
            Why::Stop(stop) => {
                runs_out |= *stop == Stop::Empty;
                stop_words(*stop).into()
            }
        };
        text += &format!("{}: {why}. ", source.name);
    }
    text += if runs_out {
        "What would do: one more fresh charge (charges), or another source."
    } else {
        "What would do: `restbite size` on its job tells which sources fit."
    };
    text
}
