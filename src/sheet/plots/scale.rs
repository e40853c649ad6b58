//! Axes: units that fit the size, round ticks, and where they run from and to.

use super::labels::width;
use super::sizes::TEXT;
use crate::run::Trace;
use crate::units::ZERO_CELSIUS_K;
use crate::units::say::{System, figures};

/// Numbers beyond this are no longer plotted.
const HUGE: f64 = 1e30;
/// A time that is shorter, s, is plotted as a moment.
const SHORTEST_S: f64 = 1e-10;

/// How numbers are spaced along an axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Spacing {
    /// By their difference.
    #[default]
    Even,
    /// By the difference of their square roots: areas by the side of their square.
    Root,
    /// By their ratio.
    Log,
}

impl Spacing {
    fn of(self, shown: f64) -> f64 {
        match self {
            Self::Even => shown,
            Self::Root => shown.max(0.0).sqrt(),
            Self::Log => libm::log(shown.max(f64::MIN_POSITIVE)),
        }
    }
}

/// An axis in the numbers shown on it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Axis {
    /// Start: left, or at the bottom.
    pub from: f64,
    /// End: right, or at the top.
    pub to: f64,
    /// Where ticks stand, with their words.
    pub ticks: Vec<(f64, String)>,
    /// Unit in words.
    pub unit: String,
    /// What a number in SI is multiplied by.
    pub factor: f64,
    /// How numbers are spaced along it.
    pub spacing: Spacing,
}

impl Axis {
    /// Where a shown number lies along the axis, 0..=1.
    pub fn share(&self, shown: f64) -> f64 {
        let [shown, from, to] = [shown, self.from, self.to].map(|x| self.spacing.of(x));
        let share = (shown - from) / (to - from);
        if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
    }

    /// An axis over numbers already shown as they are, with a little room at either end,
    /// none under zero.
    pub fn over(low: f64, high: f64, most: usize, unit: &str) -> Self {
        let step = step((high - low) / most.max(1) as f64);
        let (low, high) = if high > low { (low, high) } else { (low, low + step) };
        let room = 0.07 * (high - low);
        let from = if low >= 0.0 && low < room { 0.0 } else { low - room };
        let to = high + room;
        let ticks = ticks(from, to, step);
        Self { from, to, ticks, unit: unit.into(), factor: 1.0, ..Self::default() }
    }
}

/// Whether a number can be plotted: not one that is none, and none beyond all measure.
pub fn plottable(x: f64) -> bool {
    x.abs() < HUGE
}

/// Smallest and largest number that can be plotted; none when there are none.
pub fn extent<'a>(lists: impl IntoIterator<Item = &'a f64>) -> Option<(f64, f64)> {
    lists.into_iter().filter(|x| plottable(**x)).fold(None, |found, x| match found {
        None => Some((*x, *x)),
        Some((low, high)) => Some((x.min(low), x.max(high))),
    })
}

/// A current or a voltage over a run: the unit by the largest, the start at zero where the
/// numbers come near it, and never so fine that a steady number looks restless.
pub fn quantity(lists: &[&[f64]], unit: &str, most: usize) -> Axis {
    let (low, high) = extent(lists.iter().copied().flatten()).unwrap_or((0.0, 0.0));
    let (factor, unit) = sized(low.abs().max(high.abs()), unit);
    let (mut low, mut high) = (low * factor, high * factor);
    if high <= 0.0 && low >= 0.0 {
        return Axis { factor, ..Axis::over(0.0, 1.0, 2, &unit) };
    }
    let least = 0.15 * high.abs().max(low.abs());
    if high - low < least {
        let middle = (low + high) / 2.0;
        (low, high) = (middle - least / 2.0, middle + least / 2.0);
    }
    if low > 0.0 && low < 0.4 * high {
        low = 0.0;
    }
    Axis { factor, ..Axis::over(low, high, most, &unit) }
}

/// Factor and unit for a number of this size in SI.
pub fn sized(size: f64, unit: &str) -> (f64, String) {
    if size >= 1e4 || (size > 0.0 && size < 1e-3) {
        let tens = (libm::log10(size) / 3.0).floor() as i32 * 3;
        (10f64.powi(-tens), format!("10^{tens} {unit}"))
    } else if unit == "A" && size > 0.0 && size < 0.9995 {
        (1e3, format!("m{unit}"))
    } else {
        (1.0, unit.into())
    }
}

/// Temperatures, over which a degree looks like little.
pub fn temperature(kelvins: &[f64], system: System, most: usize) -> Axis {
    let shown: Vec<f64> = kelvins.iter().map(|k| degrees(*k, system)).collect();
    let (low, high) = extent(&shown).unwrap_or((20.0, 20.0));
    let least = if system == System::Metric { 10.0 } else { 20.0 };
    let spare = (least - (high - low)).max(0.0);
    let (unit, spare_below) = match system {
        System::Metric => ("°C", 0.3 * spare),
        System::Imperial => ("°F", 0.3 * spare),
    };
    let axis = Axis::over(low - spare_below, high + 0.7 * spare, most, unit);
    // Over the highest there is room for its name.
    Axis { to: axis.to + 0.05 * (axis.to - axis.from), ..axis }
}

/// A temperature in K as shown.
pub fn degrees(k: f64, system: System) -> f64 {
    let celsius = k - ZERO_CELSIUS_K;
    match system {
        System::Metric => celsius,
        System::Imperial => celsius * 1.8 + 32.0,
    }
}

/// A depth axis that grows downwards: its start, at the bottom, is the deepest.
pub fn depth(deepest_m: f64, system: System, most: usize) -> Axis {
    let (factor, unit) = match system {
        System::Metric => (1e3, "mm"),
        System::Imperial => (1.0 / 25.4e-6, "thou"),
    };
    let deepest = deepest_m * factor;
    let deepest = if deepest > 0.0 && deepest < HUGE { deepest } else { 1.0 };
    let ticks = ticks(0.0, deepest, step(deepest / most.max(1) as f64));
    Axis { from: deepest, to: 0.0, ticks, unit: unit.into(), factor, ..Axis::default() }
}

/// Steps that a clock likes, in minutes or seconds, and in hours.
const SIXTIETHS: [f64; 8] = [1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 60.0];
const HOURS: [f64; 6] = [1.0, 2.0, 3.0, 6.0, 12.0, 24.0];

/// The time axis of a run; as many ticks as `units` of paper hold.
pub fn time(trace: &Trace, units: f64) -> Axis {
    time_to(extent(&trace.t_s).map_or(0.0, |(_, end)| end), units)
}

/// Time up to `end`, s: seconds under 2 min, hours over 5 h, else minutes.
pub fn time_to(end: f64, units: f64) -> Axis {
    let end = if end > SHORTEST_S { end } else { 1.0 };
    let (factor, unit, clock) = if end < 120.0 {
        (1.0, "s", &SIXTIETHS[..])
    } else if end <= 5.0 * 3600.0 {
        (1.0 / 60.0, "min", &SIXTIETHS[..])
    } else {
        (1.0 / 3600.0, "h", &HOURS[..])
    };
    let end = end * factor;
    // The widest word stands at the end; leave it as much room again.
    let widest = width(&figures(end, 2), TEXT).max(30.0);
    let most = ((units / (2.0 * widest)) as usize).clamp(1, 5) as f64;
    let raw = end / most;
    let coarsest = clock.last().copied().unwrap_or(1.0);
    let step = if raw < 0.5 || raw > coarsest {
        step(raw)
    } else {
        clock.iter().copied().find(|s| *s >= raw).unwrap_or(coarsest)
    };
    let ticks = ticks(0.0, end, step);
    Axis { from: 0.0, to: end, ticks, unit: unit.into(), factor, ..Axis::default() }
}

/// The smallest of 1, 2, 5 times a power of ten that is no smaller than `least`.
fn step(least: f64) -> f64 {
    if !(least > 0.0 && least < HUGE) {
        return 1.0;
    }
    let ten = libm::pow(10f64, libm::log10(least).floor());
    let round = [1.0, 2.0, 5.0].into_iter().map(|s| s * ten).find(|s| *s >= least * (1.0 - 1e-9));
    round.unwrap_or(10.0 * ten)
}

/// Multiples of `step` from `from` to `to`.
fn ticks(from: f64, to: f64, step: f64) -> Vec<(f64, String)> {
    let first = (from / step - 1e-6).ceil();
    let count = ((to / step + 1e-6).floor() - first).clamp(0.0, 12.0) as usize;
    (0..=count).map(|n| (first + n as f64) * step).map(|x| (x, word(x, step))).collect()
}

/// A tick in words: as many places as the step has.
fn word(x: f64, step: f64) -> String {
    let places = (-(libm::log10(step) + 1e-9).floor()).clamp(0.0, 12.0) as usize;
    if x.abs() < 1e-9 * step { "0".into() } else { format!("{x:.places$}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(axis: &Axis) -> Vec<&str> {
        axis.ticks.iter().map(|(_, word)| word.as_str()).collect()
    }

    fn over_time(end: f64) -> Axis {
        time(&Trace { t_s: vec![0.0, end], ..Trace::default() }, 460.0)
    }

    #[test]
    fn ticks_are_round_and_few() {
        assert_eq!(words(&Axis::over(0.32, 0.41, 4, "A")), ["0.35", "0.40"]);
        assert_eq!(words(&Axis::over(5.1, 5.9, 4, "V")), ["5.2", "5.4", "5.6", "5.8"]);
        assert_eq!(words(&depth(0.45e-3, System::Metric, 4)), ["0", "0.2", "0.4"]);
        assert_eq!(words(&depth(0.45e-3, System::Imperial, 4)), ["0", "5", "10", "15"]);
    }

    #[test]
    fn time_speaks_in_what_fits() {
        let of = |end| {
            let axis = over_time(end);
            (axis.unit.clone(), words(&axis).join(" "))
        };
        assert_eq!(of(45.0), ("s".into(), "0 10 20 30 40".into()));
        assert_eq!(of(23.0 * 60.0), ("min".into(), "0 5 10 15 20".into()));
        assert_eq!(of(170.0 * 60.0), ("min".into(), "0 60 120".into()));
        assert_eq!(of(9.0 * 3600.0), ("h".into(), "0 2 4 6 8".into()));
    }

    #[test]
    fn extremes_stay_numbers() {
        for end in [0.0, 1e-9, 1e-3, 1e9, 1e29, f64::NAN, f64::INFINITY] {
            let axis = over_time(end);
            assert!(axis.to > axis.from && !axis.ticks.is_empty(), "{end}: {axis:?}");
        }
        for x in [0.0, 1e-12, -1.0, 1e12, 1e29, f64::NAN, f64::MAX] {
            let axis = quantity(&[&[x, x]], "A", 3);
            assert!(axis.to > axis.from && axis.ticks.len() < 9, "{x}: {axis:?}");
            assert!(axis.ticks.iter().all(|(_, word)| word.len() < 9), "{x}: {axis:?}");
        }
    }

    #[test]
    fn steady_numbers_look_steady() {
        let axis = quantity(&[&[1.5, 1.5001]], "A", 3);
        assert!(axis.to - axis.from > 0.2, "{axis:?}");
    }
}
