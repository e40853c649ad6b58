//! The sources of a piece that changes from one to the next.

use super::option::source;
use crate::advice::Case;
use crate::job::Until;
use crate::units::Quantity;
use serde_json::{Value, json};

/// Each with when it begins, s, and its end; none with one source alone.
pub fn block(case: &Case) -> Option<Value> {
    case.setup.then.as_ref()?;
    let begins = |n: usize| match n.checked_sub(1) {
        None => Some(0.0),
        Some(before) => case.run.changes_s.get(before).copied(),
    };
    let list = case.job.stages.iter().enumerate().map(|(n, stage)| {
        let until = stage.until.as_ref().map(|at| at.is);
        json!({
            "source": source(&stage.source),
            "begins_s": begins(n),
            "until_s": until.and_then(|u| if let Until::Time(t) = u { Some(t.si()) } else { None }),
            "until_depth_m": until.and_then(|u| if let Until::Depth(d) = u { Some(d.si()) } else { None }),
        })
    });
    Some(list.collect())
}
