//! Checked against the outside: published values, closed forms, independent computations.
//! Each subject's checks are values; `tests/checks.md` is the page made of them.

#[path = "../common/mod.rs"]
mod common;

mod bath_truth;
mod cells;
mod check;
mod circuit;
mod conductivity;
mod duty;
mod electrodes;
mod geometry;
mod heat;
mod laplace;
mod metal;
mod sampling;
mod second;
mod setups;
mod trade;
mod two_loads;
mod wells;
mod whole_run;
mod wire;

use check::{Check, table};

/// A subject: what the page says of it, and its checks.
type Subject = (&'static str, &'static [Check]);

fn subjects() -> Vec<Subject> {
    vec![
        ("Constants, masses, and how much metal a coulomb takes.", &metal::CHECKS),
        ("Gauges and what the leads resist.", &wire::CHECKS),
        ("How well each bath conducts, cold and warm, and how dense it is.", &conductivity::CHECKS),
        ("Potentials of sheet and pan, at rest and under current.", &electrodes::CHECKS),
        (
            "The bath between sheet and pan. Laplace's equation is solved while the tests run, by \
             finite volumes on three grids, extrapolated. The unit a is the disc's radius, or \
             half the short side of the rectangle.",
            &geometry::CHECKS,
        ),
        (
            "Films that stir themselves, where on the pan the current lands, and silver that falls \
             on copper. D and viscosity in a film are judged from those of thin solutions, with the \
             coefficients in view: this shows that the correlations allow them, not that they are \
             right.",
            &bath_truth::CHECKS,
        ),
        ("What a cell gives off, and how its inside stands over its outside.", &heat::CONVECTION),
        ("How warm a surface may be that one holds.", &heat::TOUCH),
        ("The charge that is at hand and the charge that must first get there.", &wells::CHECKS),
        (
            "Stock cells emptied by their own two wells, resistance and rest voltage. Available \
             share and well rate were fitted to these very rows, so this shows how well the model \
             can follow a cell, not that it foretells one.",
            &cells::CHECKS,
        ),
        (
            "A cell's resistance from two loads, and what stock cells would show.",
            &two_loads::CHECKS,
        ),
        ("On and off in turn until heat no longer changes.", &duty::CHECKS),
        ("Shares of the variance, on a function whose shares are known.", &sampling::CHECKS),
        (
            "Everything at once, over all kinds of source: the model's equations written anew in \
             `tests/outside/second`, which calls none of the tool's laws, from the numbers that \
             the tool prints as `resolved`. A general-purpose library (`ode_solvers`, Dormand and \
             Prince 8(5,3), relative tolerance 1e-10) integrates them while the tests run, over \
             depth where a depth is to be met.",
            &whole_run::CHECKS,
        ),
        (
            "Two runs with every equation written as a circuit and solved by a general-purpose \
             circuit simulator; netlists, command and what it printed stand in \
             `tests/data/circuit`.",
            &circuit::CHECKS,
        ),
        ("Whole runs against what benches report.", &trade::CHECKS),
    ]
}

const HEAD: &str = "\
# Checked against the outside

Made by `INSTA_UPDATE=always cargo test --test outside`; a test holds it current. Each row is a
check in `tests/outside/`: what is checked, against which source, what it says and what we get, how
far off that is, how far off it may be, and why that far. \"From memory\": the source is known but
was not read. \"Worked out by us\": from what the source says, apart from the tool's own code.
Beside these stand the checks of each law in `src/laws/` and `tests/reference.rs`.
";

fn page() -> String {
    let subjects = subjects();
    let count: usize = subjects.iter().map(|(_, checks)| checks.len()).sum();
    let mut page = format!("{HEAD}\n{count} checks.\n");
    for (intro, checks) in subjects {
        page += &format!("\n## {}\n\n{intro}\n\n{}", checks[0].subject, table(checks));
    }
    page
}

#[test]
fn the_page_is_current() {
    common::current("tests/checks.md", &page());
}

#[test]
fn every_check_says_where_its_value_is_from_and_why_its_tolerance() {
    for (_, checks) in subjects() {
        for c in checks {
            let sourced = !c.source.is_empty() || c.known == check::Known::Practice;
            assert!(sourced && !c.what.is_empty() && !c.why.is_empty(), "{}", c.what);
        }
    }
}
