//! How often, as people say it.

/// "once", "twice", "3 times".
pub(super) fn times(n: f64) -> String {
    match n.round() as u32 {
        0 | 1 => "once".into(),
        2 => "twice".into(),
        n => format!("{n} times"),
    }
}
