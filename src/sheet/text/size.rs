//! The answer of `size` on a terminal: what to wire first, then what else would do, then
//! why the rest would not.

use super::page::Page;
use crate::advice::size::drawer;
use crate::advice::size::{Judged, Sizing, SupplyAdvice, is_own};
use crate::job::{Job, Source};
use crate::sheet::words::reasons::{reason, reasons};
use crate::sheet::words::size::{change, in_turn, source_words};
use crate::sheet::words::spread::option_in_words;
use crate::sheet::words::verdict::brief;
use crate::units::Quantity;
use crate::units::say::{self, System};

/// Rows of the table of what passes.
const SHOWN: usize = 10;

/// The whole page.
pub fn size(job: &Job, sizing: &Sizing, u: System, all: bool) -> String {
    let mut page = Page::default();
    page.title(&job.title);
    opening(&mut page, job, sizing, u);
    if let Some(own) = sizing.own.as_ref().filter(|own| !own.verdict().done()) {
        let words = source_words(&own.case.source);
        page.row("Yours", &format!("{words}: does not: {}.", reasons(&own.reasons, u)));
        for free in &sizing.free {
            page.row("", &change(free, u));
        }
        if sizing.free.is_empty() {
            page.row("", "No change of gap, strength, stirring, a resistor or the bare area alone mends that.");
        }
    }
    let hard = sizing.own.as_ref().filter(|own| own.verdict().done());
    if hard.is_some() && !sizing.free.is_empty() {
        page.row("Ease", "what would drive your own source less hard:");
        for free in &sizing.free {
            page.row("", &change(free, u));
        }
    }
    if sizing.done() {
        page.blank();
        passing(&mut page, job, sizing, u);
    }
    if let Some(supply) = &sizing.supply {
        supply_rows(&mut page, supply);
    }
    failing(&mut page, sizing, u, all);
    page.blank();
    let drawer = if job.drawer.is_empty() { "" } else { "then what the drawer has, " };
    page.row(
        "Rank",
        &format!(
            "your own source first, {drawer}then what strains nothing, then what fails least often \
             in tenths, then the \
             soonest done, then the fewest cells, then the coolest. {} sources, {} runs.",
            sizing.options.len(),
            sizing.runs
        ),
    );
    page.text
}

fn opening(page: &mut Page, job: &Job, sizing: &Sizing, u: System) {
    if !sizing.done() {
        page.lines("No source that may be wired does this job as it is given. What would:");
        for least in &sizing.least {
            page.row("-", &change(least, u));
        }
        if sizing.least.is_empty() {
            page.row(
                "-",
                "No change of time, gap, number of cells or bare area alone: change more than one.",
            );
        }
        return;
    }
    let just_so =
        |o: &Judged| job.source.as_ref().is_some_and(|own| own.is_the_same_as(&o.case.source));
    let own = |o: &Judged| o.feasible() && is_own(o, job);
    let exact = sizing.options.iter().position(|o| own(o) && just_so(o));
    let owned = exact.or_else(|| sizing.options.iter().position(own));
    let picks = &sizing.picks;
    let rows = [
        ("Yours", owned, ""),
        ("Soonest", picks.soonest, ", the soonest that can be watched"),
        ("Fewest", picks.fewest, ", the fewest cells within half as long again"),
        ("Gentlest", picks.gentlest, ", what is strained least within the time"),
    ];
    for (label, place, why) in rows {
        if let Some(o) = place.map(|n| &sizing.options[n]) {
            let source = named(o, job);
            let stands = brief(&o.verdict());
            page.row(label, &format!("{source}: {}{why}. {stands}.", done_in(o)));
        }
    }
}

/// A source, and whether it lies in the drawer.
fn named(o: &Judged, job: &Job) -> String {
    let mut words = source_words(&o.case.source);
    if o.case.setup.then.is_some() {
        words += ", then the others in turn";
    }
    match drawer::called(job, &o.case.source).filter(|_| o.owned) {
        Some(name) => format!("{words} (drawer: {name})"),
        None => words,
    }
}

/// What to buy, where the studio has a drawer and something else does it too.
fn to_buy(page: &mut Page, job: &Job, sizing: &Sizing) {
    if job.drawer.is_empty() {
        return;
    }
    let (have, buy): (Vec<_>, Vec<_>) =
        by_wiring(sizing).into_iter().partition(|o| o.owned || is_own(o, job));
    let Some(first) = buy.first() else {
        return;
    };
    let why = if have.is_empty() { "nothing in the drawer does it" } else { "not needed" };
    let source = source_words(&first.case.source);
    page.row("To buy", &format!("{why}; what would do: {source}, {}.", done_in(first)));
}

/// What passes, each wiring once, in the holder that suits it best.
fn by_wiring<'s, 'a>(sizing: &'s Sizing<'a>) -> Vec<&'s Judged<'a>> {
    sizing.wirings().into_iter().map(|n| &sizing.options[n]).collect()
}

/// "about 14 min", with its rests.
fn done_in(o: &Judged) -> String {
    match &o.rest {
        Some(rest) => {
            format!("about {} with {}", say::time(rest.elapsed_s), in_turn(&rest.cycle))
        }
        None => format!("about {}", say::time(o.case.run.time_s)),
    }
}

fn passing(page: &mut Page, job: &Job, sizing: &Sizing, u: System) {
    let options = by_wiring(sizing);
    let rows: Vec<Vec<String>> = options
        .iter()
        .take(SHOWN)
        .map(|o| {
            vec![
                named(o, job),
                say::time(o.elapsed_s()),
                say::current(o.case.run.start_current_a),
                o.case.run.peak_hot_spot_k.map_or_else(|| "-".into(), |k| u.temperature(k)),
                o.verdict().grade.short().into(),
                o.chances.as_ref().map_or_else(String::new, |c| say::share(c.firm)),
            ]
        })
        .collect();
    if !rows.is_empty() {
        page.table(&["Source", "time", "current", "inside", "driven", "fails"], &rows);
        if options.len() > SHOWN {
            let more = options.len() - SHOWN;
            page.lines(&format!("... and {more} more, each in its best holder (--json lists all)"));
        }
    }
    to_buy(page, job, sizing);
    sure(page, sizing);
}

/// How sure the best few are.
fn sure(page: &mut Page, sizing: &Sizing) {
    let mut drawn = sizing.options.iter().filter_map(|o| Some((o, o.spread.as_ref()?))).peekable();
    let Some((_, first)) = drawn.peek() else {
        return;
    };
    page.blank();
    page.lines(&format!(
        "How sure: eight times in ten it takes, and what chance there is of a failure ({} draws \
         each; a chance not named was not met):",
        first.outcomes.sampling.draws
    ));
    for (o, spread) in drawn {
        let sure = option_in_words(spread, o.case.setup.time_limit_s);
        page.row("", &format!("{}: {sure}.", source_words(&o.case.source)));
    }
}

fn supply_rows(page: &mut Page, supply: &SupplyAdvice) {
    page.blank();
    let (Some(setting), Some((least, most))) = (supply.setting, supply.range_a) else {
        page.row("Supply", "No setting of a bench supply does it within the limits and the time.");
        return;
    };
    let amps = setting.current_limit.map_or(0.0, Quantity::si);
    let time = supply.options.first().map_or(0.0, |o| o.case.run.time_s);
    page.row(
        "Supply",
        &format!(
            "On a bench supply set {} and a current limit of {} A: about {}. In the planned run any limit from \
             {} to {} works, at either end about every other time. The current needs {}; more volts do not help, for the supply holds them \
             back at its limit.",
            say::voltage(setting.voltage.si()),
            say::figures(amps, 3),
            say::time(time),
            say::current(least),
            say::current(most),
            say::voltage(supply.needs_v)
        ),
    );
}

/// For each kind of cell that has no wiring that passes, the one that comes nearest.
fn failing(page: &mut Page, sizing: &Sizing, u: System, all: bool) {
    let name = |o: &Judged| match &o.case.source {
        Source::Pack(p) => p.cell.name.clone(),
        _ => "bench supply".into(),
    };
    let mut names: Vec<String> = Vec::new();
    for o in &sizing.options {
        if !names.contains(&name(o)) {
            names.push(name(o));
        }
    }
    let mut rows = Vec::new();
    for cell in names {
        let mut mine = sizing.options.iter().filter(|o| name(o) == cell);
        if mine.clone().any(Judged::feasible) {
            continue;
        }
        let first = mine.next();
        let nearest = mine.fold(first, |best, o| match best {
            Some(b) if b.shortfall() <= o.shortfall() => Some(b),
            _ => Some(o),
        });
        if let Some(o) = nearest {
            let why = match o.reasons.first() {
                Some(first) if !all => reason(first, u),
                _ => reasons(&o.reasons, u),
            };
            rows.push(format!("{}: {why}.", source_words(&o.case.source)));
        }
    }
    if !rows.is_empty() {
        page.blank();
        page.lines("No wiring of these does it; the nearest of each, and why not:");
        for row in rows {
            page.row("", &row);
        }
    }
}
