//! The answer of `look` on a terminal: what to do is in the first lines.

use super::page::Page;
use crate::advice::look::Look;
use crate::sheet::words::look::{against, danger, depth, done, fits, next};
use crate::units::say::{self, System};

/// The whole page.
pub fn look(look: &Look, u: System) -> String {
    let mut page = Page::default();
    page.title(&look.case.job.title);
    // What is wrong goes before anything that holds only if nothing is.
    if look.suspect.is_some() {
        page.row("Reads", &fits(look, u));
    }
    page.row("Look", &next(look));
    page.row("Done", &done(look));
    page.row("Now", &format!("{}, {}", say::time(look.now_s), depth(look, u)));
    if look.suspect.is_none() {
        page.row("Reads", &fits(look, u));
    }
    for one in &look.against {
        page.row("", &against(one, u));
    }
    if let Some(danger) = danger(&look.now) {
        page.row("Danger", &danger);
    }
    page.text
}
