//! What a bench with given factors would have read.

use crate::advice::error::AdviceError;
use crate::job::log::{LogRun, Reading, What};
use crate::job::resolve::{Factors, resolve};
use crate::run::{Precision, Setup, Source, Trace, trace_at};
use crate::stock::Stock;

/// How much later a reading is looked at for its rate of change, s.
const PROBE_S: f64 = 1.0;

/// Readings that a run would give at the log's times, `late_s` later each.
///
/// # Errors
/// When the run cannot be worked out.
pub fn readings(
    run: &LogRun,
    stock: &Stock,
    factors: &Factors,
    late_s: f64,
) -> Result<Vec<f64>, AdviceError> {
    let setup = free(resolve(&run.job, &run.source, stock, factors)?, run, late_s);
    let times: Vec<f64> = run.readings.iter().map(|r| r.at_s + late_s).collect();
    let (_, trace) = trace_at(&setup, Precision::COARSE, &times)?;
    Ok(run.readings.iter().enumerate().map(|(n, r)| value(&setup, &trace, n, r)).collect())
}

/// The setup freed of what would have ended the run before the last reading: it was still
/// going then.
fn free(mut setup: Setup, run: &LogRun, late_s: f64) -> Setup {
    let last = run.readings.last().map_or(0.0, |r| r.at_s);
    setup.time_limit_s = last + late_s + 1.0;
    setup.piece.depth = setup.piece.thickness;
    setup.piece.floor = None;
    if let Source::Pack(pack) = &mut setup.source {
        pack.temperature_limit_k = f64::INFINITY;
    }
    setup
}

fn value(setup: &Setup, trace: &Trace, n: usize, reading: &Reading) -> f64 {
    let removed = setup.piece.density * setup.piece.exposed_area;
    match reading.what {
        What::SourceVolts => trace.source_v[n],
        What::BathVolts => trace.bath_v[n],
        What::Amps => trace.current_a[n],
        What::Depth => trace.depth_m[n],
        What::WeightLoss => trace.charge_depth_m[n] * removed,
        What::CellTemperature => trace.surface_k.as_ref().map_or(setup.ambient_k, |s| s[n]),
    }
}

/// One standard deviation of each reading: the meter's, and what the clock's error makes of
/// a reading that changes meanwhile.
///
/// # Errors
/// When the run cannot be worked out.
pub fn deviations(run: &LogRun, stock: &Stock) -> Result<Vec<f64>, AdviceError> {
    let now = readings(run, stock, &Factors::default(), 0.0)?;
    let later = readings(run, stock, &Factors::default(), PROBE_S)?;
    let sd = |((reading, now), later): ((&Reading, &f64), &f64)| {
        let a_second = (later - now) / PROBE_S;
        let clock = a_second * run.accuracies.time.sd(reading.at_s);
        libm::hypot(run.accuracies.of(reading.what).sd(reading.value), clock)
    };
    Ok(run.readings.iter().zip(&now).zip(&later).map(sd).collect())
}
