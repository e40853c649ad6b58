//! The answer of `charge` on a terminal.

use super::page::Page;
use crate::advice::charge::{BathEnd, Charge};
use crate::advice::pieces::PieceRun;
use crate::advice::spread::charge::PieceSpread;
use crate::advice::{Case, Charged};
use crate::job::Source;
use crate::sheet::words::charge::sentence;
use crate::units::say::{self, System};

/// The whole page.
pub fn charge(charged: &Charged, u: System) -> String {
    let (case, charge) = (&charged.case, &charged.charge);
    let mut page = Page::default();
    page.title(&case.job.title);
    if case.setup.cells().is_some() {
        page.lines(&sentence(case, charge, u));
        page.blank();
        let rows = table(&charge.pieces.each, u);
        page.table(
            &["Piece", "starts", "takes", "depth", "volts at end", "left", "at hand", "inside"],
            &rows,
        );
        page.blank();
        if let Some(s) = &charge.spread {
            page.row("How sure", &how_sure(s));
        }
        cells(&mut page, case, charge);
    } else {
        page.lines("No cells: a supply gives as many pieces as the bath does.");
        page.blank();
    }
    bath_rows(&mut page, case, charge);
    page.text
}

/// What the quantiles mean and rest on.
fn how_sure(s: &PieceSpread) -> String {
    let half = match s.pieces.p50 {
        Some(n) => format!("Half of the charges give {n} or more"),
        None => format!("More than half of the charges give more than {}", s.most),
    };
    format!(
        "{half}; {} charges drawn, each followed through the rests planned here, to {} \
         pieces at most.",
        s.sampling.draws, s.most
    )
}

/// Most rows of the table.
const MOST_ROWS: usize = 12;

fn table(each: &[PieceRun], u: System) -> Vec<Vec<String>> {
    let row = |(n, p): (usize, &PieceRun)| {
        let share = |x: Option<f64>| x.map_or_else(|| "-".into(), say::share);
        vec![
            format!("{}", n + 1),
            say::time(p.start_s),
            say::time(p.time_s),
            u.depth(p.depth_m),
            say::voltage(p.end_source_v),
            share(p.wells.map(|w| w.total)),
            share(p.wells.map(|w| w.available)),
            p.peak.map_or_else(|| "-".into(), |peak| u.temperature(peak.0)),
        ]
    };
    let all: Vec<Vec<String>> = each.iter().enumerate().map(row).collect();
    if all.len() <= MOST_ROWS {
        return all;
    }
    let (head, tail) = (&all[..MOST_ROWS - 3], &all[all.len() - 2..]);
    let left_out = vec!["...".to_string()];
    head.iter().chain([&left_out]).chain(tail).cloned().collect()
}

fn cells(page: &mut Page, case: &Case, charge: &Charge) {
    match (charge.recharge_s, &case.source) {
        (Some((slow, fast)), _) => page.row(
            "Recharge",
            &format!(
                "At least {} at 0.1 It, {} at 0.5 It, losses not counted. Never charge hot cells: \
                 let them come to room temperature first.",
                say::time(slow),
                say::time(fast)
            ),
        ),
        (None, Source::Pack(_)) => page.row(
            "Cells",
            "Primary cells: never charge them, never mix old and new, change all at once.",
        ),
        _ => {}
    }
}

fn bath_rows(page: &mut Page, case: &Case, charge: &Charge) {
    let b = &charge.bath;
    let why = match b.end {
        BathEnd::CopperSpent => "then its copper is down to half",
        BathEnd::SilverUp => "then silver has built up in it to about 20 g/L",
        BathEnd::Fails if case.setup.cells().is_some() => {
            "then a piece no longer comes to depth, even with fresh cells"
        }
        BathEnd::Fails => "then a piece no longer comes to depth in the time",
        BathEnd::GoesOn => "and neither is its copper down to half nor much silver in it",
    };
    let silver = b.sludge_silver_kg + b.pan_silver_kg + b.solution_silver_kg;
    let worth = charge
        .silver_price
        .map_or_else(String::new, |price| format!(" Worth {:.2} in all.", price * silver * 1e3));
    let where_is = if silver > 0.0 {
        format!(
            " Silver by then: {} as sludge, {} on the pan, {} in solution: keep it all.{worth}",
            say::mass(b.sludge_silver_kg),
            say::mass(b.pan_silver_kg),
            say::mass(b.solution_silver_kg)
        )
    } else {
        String::new()
    };
    let more = if b.end == BathEnd::GoesOn { "More than " } else { "" };
    page.row("Bath", &format!("{more}{} pieces, {why}.{where_is}", b.pieces));
}
