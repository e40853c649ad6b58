//! The spread of what may come: quantiles, chances, drivers.

use crate::advice::spread::charge::PieceSpread;
use crate::advice::spread::options::OptionSpread;
use crate::advice::spread::quantile::Quantiles;
use crate::advice::spread::{Measure, Outcomes, Spread};
use serde_json::{Value, json};

pub fn quantiles(q: &Quantiles) -> Value {
    json!({ "p10": q.p10, "p50": q.p50, "p90": q.p90 })
}

/// What came of the draws.
fn outcomes(s: &Outcomes) -> Value {
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
    })
}

/// The `spread` block.
pub fn block(s: &Spread) -> Value {
    let drivers: Vec<Value> = s
        .drivers
        .iter()
        .map(|d| json!({ "name": d.title, "key": d.key, "share": d.share }))
        .collect();
    let measure = |m: &Measure| json!({ "key": m.key, "name": m.title, "to": m.to, "time_s": quantiles(&m.time_s) });
    let mut value = outcomes(&s.outcomes);
    value["drivers"] = json!(drivers);
    value["line_r2"] = json!(s.line_r2);
    value["measure"] = json!(s.measure.as_ref().map(measure));
    value
}

/// The `spread` block of an option of `size`.
pub fn option(s: &OptionSpread) -> Value {
    let mut value = outcomes(&s.outcomes);
    value["pieces"] = json!(s.pieces.as_ref().map(pieces));
    value
}

/// Pieces of a charge over the draws; a quantile that lies beyond what was followed is null,
/// and `more_than` says how far that was.
pub fn pieces(s: &PieceSpread) -> Value {
    let beyond = [s.pieces.p10, s.pieces.p50, s.pieces.p90].contains(&None);
    json!({
        "draws": s.sampling.draws,
        "seed": s.sampling.seed,
        "p10": s.pieces.p10,
        "p50": s.pieces.p50,
        "p90": s.pieces.p90,
        "more_than": beyond.then_some(s.most),
        "chance_of_none": s.none.share,
    })
}
