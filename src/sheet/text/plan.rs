//! The answer of `plan` on a terminal: one page, the answer first.

use super::page::Page;
use crate::advice::{Advice, Plan};
use crate::sheet::words::{charge, plan as words, rest, spread};
use crate::units::say::{self, System};

/// The answer of `plan`.
pub fn plan(advice: &Advice, units: System) -> String {
    let mut page = Page::default();
    match advice {
        Advice::Refused(finding) => page.finding(finding, units),
        Advice::Plan(plan) => {
            head(&mut page, plan, units);
            set_up(&mut page, plan, units);
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
        }
    }
    page.text
}

fn head(page: &mut Page, plan: &Plan, u: System) {
    page.title(&plan.job.title);
    page.lines(&words::piece(plan, u));
    page.blank();
}

fn set_up(page: &mut Page, plan: &Plan, u: System) {
    let source = words::source(&plan.source);
    let leads = words::leads(plan, u);
    page.row("Wire", &format!("{source} {} Leads of {leads}.", words::POLES));
    let (mixture, stand) = (words::mixture(plan, u), words::stand(plan, u));
    page.row("Bath", &format!("{mixture}, {stand}. {}", words::hang(plan, u)));
}

/// How the source stands, and what would do where it does not.
fn source(page: &mut Page, plan: &Plan, u: System) {
    let Some(standing) = words::standing(plan, u) else {
        return;
    };
    if plan.judged.as_ref().is_some_and(|judged| judged.feasible()) {
        page.row("Source", &standing);
    } else {
        page.row("Source", &format!("{standing} {}", words::instead(plan)));
    }
}

fn when(page: &mut Page, plan: &Plan, u: System) {
    page.row("Time", &words::time(plan, u));
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
    let Some(current) = words::current(plan, u) else {
        return;
    };
    page.row("Current", &current);
    page.row("Voltage", &words::voltage(plan));
    if let Some(held) = words::held_back(plan) {
        page.row("Held back", &held);
    }
}

fn outcome(page: &mut Page, plan: &Plan, u: System) {
    page.row("Warmth", &words::warmth(plan, u));
    if let Some(rests) = &plan.rests {
        page.row("Rest", &rest::sentence(plan, rests, u));
    }
    page.row("Metal", &words::metal(plan, u));
    if let Some(charge) = words::charge(plan) {
        page.row("Charge", &charge);
    }
    if let Some(charge) = plan.charge.as_ref().filter(|_| plan.run.wells_end.is_some()) {
        page.row("Pieces", &charge::sentence(plan, charge, u));
    }
    if let Some(spread) = &plan.spread {
        page.row("How sure", &spread::sentence(plan, spread, u));
    }
}
