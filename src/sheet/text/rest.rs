//! The answer of `rest` on a terminal.

use super::page::Page;
use crate::advice::Rested;
use crate::advice::rest::Row;
use crate::sheet::words::rest::{NO_CELLS, after, sentence};
use crate::units::say::{self, System};

/// The whole page.
pub fn rest(rested: &Rested, u: System) -> String {
    let mut page = Page::default();
    page.title(&rested.case.job.title);
    let Some(rests) = &rested.rests else {
        page.lines(NO_CELLS);
        return page.text;
    };
    page.lines(&sentence(&rested.case, rests, u));
    page.blank();
    let limit = |k: f64| u.temperature(k);
    page.row(
        "Limits",
        &format!(
            "{} inside a cell, {} at its surface. Running on without a rest, the cells would come \
             to {} inside and {} at the surface in the long run.",
            limit(rests.limits.hot_spot_k),
            limit(rests.limits.surface_k),
            limit(rests.running_on.0),
            limit(rests.running_on.1)
        ),
    );
    page.row("After", &after(rests));
    page.blank();
    let rows: Vec<Vec<String>> = rested.table.iter().map(|r| table_row(r, u)).collect();
    page.table(&["On", "off", "factor", "all in all", "inside", "in a session", "does it"], &rows);
    page.text
}

fn table_row(row: &Row, u: System) -> Vec<String> {
    let c = &row.cycled;
    vec![
        say::time(c.cycle.on_s),
        say::time(c.cycle.off_s),
        say::share(c.cycle.duration_factor()),
        say::time(c.elapsed_s),
        u.temperature(c.peak.0),
        c.session_peak.map_or_else(|| "-".into(), |p| u.temperature(p.0)),
        if row.within { "yes" } else { "no" }.into(),
    ]
}
