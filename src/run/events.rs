//! What a step may run into: the corners of the cell's curves, and the ends of a run.

use super::operating::Operating;
use super::outcome::Stop;
use super::setup::{CutoffOn, Pack, Setup};
use super::state::{BATH, CORE, DEPTH, SURFACE, Segments, State, shares};
use super::thevenin::cell_open_v;
use crate::laws::cell;

/// The ends that a margin is watched for, in the order that settles a tie.
pub const WATCHED: [Stop; 7] =
    [Stop::Depth, Stop::Floor, Stop::Empty, Stop::Empty, Stop::Hot, Stop::Boil, Stop::Freeze];

/// How far off each end is; it has come when its margin is at or under zero. Infinite
/// where it does not apply. Each in its own unit.
pub type Margins = [f64; WATCHED.len()];

/// Margins at a state and its operating point.
pub fn margins(setup: &Setup, y: &State, at: &Operating) -> Margins {
    std::array::from_fn(|k| margin(setup, y, k, || cut_off_volts(setup, at)))
}

/// What the cut-off is held against at an operating point, V.
pub fn cut_off_volts(setup: &Setup, at: &Operating) -> f64 {
    match setup.source.pack().map(|pack| pack.cell.cutoff_on) {
        Some(CutoffOn::Terminal) => at.cell_v,
        _ => at.cell_open_v,
    }
}

/// The same from the state alone; none where the cut-off hangs on the current.
pub fn cut_off_volts_off(setup: &Setup, y: &State, segments: Segments) -> Option<f64> {
    match setup.source.pack() {
        None => Some(0.0),
        Some(pack) if pack.cell.cutoff_on == CutoffOn::Rested => {
            Some(cell_open_v(pack, y, segments))
        }
        Some(_) => None,
    }
}

/// One margin; `volts` tells what the cut-off is held against.
pub fn margin(setup: &Setup, y: &State, which: usize, volts: impl Fn() -> f64) -> f64 {
    let p = &setup.piece;
    let to_depth = |depth: f64| p.walls.charge_depth(depth) - y[DEPTH];
    let of_pack = |margin: &dyn Fn(&Pack) -> f64| setup.source.pack().map(margin);
    let margin = match which {
        0 => Some(to_depth(setup.done_at())),
        1 => p.floor.map(|floor| to_depth(p.thickness - floor)),
        2 => of_pack(&|pack| shares(pack, y).0),
        3 => of_pack(&|pack| volts() - pack.cell.cutoff_v),
        4 => of_pack(&|pack| pack.temperature_limit_k - cell::hot_spot(y[CORE], y[SURFACE])),
        5 => Some(setup.bath.boil_k - y[BATH]),
        _ => Some(y[BATH] - setup.bath.freeze_k),
    };
    margin.unwrap_or(f64::INFINITY)
}

/// The first end that has come, if any.
pub fn come(margins: &Margins) -> Option<Stop> {
    margins.iter().zip(WATCHED).find(|(m, _)| **m <= 0.0).map(|(_, stop)| stop)
}

/// How far the state is past the segment of each curve that the step follows: at or under
/// zero while on it.
pub fn past_segments(setup: &Setup, y: &State, segments: Segments) -> [f64; 3] {
    let Some(pack) = setup.source.pack() else {
        return [-1.0; 3];
    };
    let (s, total) = shares(pack, y);
    let past = |(low, high): (f64, f64), x: f64| (low - x).max(x - high);
    let c = &pack.cell;
    [
        past(c.ocv.ends(segments.ocv), s),
        past(c.r0_curve.ends(segments.r0), s),
        past(c.ocv.ends(segments.total), total),
    ]
}

/// The segments to follow from a state on: where it stands within rounding of a corner, the
/// side to which `rates` carry it.
pub fn next_segments(setup: &Setup, y: &State, rates: &State) -> Segments {
    const NUDGE: f64 = 1e-9;
    let Some(pack) = setup.source.pack() else {
        return Segments::default();
    };
    let (s, total) = shares(pack, y);
    let (ds, dtotal) = shares(pack, rates);
    let aside = |x: f64, dx: f64| if dx > 0.0 { x + NUDGE } else { x - NUDGE };
    let c = &pack.cell;
    Segments {
        ocv: c.ocv.segment(aside(s, ds)),
        r0: c.r0_curve.segment(aside(s, ds)),
        total: c.ocv.segment(aside(total, dtotal)),
        stage: 0,
    }
}

/// Root of `f` between `low` (where it is `f_low` > 0) and `high` (where it is at or
/// under zero), to `tolerance`; the end at or under zero is returned.
pub fn root(
    mut low: f64,
    mut f_low: f64,
    mut high: f64,
    mut f_high: f64,
    tolerance: f64,
    mut f: impl FnMut(f64) -> f64,
) -> f64 {
    // Regula falsi with Dowell and Jarratt's halving (the Illinois rule), and a bisection
    // whenever three steps have not halved the bracket.
    let mut side = 0i8;
    let mut width = high - low;
    for count in 1..200 {
        if high - low <= tolerance {
            break;
        }
        let mut x = low + (high - low) * f_low / (f_low - f_high);
        let stuck = count % 3 == 0 && high - low > 0.5 * width;
        if count % 3 == 0 {
            width = high - low;
        }
        if stuck || !x.is_finite() {
            x = 0.5 * (low + high);
        }
        x = x.clamp(low + 0.25 * tolerance, high - 0.25 * tolerance);
        let y = f(x);
        if y > 0.0 {
            (low, f_low) = (x, y);
            if side > 0 {
                f_high *= 0.5;
            }
            side = 1;
        } else {
            (high, f_high) = (x, y);
            if side < 0 {
                f_low *= 0.5;
            }
            side = -1;
        }
    }
    high
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_to_tolerance() {
        type Case = (fn(f64) -> f64, f64);
        let cases: [Case; 4] = [
            (|x| 2.0 - x, 2.0),
            (|x| 2.0 - x * x, 2f64.sqrt()),
            (|x| (1.0 - x).signum() * (1.0 - x).abs().powf(0.2), 1.0),
            (|x| if x < 2.999 { 1.0 } else { -1e9 }, 2.999),
        ];
        for (f, want) in cases {
            let got = root(0.0, f(0.0), 3.0, f(3.0), 1e-9, f);
            assert!((got - want).abs() < 2e-9 && f(got) <= 0.0, "{got} {want}");
        }
    }

    #[test]
    fn order_on_a_tie() {
        assert_eq!(come(&[0.0; 7]), Some(Stop::Depth));
        assert_eq!(come(&[1.0, 1.0, 1.0, -1.0, -1.0, 1.0, 1.0]), Some(Stop::Empty));
        assert_eq!(come(&[1.0, 1.0, 1.0, 1.0, 1.0, -1.0, -1.0]), Some(Stop::Boil));
        assert_eq!(come(&[1.0, 1.0, 1.0, 1.0, 1.0, 1.0, -1.0]), Some(Stop::Freeze));
        assert_eq!(come(&[1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1e-9]), None);
    }
}
