//! The answer of `look` on a terminal: what to do is in the first lines.

use super::page::Page;
use crate::advice::look::Look;
use crate::sheet::words::look::{NOT_SO, against, danger, depth, done, fits, holds, next};
use crate::units::say::{self, System};

/// The whole page.
pub fn look(look: &Look, u: System) -> String {
    let mut page = Page::default();
    page.title(&look.case.job.title);
    let readings = |page: &mut Page| {
        page.row("Reads", &fits(look, u));
        for one in &look.compared.against {
            page.row("", &against(one, u));
        }
    };
    if look.deep_enough.is_some() {
        page.row("Look", &next(look, u));
        readings(&mut page);
        return page.text;
    }
    // What is wrong goes before anything that holds only if nothing is.
    if !holds(look) {
        readings(&mut page);
        page.row("Look", NOT_SO);
        return page.text;
    }
    page.row("Look", &next(look, u));
    page.row("Done", &done(look));
    page.row("Now", &format!("{}, {}", say::time(look.now_s), depth(look, u)));
    readings(&mut page);
    if let Some(danger) = danger(&look.now) {
        page.row("Danger", &danger);
    }
    page.text
}
