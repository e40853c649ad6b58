//! Everything that speaks about the bench: readings, small tests, and what is usual.

use super::parameters::Parameters;
use crate::advice::error::AdviceError;
use crate::advice::reads::Taken;
use crate::job::log::{Log, LogRun};
use crate::stock::Stock;
use crate::units::Quantity;
use nalgebra::{DMatrix, DVector};

/// The evidence of a log.
pub struct Evidence<'a> {
    pub log: &'a Log,
    pub stock: &'a Stock,
    /// What there is to learn.
    pub parameters: Parameters,
    /// Cholesky factor of the prior's covariance.
    pub whiten: DMatrix<f64>,
    /// One standard deviation of each reading of each run.
    pub sds: Vec<Vec<f64>>,
    /// Which readings are used.
    pub used: Vec<Vec<bool>>,
    /// How many times that the readings scatter.
    pub scatter: f64,
    /// Small tests, as readings of one factor's logarithm.
    pub trials: Vec<Trial>,
}

/// What was read in a run.
pub fn taken(run: &LogRun) -> Taken<'_> {
    Taken {
        job: &run.job,
        source: &run.source,
        readings: &run.readings,
        accuracies: run.accuracies,
    }
}

/// A small test.
pub struct Trial {
    /// Which factor it reads.
    pub parameter: usize,
    /// Its logarithm.
    pub ln_factor: f64,
    /// One standard deviation of it.
    pub ln_sd: f64,
}

/// What a two-load or two-current test repeats to, as a share, however good the meters
/// (judgement: contacts of the test itself, warmth, the plates' distance).
const REPEATS: f64 = 0.05;

impl<'a> Evidence<'a> {
    /// Of a log, no reading left out yet.
    ///
    /// # Errors
    /// When a run cannot be worked out.
    pub fn of(log: &'a Log, stock: &'a Stock) -> Result<Self, AdviceError> {
        let parameters = Parameters::of(log, stock);
        let whiten = parameters.prior().cholesky().ok_or(AdviceError::Curvature)?.unpack();
        let trials = trials(log, &parameters);
        let used = log.runs.iter().map(|run| vec![true; run.readings.len()]).collect();
        let sds =
            log.runs.iter().map(|run| taken(run).deviations(stock)).collect::<Result<_, _>>()?;
        Ok(Self { log, stock, parameters, whiten, sds, used, scatter: 1.0, trials })
    }

    /// Logarithms with every efficiency at no more than Faraday's law allows: beyond it they
    /// all mean the same bench.
    pub fn capped(&self, mut logarithms: DVector<f64>) -> DVector<f64> {
        for (k, p) in self.parameters.list.iter().enumerate() {
            let mut runs = self.log.runs.iter().enumerate();
            let run = runs.find(|(n, _)| self.parameters.touches(*n, k)).map(|(_, run)| run);
            if let Some(run) = run.filter(|_| p.key == "efficiency") {
                let cap = -libm::log(run.job.piece.efficiency.si());
                logarithms[k] = logarithms[k].min(cap);
            }
        }
        logarithms
    }

    /// Run and reading of each misfit, in the misfits' order; the small tests come after.
    pub fn places(&self) -> Vec<(usize, usize)> {
        let of_run = |(n, used): (usize, &Vec<bool>)| {
            let there = used.iter().enumerate().filter(|(_, used)| **used);
            there.map(move |(k, _)| (n, k)).collect::<Vec<_>>()
        };
        self.used.iter().enumerate().flat_map(of_run).collect()
    }
}

fn trials(log: &Log, parameters: &Parameters) -> Vec<Trial> {
    let usual = log.accuracies;
    // A voltmeter's share goes with the difference, which one meter reads within seconds; its
    // digits count twice.
    let ln_sd = |volts: f64, amps: f64| {
        let v =
            libm::hypot(usual.volts.relative, 2f64.sqrt() * usual.volts.absolute * DIGITS / volts);
        let a = libm::hypot(usual.amps.relative, 2f64.sqrt() * usual.amps.absolute * DIGITS / amps);
        libm::hypot(libm::hypot(v, a), REPEATS)
    };
    let cells = log.cell_trials.iter().filter_map(|t| {
        let parameter = parameters.find("cell_resistance", &t.cell)?;
        let ln_factor = libm::log(t.ohm / t.stock_ohm);
        Some(Trial { parameter, ln_factor, ln_sd: ln_sd(t.volts, t.amps) })
    });
    let baths = log.bath_trials.iter().filter(|t| t.two).filter_map(|t| {
        let parameter = parameters.find("conductivity", &t.electrolyte)?;
        let ln_factor = libm::log(t.kappa25 / t.stock_kappa25?);
        Some(Trial { parameter, ln_factor, ln_sd: ln_sd(t.volts, t.amps) })
    });
    cells.chain(baths).collect()
}

/// A meter's absolute error is mostly offset, which a difference does not see; what is left
/// is its last digit, a tenth of it (judgement).
const DIGITS: f64 = 0.1;
