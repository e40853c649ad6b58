//! The answer of `plan` on a terminal: one page, the answer first.

use super::page::Page;
use crate::advice::{Bite, Case, Finding, Level, Plan};
use crate::job::Refused;
use crate::sheet::words::{charge, faults, plan as words, rest, spread, verdict};
use crate::units::say::{self, System};

/// The answer of `plan`: one screen for the bench, or with `full` everything.
pub fn plan(plan: &Plan, units: System, full: bool) -> String {
    let (mut page, case) = (Page::default(), plan.case());
    head(&mut page, plan, units);
    wire(&mut page, case, units);
    if !plan.done() {
        page.row("Instead", &words::instead(plan));
    }
    if full {
        everything(&mut page, plan, units);
    } else {
        bench(&mut page, plan, units);
    }
    page.blank();
    // The first lines say what is strained.
    let said =
        |f: &Finding| matches!(f, Finding::Over(held) if held.limit.bite() == Bite::Strained);
    let shown = |f: &&Finding| full || f.level() != Level::Note && !said(f);
    for finding in plan.findings.iter().filter(shown) {
        page.finding(finding, units);
    }
    page.row("Cautions", &plan.cautions.join(" "));
    page.text
}

/// What is done at the bench, in its order.
fn bench(page: &mut Page, plan: &Plan, u: System) {
    let case = plan.case();
    page.row("Weigh", &format!("{}.", words::weigh(case, u)));
    page.row("Hang", &format!("{} Bath {}.", words::hang(case, u), words::stand(case, u)));
    if let Some(meter) = faults::meter(plan) {
        let wrong = faults::wrong(plan).map_or_else(String::new, |w| format!(" Far off: {w}"));
        page.row("Meter", &format!("{meter}{wrong}"));
    }
    when(page, plan, u);
    if let Some(rests) = &plan.rests {
        page.row("Rest", &rest::brief(case, rests, u));
    }
    if let Some(silver) = words::silver(plan) {
        page.row("Silver", &silver);
    }
    if let Some(spread) = &plan.spread {
        page.row("Unsure", &spread::brief(case, spread, u));
    }
    if let Some(bench) = words::bench(case.job) {
        page.row("Bench", &bench);
    }
    page.row("More", "--full: every number and note. --out FOLDER: the sheet.");
}

fn everything(page: &mut Page, plan: &Plan, u: System) {
    let case = plan.case();
    let (mixture, stand) = (words::mixture(case, u), words::stand(case, u));
    page.row("Bath", &format!("{mixture}, {stand}. {}", words::hang(case, u)));
    page.row("Weigh", &format!("{}.", words::weigh(case, u)));
    page.row("Source", &words::standing(&plan.own, u));
    page.row("Time", &words::time(case, u));
    when(page, plan, u);
    electricity(page, plan, u);
    outcome(page, plan, u);
}

/// The answer of any verb to a job that is refused.
pub fn refused(why: &Refused) -> String {
    let mut page = Page::default();
    page.barred(&why.text);
    page.text
}

fn head(page: &mut Page, plan: &Plan, u: System) {
    page.title(&plan.case().job.title);
    page.lines(&words::piece(plan.case(), u));
    page.lines(&verdict::plan(plan, u));
    page.blank();
}

fn wire(page: &mut Page, case: &Case, u: System) {
    let source = words::sources(case, u);
    let leads = words::leads(case, u);
    page.row("Wire", &format!("{source} {} Leads of {leads}.", words::poles(case)));
}

fn when(page: &mut Page, plan: &Plan, u: System) {
    let Some(stop) = words::stop(plan) else {
        return;
    };
    let before = plan.looks.checks.split_last().map_or(&[][..], |(_, before)| before);
    let looks: Vec<String> = before
        .iter()
        .enumerate()
        .map(|(n, c)| {
            let by_then = if n == 0 { " deep by then" } else { "" };
            format!("{} ({}{by_then})", say::moment(c.at_s), u.depth(c.depth_m))
        })
        .collect();
    let first = if looks.is_empty() { String::new() } else { format!("After {}. ", many(&looks)) };
    page.row("Look", &format!("{first}{stop}"));
}

/// A list in words, its middle left out when it is long.
fn many(looks: &[String]) -> String {
    const MOST: usize = 8;
    if looks.len() <= MOST {
        return looks.join(", ");
    }
    let (head, tail) = (&looks[..MOST - 2], &looks[looks.len() - 1]);
    format!("{} and so on to {tail}", head.join(", "))
}

fn electricity(page: &mut Page, plan: &Plan, u: System) {
    let Some(current) = words::current(plan.case(), u) else {
        return;
    };
    page.row("Current", &current);
    page.row("Voltage", &words::voltage(plan.case()));
    if let Some(held) = words::held_back(plan) {
        page.row("Held back", &held);
    }
    let Some(meter) = &plan.meter else {
        return;
    };
    if let Some(right) = faults::right(meter) {
        page.row(
            "Meter",
            &format!("{right}, eight times in ten. {}", faults::worth(meter).unwrap_or_default()),
        );
    }
    if let Some(untold) = faults::untold(meter, u) {
        page.row("", &untold);
    }
    let listed = faults::table(meter, u);
    let listed = listed.into_iter().map(|[fault, amps, volts, ..]| vec![fault, amps, volts]);
    let rows: Vec<Vec<String>> = faults::fine(plan).into_iter().chain(listed).collect();
    page.table(&["Were it that", "ammeter", "across the bath"], &rows);
    page.blank();
}

fn outcome(page: &mut Page, plan: &Plan, u: System) {
    let case = plan.case();
    page.row("Warmth", &words::warmth(case, u));
    if let Some(rests) = &plan.rests {
        page.row("Rest", &rest::sentence(case, rests, u));
    }
    page.row("Metal", &words::metal(plan, u));
    if let Some(charge) = words::charge(case) {
        page.row("Charge", &charge);
        page.row("Pieces", &charge::sentence(case, &plan.charge, u));
    }
    if let Some(spread) = &plan.spread {
        page.row("How sure", &spread::sentence(case, spread, u));
    }
}
