//! The answer of `charge`: text and JSON.

use super::json;
use super::page::Page;
use super::spread;
use crate::advice::Plan;
use crate::advice::charge::{BathEnd, Charge};
use crate::advice::pieces::PieceRun;
use crate::advice::spread::charge::PieceSpread;
use crate::job::Source;
use crate::run::{Stop, resolved};
use crate::units::say::{self, System};
use serde_json::{Value, json};

/// JSON of the answer; `charge` is null without cells.
pub fn to_json(plan: &Plan, units: System) -> Value {
    let charge = plan.charge.as_ref();
    json!({
        "schema": "restbite.charge/1",
        "title": plan.job.title,
        "resolved": resolved(&plan.setup),
        "run": json::run(&plan.run),
        "charge": charge.map_or(Value::Null, |c| block(plan, c, units)),
        "bath": charge.map_or(Value::Null, bath),
        "findings": json::findings(plan, units),
    })
}

/// The `charge` block.
pub fn block(plan: &Plan, charge: &Charge, u: System) -> Value {
    if plan.setup.source.pack().is_none() {
        return Value::Null;
    }
    let good: Vec<Value> = charge
        .pieces
        .each
        .iter()
        .filter(|p| p.stop == Stop::Depth)
        .map(|p| {
            json!({
                "start_s": p.start_s,
                "time_s": p.time_s,
                "depth_m": p.depth_m,
                "end_source_v": p.end_source_v,
                "available": p.wells.map(|w| w.available),
                "total": p.wells.map(|w| w.total),
                "peak_hot_spot_k": p.peak.map(|peak| peak.0),
            })
        })
        .collect();
    let failed = charge.pieces.each.last().filter(|p| p.stop != Stop::Depth);
    let spread = charge.spread.as_ref();
    let mut value = json!({
        "pieces": charge.pieces.ended().then(|| charge.pieces.count()),
        "p10": spread.and_then(|s| s.pieces.p10),
        "p50": spread.and_then(|s| s.pieces.p50),
        "p90": spread.and_then(|s| s.pieces.p90),
        "spread": spread.map(spread::pieces),
        "last_depth_m": failed.map(|p| p.depth_m),
        "each": good,
        "ends": ends(plan, charge, u),
        "pieces_before_reversal": charge.before_reversal,
        "recharge_s": charge.recharge_s.map(|(slow, fast)| json!({
            "at_0_1_it": slow,
            "at_0_5_it": fast,
        })),
    });
    if !charge.pieces.ended() {
        value["pieces_why"] = value["ends"].clone();
    }
    value
}

fn bath(charge: &Charge) -> Value {
    let b = &charge.bath;
    let goes_on = b.end == BathEnd::GoesOn;
    let mut value = json!({
        "pieces": (!goes_on).then_some(b.pieces),
        "sludge_silver_kg": b.sludge_silver_kg,
        "pan_silver_kg": b.pan_silver_kg,
        "solution_silver_kg": b.solution_silver_kg,
    });
    if goes_on {
        let why = format!("not spent within {} pieces; the silver is that of these", b.pieces);
        value["pieces_why"] = json!(why);
    }
    value
}

/// Why the next piece fails.
fn ends(plan: &Plan, charge: &Charge, u: System) -> String {
    let target = u.depth(plan.setup.piece.depth);
    let Some(last) = charge.pieces.each.last().filter(|p| p.stop != Stop::Depth) else {
        return format!("not within {} pieces", charge.pieces.each.len());
    };
    let depth = u.depth(last.depth_m);
    match last.stop {
        Stop::Empty => format!("the next piece runs the cells empty at {depth} of {target}"),
        Stop::Hot => format!("the next piece gets too hot at {depth} of {target}"),
        Stop::Time => format!("the next piece is out of time at {depth} of {target}"),
        Stop::NoCurrent => "the cells no longer push a current".into(),
        Stop::Floor | Stop::Depth => format!("the next piece ends at {depth} of {target}"),
    }
}

/// The page.
pub fn to_text(plan: &Plan, u: System) -> String {
    let mut page = Page::default();
    page.title(&plan.job.title);
    let Some(charge) = &plan.charge else {
        return page.text;
    };
    if plan.setup.source.pack().is_some() {
        page.lines(&sentence(plan, charge, u));
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
        cells(&mut page, plan, charge);
    } else {
        page.lines("No cells: a supply gives as many pieces as the bath does.");
        page.blank();
    }
    bath_rows(&mut page, plan, charge);
    page.text
}

/// How many pieces, in a sentence.
pub fn sentence(plan: &Plan, charge: &Charge, u: System) -> String {
    let count = charge.pieces.count();
    let piece = if count == 1 { "piece" } else { "pieces" };
    let honest = charge.before_reversal.unwrap_or(count).min(count);
    let weak = if honest < count {
        format!(
            " But stop after {honest}: by then a cell that holds {} of what the others do would be \
             driven backwards.",
            say::share(charge.weakest_holds)
        )
    } else {
        String::new()
    };
    let renew = match &plan.source {
        Source::Pack(p) if p.cell.rechargeable => "Recharge",
        _ => "Take fresh cells, all at once,",
    };
    let swap = if honest > 0 {
        format!(" {renew} after {honest}, so that none is stranded half done.")
    } else {
        String::new()
    };
    let sure = charge.spread.as_ref().map_or_else(String::new, |s| {
        let sure = spread::pieces_in_words(s);
        format!(" {}{}.", sure[..1].to_uppercase(), &sure[1..])
    });
    if !charge.pieces.ended() {
        return format!("More than {count} {piece} from this charge.{sure}{weak}");
    }
    format!("{count} {piece} from this charge: {}.{sure}{weak}{swap}", ends(plan, charge, u))
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
    let gap = vec!["...".to_string()];
    head.iter().chain([&gap]).chain(tail).cloned().collect()
}

fn cells(page: &mut Page, plan: &Plan, charge: &Charge) {
    match (charge.recharge_s, &plan.source) {
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

fn bath_rows(page: &mut Page, plan: &Plan, charge: &Charge) {
    let b = &charge.bath;
    let why = match b.end {
        BathEnd::CopperSpent => "then its copper is down to half",
        BathEnd::SilverUp => "then silver has built up in it to about 20 g/L",
        BathEnd::Fails if plan.setup.source.pack().is_some() => {
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
