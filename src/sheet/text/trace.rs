//! The answer of `trace`: the table, or why there is none.

use super::page::Page;
use crate::advice::Advice;
use crate::sheet::csv;
use crate::units::say::System;

/// The answer of `trace`.
pub fn trace(advice: &Advice, units: System) -> String {
    match advice {
        Advice::Plan(plan) => csv::trace(&plan.trace),
        Advice::Refused(finding) => {
            let mut page = Page::default();
            page.finding(finding, units);
            page.text
        }
    }
}
