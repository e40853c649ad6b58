//! Metals and baths that do not go together: refused with the reason, not run.

use super::bath::Bath;
use super::piece::Draft;
use crate::stock::{Named, Stock};

/// A refusal: not a slip of the pen but a job that must not, or cannot, be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// Which kind: a word for programs.
    pub code: &'static str,
    /// Why, and what would do.
    pub text: String,
}

/// Whether the piece's metal is one that no bath here may etch, or not this one.
pub fn refusal(piece: &Draft, bath: Option<&Bath>, stock: &Stock) -> Option<Refused> {
    const OTHER: &str =
        "Etch silver, copper or brass here; leave stainless steel to licensed plant.";
    if let Some(reason) = &piece.refused {
        return Some(Refused {
            code: "chromium",
            text: format!("Not to be etched: {reason}. {OTHER}"),
        });
    }
    let alloy = piece.alloy.as_ref()?;
    if alloy.parts.iter().any(|p| p.element == "Cr") {
        let reason = stock.refused.first().map_or("", |r| r.reason.as_str());
        let text = format!("Not to be etched: the alloy holds chromium. {reason}. {OTHER}");
        return Some(Refused { code: "chromium", text });
    }
    let bath = &bath?.stock;
    let refusal = bath.refuses.iter().find(|r| r.main == alloy.main)?;
    let suits = stock
        .baths
        .iter()
        .filter(|b| b.suits.contains(&alloy.main))
        .map(Named::name)
        .collect::<Vec<_>>()
        .join(" or ");
    Some(Refused {
        code: "metal and bath",
        text: format!(
            "{} does not etch in {}: {}. A bath that does it: {suits}.",
            capital(&alloy.title),
            bath.name,
            refusal.reason
        ),
    })
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}
