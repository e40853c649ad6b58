//! The answer of `compare`: options as in `size`, unranked.

use super::option::option;
use crate::advice::compare::Alternative;
use crate::advice::pieces::Pieces;
use crate::units::say::System;
use serde_json::{Value, json};

/// The answer of `compare`.
pub fn compare(list: &[Alternative], units: System) -> Value {
    let one = |a: &Alternative| {
        let mut value = option(&a.judged, units);
        value["name"] = json!(a.name);
        value["charge"] = json!({
            "pieces": a.pieces.as_ref().map(Pieces::count),
            "ended": a.pieces.as_ref().map(Pieces::ended),
        });
        value["cost_a_piece"] = json!(a.cost_a_piece);
        value
    };
    json!({
        "schema": "restbite.compare/1",
        "options": list.iter().map(one).collect::<Vec<_>>(),
    })
}
