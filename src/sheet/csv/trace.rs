//! A trace as CSV (RFC 4180): one line a sample, SI units in the head.

use crate::run::Trace;
use crate::sheet::words::trace::columns;

/// The whole table; cells that the source does not have are empty.
pub fn trace(trace: &Trace) -> String {
    let columns = columns(trace);
    let names: Vec<&str> = columns.iter().map(|(name, _)| *name).collect();
    let mut out = names.join(",") + "\r\n";
    for row in 0..trace.t_s.len() {
        let cells: Vec<String> = columns
            .iter()
            .map(|(_, c)| {
                c.and_then(|c| c.get(row))
                    .filter(|x| x.is_finite())
                    .map_or_else(String::new, f64::to_string)
            })
            .collect();
        out += &cells.join(",");
        out += "\r\n";
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn empty_where_there_is_none() {
        let one = Some(vec![0.5]);
        let t = Trace { t_s: vec![1.5], bath_k: vec![293.15], available: one, ..Trace::default() };
        let text = trace(&t);
        assert!(text.starts_with("t_s,current_a,source_v,"), "{text}");
        assert_eq!(text.lines().nth(1), Some("1.5,,,,,,,,,293.15,0.5,"));
    }
}
