//! How a curve went, in words for those who do not see it.

use super::scale::plottable;
pub use crate::sheet::words::typeset::with_sign;
use crate::units::say;

/// The last number of a list that can be plotted, or zero where there is none.
pub fn last(list: &[f64]) -> f64 {
    list.iter().rfind(|x| plottable(**x)).copied().unwrap_or_default()
}

fn first(list: &[f64]) -> f64 {
    list.iter().find(|x| plottable(**x)).copied().unwrap_or_default()
}

/// "falls from 5.9 V to 5.4 V", "rises from ... to ...", or "stays at 3 V".
pub fn course(list: &[f64], say: impl Fn(f64) -> String) -> String {
    let (from, to) = (first(list), last(list));
    let (said_from, said_to) = (say(from), say(to));
    if list.len() < 2 {
        format!("is {said_to}")
    } else if said_from == said_to {
        format!("stays at {said_to}")
    } else {
        let verb = if to < from { "falls" } else { "rises" };
        format!("{verb} from {said_from} to {said_to}")
    }
}

/// "in 23 min", or "at the start" of a run that ends where it starts.
pub fn lasting(t_s: &[f64]) -> String {
    let end = last(t_s);
    if end > 0.0 { format!("in {}", say::time(end)) } else { "at the start".into() }
}

/// "a", "a and b", "a, b and c".
pub fn joined(list: &[String]) -> String {
    match list {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., end] => format!("{} and {end}", rest.join(", ")),
    }
}

/// A number in words when they are short enough to stand beside a curve, else with a power
/// of ten.
pub fn brief(said: String, si: f64, unit: &str) -> String {
    if said.chars().count() > 9 && si.is_finite() { format!("{si:.1e} {unit}") } else { said }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn courses_in_words() {
        assert_eq!(course(&[5.9, 5.4], say::voltage), "falls from 5.9 V to 5.4 V");
        assert_eq!(course(&[0.3, 0.4], say::current), "rises from 300 mA to 400 mA");
        assert_eq!(course(&[3.0, 3.0001], say::voltage), "stays at 3 V");
        assert_eq!(course(&[3.0], say::voltage), "is 3 V");
        let list: Vec<String> = ["a", "b", "c"].map(String::from).into();
        assert_eq!(joined(&list), "a, b and c");
        assert_eq!(joined(&list[..2]), "a and b");
    }
}
