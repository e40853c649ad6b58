//! The `verdict` and the `held` blocks.

use crate::advice::{Bite, Chances, Held, Limit, Verdict};
use serde_json::{Value, json};

/// The `verdict` block; the chance is null where nothing was drawn.
pub fn verdict(v: &Verdict) -> Value {
    json!({
        "grade": v.grade.word(),
        "chance": v.chance(),
        "decides": v.decides.map(|limit| limit.code()),
        "first": v.first.map(|(limit, after)| json!({ "code": limit.code(), "after_s": after })),
    })
}

/// The verdict on a job that is refused.
pub fn refused() -> Value {
    json!({ "grade": "does_not", "chance": 1.0, "decides": "refused", "first": null })
}

/// The `held` block: every limit that decides or strains.
pub fn held(list: &[Held], chances: Option<&Chances>) -> Value {
    let one = |row: &Held| {
        json!({
            "code": row.limit.code(),
            "value": finite(row.value),
            "bears": finite(row.bears),
            "unit": row.limit.unit(),
            "firm": row.limit.firm(),
            "times": row.times(),
            "broken": row.broken,
            "chance": chances.map(|c| c.of_limit(row.limit)),
        })
    };
    list.iter().filter(|row| row.limit.bite() != Bite::Said).map(one).collect()
}

/// The firm limits that are broken at all, and how often.
pub fn chances(chances: &Chances) -> Value {
    let firm = Limit::ALL.into_iter().filter(|l| l.firm() && chances.of_limit(*l) > 0.0);
    firm.map(|l| (l.code().to_string(), json!(chances.of_limit(l)))).collect()
}

/// A number that there is; none where nothing plates, and the load has no end.
fn finite(x: f64) -> Option<f64> {
    Some(x).filter(|x| x.is_finite())
}
