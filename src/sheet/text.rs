//! wip
use crate::advice::Advice;
use crate::units::say::System;
/// wip
pub fn plan(_: &Advice, _: System) -> String { String::new() }
/// CSV
pub fn trace(a: &Advice, _: System) -> String {
    match a { Advice::Plan(p) => super::csv::trace(&p.trace), Advice::Refused(_) => String::new() }
}
