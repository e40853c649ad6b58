//! What meters, gauges and scales read on a bench with given factors.

use super::error::AdviceError;
use crate::job::log::{Accuracies, Reading, What};
use crate::job::resolve::{Factors, resolve};
use crate::job::{Job, Source};
use crate::run::{self, Precision, Setup, Trace, trace_at};
use crate::stock::Stock;

/// Readings taken in one run of a job.
#[derive(Debug, Clone, Copy)]
pub struct Taken<'a> {
    /// The job.
    pub job: &'a Job,
    /// What pushed the current.
    pub source: &'a Source,
    /// What was read, in the order of time.
    pub readings: &'a [Reading],
    /// How good the meters are.
    pub accuracies: Accuracies,
}

/// How much later a reading is looked at for its rate of change, s.
const PROBE_S: f64 = 1.0;

impl Taken<'_> {
    /// Readings that a run would give at the same times, `late_s` later each.
    ///
    /// # Errors
    /// When the run cannot be worked out.
    pub fn expected(
        &self,
        stock: &Stock,
        factors: &Factors,
        late_s: f64,
    ) -> Result<Vec<f64>, AdviceError> {
        self.of_setup(&resolve(self.job, self.source, stock, factors)?, late_s)
    }

    /// The same of a setup.
    ///
    /// # Errors
    /// When the run cannot be worked out.
    pub fn of_setup(&self, setup: &Setup, late_s: f64) -> Result<Vec<f64>, AdviceError> {
        let setup = self.free(setup.clone(), late_s);
        let times: Vec<f64> = self.readings.iter().map(|r| r.at_s + late_s).collect();
        let (_, trace) = trace_at(&setup, Precision::COARSE, &times)?;
        Ok(self.readings.iter().enumerate().map(|(n, r)| value(&setup, &trace, n, r)).collect())
    }

    /// The setup freed of what would have ended the run before the last reading: it was still
    /// going then.
    fn free(&self, mut setup: Setup, late_s: f64) -> Setup {
        let last = self.readings.last().map_or(0.0, |r| r.at_s);
        setup.time_limit_s = last + late_s + 1.0;
        setup.in_every_stage(&|setup| {
            setup.piece.depth = setup.piece.thickness;
            setup.piece.floor = None;
            if let run::Source::Pack(pack) = &mut setup.source {
                pack.temperature_limit_k = f64::INFINITY;
            }
        });
        setup
    }

    /// One standard deviation of each reading: the meter's, and what the clock's error makes of
    /// a reading that changes meanwhile.
    ///
    /// # Errors
    /// When the run cannot be worked out.
    pub fn deviations(&self, stock: &Stock) -> Result<Vec<f64>, AdviceError> {
        let now = self.expected(stock, &Factors::default(), 0.0)?;
        let later = self.expected(stock, &Factors::default(), PROBE_S)?;
        let sd = |((reading, now), later): ((&Reading, &f64), &f64)| {
            let a_second = (later - now) / PROBE_S;
            let clock = a_second * self.accuracies.time.sd(reading.at_s);
            libm::hypot(self.accuracies.of(reading.what).sd(reading.value), clock)
        };
        Ok(self.readings.iter().zip(&now).zip(&later).map(sd).collect())
    }
}

/// What a reading would be at the point `n` of a trace.
pub fn value(setup: &Setup, trace: &Trace, n: usize, reading: &Reading) -> f64 {
    let removed = setup.piece.density * setup.piece.exposed_area;
    match reading.what {
        What::SourceVolts => trace.source_v[n],
        What::BathVolts => trace.bath_v[n],
        // An ammeter for direct current shows the mean of one that pulses.
        What::Amps => setup.duty() * trace.current_a[n],
        What::Depth => trace.depth_m[n],
        What::WeightLoss => (trace.charge_depth_m[n] - setup.piece.begun_worth()) * removed,
        What::CellTemperature => trace.surface_k.as_ref().map_or(setup.ambient_k, |s| s[n]),
    }
}
