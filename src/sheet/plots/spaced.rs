//! Axes whose numbers are not evenly spaced: areas by the side of their square, times by
//! their ratio. Ticks are round numbers, the roundest first, as many as have room.

use super::labels::width;
use super::scale::{Axis, Spacing, plottable, sized};
use super::sizes::TEXT;
use crate::units::say::{System, figures};

/// Least room from one tick to the next on an upright axis, and between words across.
const BETWEEN: (f64, f64) = (36.0, 14.0);
/// Shortest and longest time that is told apart, s.
const TIMES_S: (f64, f64) = (0.1, 3.6e9);
/// Least ratio of the longest to the shortest time on an axis.
const LEAST_RATIO: f64 = 4.0;
/// Multiples of ten, and what is shown between them, the roundest first.
const BETWEEN_TENS: [f64; 5] = [5.0, 2.0, 4.0, 3.0, 8.0];

/// Areas in m2 from none to the largest.
pub fn area(largest_m2: f64, system: System, units: f64) -> Axis {
    let (square, unit) = match system {
        System::Metric => (1e4, "cm²"),
        System::Imperial => (1.0 / 6.4516e-4, "in²"),
    };
    let largest = largest_m2 * square;
    let largest = if largest > 0.0 && plottable(largest) { largest } else { 1.0 };
    let (factor, unit) = sized(largest, unit);
    let to = largest * factor;
    let bare =
        Axis { to, unit, factor: square * factor, spacing: Spacing::Root, ..Axis::default() };
    with_ticks(bare, round_areas(to), |shown| figures(shown, 2), units, true)
}

/// Zero, and round numbers up to `to`, the roundest first.
fn round_areas(to: f64) -> Vec<f64> {
    let ten = libm::pow(10f64, libm::log10(to).floor());
    let mut list = vec![0.0];
    for power in [ten, ten / 10.0] {
        list.push(power);
        list.extend(BETWEEN_TENS.map(|n| n * power));
        list.extend((1..=10).map(|n| f64::from(n) * power));
    }
    list.push(1.2 * ten);
    list.push(1.5 * ten);
    list
}

/// Times in s, the factor one; they lie across the paper or upright.
pub fn clock(low_s: f64, high_s: f64, units: f64, across: bool) -> Axis {
    let [mut from, mut to] = [low_s, high_s].map(|t| if plottable(t) { t } else { 1.0 });
    from = from.clamp(TIMES_S.0, TIMES_S.1);
    to = to.clamp(from, TIMES_S.1);
    let lacking = LEAST_RATIO * from / to;
    if lacking > 1.0 {
        (from, to) = (from / lacking.sqrt(), to * lacking.sqrt());
    }
    let bare = Axis { from, to, factor: 1.0, spacing: Spacing::Log, ..Axis::default() };
    with_ticks(bare, round_times(), clock_word, units, across)
}

/// Seconds or minutes that a clock likes, the roundest first, and hours within a power of ten.
const SIXTIETHS: [f64; 10] = [10.0, 1.0, 5.0, 20.0, 2.0, 40.0, 30.0, 15.0, 3.0, 4.0];
const HOURS: [f64; 4] = [5.0, 2.0, 4.0, 3.0];

/// Round times, the roundest first, in s.
fn round_times() -> Vec<f64> {
    let powers: Vec<f64> = (0..7).map(|n| 3600.0 * 10f64.powi(n)).collect();
    let mut list = powers.clone();
    list.extend(SIXTIETHS.iter().flat_map(|n| [60.0 * n, *n]));
    list.extend(HOURS.iter().flat_map(|n| powers.iter().map(move |power| n * power)));
    list.extend([0.1, 0.5, 0.2]);
    list
}

/// A time at a tick: "20 s", "5 min", "2 h".
fn clock_word(s: f64) -> String {
    let (number, unit) = match s {
        s if s < 60.0 => (s, "s"),
        s if s < 3600.0 => (s / 60.0, "min"),
        s => (s / 3600.0, "h"),
    };
    format!("{} {unit}", figures(number, 2))
}

/// The axis with those of `round` that lie on it and have room, in order.
fn with_ticks(
    mut axis: Axis,
    round: Vec<f64>,
    word: impl Fn(f64) -> String,
    units: f64,
    across: bool,
) -> Axis {
    let room = |a: &str, b: &str| {
        if across { (width(a, TEXT) + width(b, TEXT)) / 2.0 + BETWEEN.1 } else { BETWEEN.0 }
    };
    let mut ticks: Vec<(f64, String)> = Vec::new();
    for shown in round {
        if shown < axis.from || shown > axis.to {
            continue;
        }
        let said = word(shown);
        let at = units * axis.share(shown);
        let free = |(other, words): &(f64, String)| {
            (units * axis.share(*other) - at).abs() >= room(words, &said)
        };
        if ticks.iter().all(free) {
            ticks.push((shown, said));
        }
    }
    ticks.sort_by(|a, b| a.0.total_cmp(&b.0));
    axis.ticks = ticks;
    axis
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(axis: &Axis) -> String {
        axis.ticks.iter().map(|(_, word)| word.as_str()).collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn times_are_round_and_apart() {
        let upright = |low, high| words(&clock(low, high, 600.0, false));
        assert_eq!(upright(200.0, 4000.0), "4 min 5 min 10 min 15 min 20 min 30 min 40 min 1 h");
        assert_eq!(
            upright(50.0, 1900.0),
            "1 min 2 min 3 min 4 min 5 min 10 min 15 min 20 min 30 min"
        );
        assert_eq!(upright(1.0, 1.0), "0.5 s 1 s 2 s");
    }

    #[test]
    fn areas_lie_by_the_side_of_their_square() {
        let axis = area(12e-4, System::Metric, 540.0);
        assert!((axis.share(3.0) - 0.5).abs() < 1e-9);
        assert_eq!(words(&axis), "0 1 2 3 4 5 6 8 10");
        assert_eq!(area(2.0, System::Metric, 540.0).unit, "10^3 cm²");
    }

    #[test]
    fn extremes_stay_numbers() {
        for x in [0.0, -1.0, 1e-12, 1e-6, 1.0, 1e6, 1e29, f64::NAN, f64::INFINITY] {
            for axis in [area(x, System::Imperial, 540.0), clock(x, x, 600.0, true)] {
                assert!(axis.to > axis.from && !axis.ticks.is_empty(), "{x}: {axis:?}");
                assert!(axis.ticks.iter().all(|(_, word)| word.len() < 12), "{x}: {axis:?}");
            }
        }
    }
}
