//! The answer of `trace`: the table.

use crate::advice::Traced;
use crate::sheet::csv;

/// The answer of `trace`.
pub fn trace(traced: &Traced) -> String {
    csv::trace(&traced.trace)
}
