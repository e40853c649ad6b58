//! The answer of `compare` on a terminal.

use super::page::Page;
use crate::advice::compare::Alternative;
use crate::sheet::words::reasons::reasons;
use crate::sheet::words::size::{in_turn, source_words};
use crate::sheet::words::verdict::brief;
use crate::units::say::{self, System};

/// The whole page.
pub fn compare(list: &[Alternative], u: System) -> String {
    let mut page = Page::default();
    page.title("Side by side");
    let costs = list.iter().any(|a| a.cost_a_piece.is_some());
    let mut heads = vec!["", "time", "start", "end", "inside", "pieces"];
    if costs {
        heads.push("cost each");
    }
    let rows: Vec<Vec<String>> = list.iter().map(|a| row(a, costs, u)).collect();
    page.table(&heads, &rows);
    page.blank();
    for a in list {
        page.lines(&format!(
            "{}: {}. {}",
            a.name,
            source_words(&a.judged.case.source),
            standing(a, u)
        ));
    }
    page.text
}

fn row(a: &Alternative, costs: bool, u: System) -> Vec<String> {
    let run = &a.judged.case.run;
    let dash = || "-".to_string();
    let mut row = vec![
        a.name.clone(),
        if a.judged.verdict().done() { say::time(a.judged.elapsed_s()) } else { "does not".into() },
        say::current(run.start_current_a),
        say::current(run.end_current_a),
        run.peak_hot_spot_k.map_or_else(dash, |k| u.temperature(k)),
        a.pieces.as_ref().map_or_else(dash, |p| {
            format!("{}{}", p.count(), if p.ended() { "" } else { " and more" })
        }),
    ];
    if costs {
        row.push(a.cost_a_piece.map_or_else(dash, |cost| format!("{cost:.2}")));
    }
    row
}

/// The verdict, and why it does not do.
fn standing(a: &Alternative, u: System) -> String {
    let verdict = a.judged.verdict();
    let stands = brief(&verdict);
    if !verdict.done() {
        return format!("{stands}: {}.", reasons(&a.judged.reasons, u));
    }
    let rest = a.judged.rest.map_or_else(String::new, |r| format!(" With {}.", in_turn(&r.cycle)));
    format!("{stands}.{rest}")
}
