//! How sure: text and JSON of the spread.

use crate::advice::Plan;
use crate::advice::spread::quantile::{Chance, Quantiles};
use crate::advice::spread::{Measure, Spread};
use crate::units::say::{self, System};
use serde_json::{Value, json};

/// The `spread` block.
pub fn block(s: &Spread) -> Value {
    let quantiles = |q: &Quantiles| json!({ "p10": q.p10, "p50": q.p50, "p90": q.p90 });
    let drivers: Vec<Value> = s
        .drivers
        .iter()
        .map(|d| json!({ "name": d.title, "key": d.key, "share": d.share, "total": d.total }))
        .collect();
    let measure = |m: &Measure| json!({ "key": m.key, "name": m.title, "to": m.to, "time_s": quantiles(&m.time_s) });
    json!({
        "draws": s.sampling.draws,
        "seed": s.sampling.seed,
        "time_s": quantiles(&s.time_s),
        "depth_m": quantiles(&s.depth_m),
        "hot_spot_k": s.hot_spot_k.as_ref().map(quantiles),
        "chance": {
            "through": s.through.share,
            "unfinished": s.unfinished.share,
            "hot": s.hot.share,
        },
        "chance_error": {
            "through": s.through.error,
            "unfinished": s.unfinished.error,
            "hot": s.hot.error,
        },
        "drivers": drivers,
        "line_r2": s.line_r2,
        "measure": s.measure.as_ref().map(measure),
    })
}

/// How sure, and what to measure next, in a few sentences.
pub fn sentence(plan: &Plan, s: &Spread, u: System) -> String {
    let limit = say::time(plan.setup.time_limit_s);
    let time = |t: Option<f64>| t.map_or_else(|| format!("not within {limit}"), say::time);
    let mut text = match (s.time_s.p10, s.time_s.p50) {
        (None, _) => format!("Hardly one in ten comes to depth within {limit}."),
        (Some(low), _) => {
            format!("Eight times in ten it takes {} to {}.", say::time(low), time(s.time_s.p90))
        }
    };
    if let (Some(low), Some(high)) = (s.depth_m.p10, s.depth_m.p90) {
        let stop = say::time(plan.run.time_s);
        text += &format!(
            " Stopped at {stop} unseen, it would be {} to {} deep.",
            u.depth(low),
            u.depth(high)
        );
    }
    let floor =
        if plan.setup.piece.floor.is_some() { "into the floor" } else { "through the sheet" };
    text += &format!(
        " Chance of eating {floor} so {}, of not coming to depth {}",
        chance(&s.through),
        chance(&s.unfinished)
    );
    if s.hot_spot_k.is_some() {
        text += &format!(", of cells too warm {}", chance(&s.hot));
    }
    text + &format!(" ({} draws).{}", s.sampling.draws, measure(s))
}

/// A chance as people say it, with its error where that matters.
fn chance(c: &Chance) -> String {
    let percent = 100.0 * c.share;
    if percent < 0.05 {
        "under 0.1 %".into()
    } else if percent < 10.0 {
        format!("{} % (+-{})", say::figures(percent, 2), say::figures(100.0 * c.error, 1))
    } else {
        format!("{} %", say::figures(percent, 2))
    }
}

/// What to measure next, and what that would give.
fn measure(s: &Spread) -> String {
    let (Some(m), Some(first)) = (&s.measure, s.drivers.first()) else {
        return String::new();
    };
    let share = s.drivers.iter().find(|d| d.key == m.key).map_or(first.total, |d| d.total);
    match (m.time_s.p10, m.time_s.p90) {
        (Some(low), Some(high)) => format!(
            " Measure the {}: it is {} of what you do not know; to {} it would narrow that to {} \
             to {}.",
            m.title,
            say::share(share),
            say::share(m.to),
            say::time(low),
            say::time(high)
        ),
        _ => String::new(),
    }
}
