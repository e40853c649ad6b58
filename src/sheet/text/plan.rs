//! The answer of `plan` on a terminal: one page, the answer first.

use super::page::Page;
use crate::advice::{Case, Plan};
use crate::job::Refused;
use crate::sheet::words::{charge, plan as words, rest, spread};
use crate::units::say::{self, System};

/// The answer of `plan`.
pub fn plan(plan: &Plan, units: System) -> String {
    let (mut page, case) = (Page::default(), plan.case());
    head(&mut page, case, units);
    set_up(&mut page, case, units);
    source(&mut page, plan, units);
    when(&mut page, plan, units);
    electricity(&mut page, plan, units);
    outcome(&mut page, plan, units);
    page.blank();
    for finding in &plan.findings {
        page.finding(finding, units);
    }
    page.blank();
    page.row("Cautions", &plan.cautions.join(" "));
    page.text
}

/// The answer of any verb to a job that is refused.
pub fn refused(why: &Refused) -> String {
    let mut page = Page::default();
    page.barred(&why.text);
    page.text
}

fn head(page: &mut Page, case: &Case, u: System) {
    page.title(&case.job.title);
    page.lines(&words::piece(case, u));
    page.blank();
}

fn set_up(page: &mut Page, case: &Case, u: System) {
    let source = words::source(&case.source);
    let leads = words::leads(case, u);
    page.row("Wire", &format!("{source} {} Leads of {leads}.", words::POLES));
    let (mixture, stand) = (words::mixture(case, u), words::stand(case, u));
    page.row("Bath", &format!("{mixture}, {stand}. {}", words::hang(case, u)));
}

/// How the source stands, and what would do where it does not.
fn source(page: &mut Page, plan: &Plan, u: System) {
    let standing = words::standing(&plan.own, u);
    if plan.own.feasible() {
        page.row("Source", &standing);
    } else {
        page.row("Source", &format!("{standing} {}", words::instead(plan)));
    }
}

fn when(page: &mut Page, plan: &Plan, u: System) {
    page.row("Time", &words::time(plan.case(), u));
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
