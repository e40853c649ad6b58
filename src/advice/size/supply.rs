//! What to set on a bench supply: voltage and current limit, and the range that works.
//!
//! The current limit decides: from the least that is done in the time to the most that
//! resist and user bear. Where the user asked for a time, the setting is the middle of the
//! two in ratio, which leaves the same in hand on both sides; otherwise it is the most, less
//! the fifth that counts as enough. The voltage is what that current needs, and a fifth
//! over; more volts do not help, since the supply holds them back at its limit.

use super::judge::{ENOUGH, Judged, current_borne, judge};
use crate::advice::case::Case;
use crate::advice::error::AdviceError;
use crate::job::{Job, Source, Supply, no_resistor};
use crate::run::{Run, Stop};
use crate::stock::Stock;
use crate::units::{Current, Quantity, Resistance, Voltage};

/// What to set, and what else was tried.
#[derive(Debug, Clone)]
pub struct SupplyAdvice<'a> {
    /// The setting worked out, judged like the others; none when no current does it.
    pub setting: Option<Supply>,
    /// Least and most current that work, A.
    pub range_a: Option<(f64, f64)>,
    /// Voltage that the setting's current needs at the terminals, V.
    pub needs_v: f64,
    /// The setting and a grid about it.
    pub options: Vec<Judged<'a>>,
    /// Runs beyond those of the options.
    pub runs: u32,
}

/// Voltages of the grid, V: what the knobs of a bench supply are set to.
const GRID_V: [f64; 8] = [1.0, 1.5, 2.0, 3.0, 4.5, 6.0, 9.0, 12.0];
/// Current limits of the grid, as shares of what the piece bears.
const GRID_SHARE: [f64; 4] = [0.25, 0.5, 0.75, 1.0];
/// Enough volts to hold any current limit up.
const PLENTY_V: f64 = 60.0;

/// Works out what to set; none where the job allows certain cells only.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn supplies<'a>(
    job: &'a Job,
    stock: &'a Stock,
) -> Result<Option<SupplyAdvice<'a>>, AdviceError> {
    if !job.size_cells.is_empty() && !matches!(job.source, Some(Source::Supply(_))) {
        return Ok(None);
    }
    let out = match &job.source {
        Some(Source::Supply(s)) => s.output_resistance,
        _ => Resistance::from_si(0.0),
    };
    let held = |amps: f64, volts: f64| Supply {
        voltage: Voltage::from_si(volts),
        current_limit: Some(Current::from_si(amps)),
        output_resistance: out,
        resistor: no_resistor(),
        pulse: None,
    };
    let mut runs = 0;
    let case = |amps: f64| Case::of(job, &Source::Supply(held(amps, PLENTY_V)), stock);
    let mut try_held = |amps: f64| -> Result<Run, AdviceError> {
        runs += 1;
        Ok(case(amps)?.run)
    };
    let most = current_borne(&case(1.0)?);
    let least = least_current(most, &mut try_held)?;
    let mut advice = SupplyAdvice {
        setting: None,
        range_a: least.map(|least| (least, most)),
        needs_v: 0.0,
        options: Vec::new(),
        runs: 0,
    };
    if let Some(least) = least {
        let amps =
            if job.limits.time_asked { (least * most).sqrt() } else { (most / ENOUGH).max(least) };
        let amps = tidy(amps, least, most);
        let held_run = try_held(amps)?;
        advice.needs_v = held_run.start_source_v.max(held_run.end_source_v);
        let volts = tenth_up(ENOUGH * advice.needs_v.max(0.1) + amps * out.si());
        let setting = held(amps, volts.min(PLENTY_V));
        advice.setting = Some(setting);
        advice.options.push(judge(job, &Source::Supply(setting), stock)?);
    }
    for share in GRID_SHARE {
        for volts in GRID_V {
            let amps = tidy(share * most, 0.0, most);
            let mut judged = judge(job, &Source::Supply(held(amps, volts)), stock)?;
            judged.preference = 1;
            advice.options.push(judged);
        }
    }
    advice.runs = runs;
    Ok(Some(advice))
}

/// Least current that gets the piece to depth in the time, A, by halving in ratio.
fn least_current(
    most: f64,
    try_held: &mut impl FnMut(f64) -> Result<Run, AdviceError>,
) -> Result<Option<f64>, AdviceError> {
    if try_held(most)?.stop != Stop::Depth {
        return Ok(None);
    }
    let (mut low, mut high) = (most * 1e-4, most);
    for _ in 0..24 {
        let middle = (low * high).sqrt();
        if try_held(middle)?.stop == Stop::Depth {
            high = middle
        } else {
            low = middle
        }
        if high < 1.001 * low {
            break;
        }
    }
    Ok(Some(high))
}

/// To two figures, kept within the ends.
pub(super) fn tidy(amps: f64, least: f64, most: f64) -> f64 {
    let unit = libm::pow(10f64, libm::log10(amps).floor() - 1.0);
    let down = (amps / unit).floor() * unit;
    // Steps of a hundredth print as they are set.
    let down = (down * 1e4).round() / 1e4;
    if down >= least && down > 0.0 { down.min(most) } else { amps }
}

fn tenth_up(volts: f64) -> f64 {
    (volts * 10.0 - 1e-9).ceil() / 10.0
}
