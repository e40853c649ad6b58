//! What there is to learn: the factors on the uncertain inputs of all logged runs, one for
//! every thing that a factor belongs to, with what is usual as prior.

use crate::advice::spread::sample::prior;
use crate::job::log::{Log, LogRun};
use crate::job::resolve::Factors;
use crate::job::scope::scope;
use crate::stock::Stock;
use crate::units::Quantity;
use nalgebra::{DMatrix, DVector};

/// One factor to learn.
#[derive(Debug, Clone, PartialEq)]
pub struct Parameter {
    /// Key, as under `[spread]`.
    pub key: String,
    /// What it belongs to; empty for the whole bench.
    pub of: String,
    /// In plain words.
    pub title: String,
    /// Prior standard deviation, as a share.
    pub prior_sd: f64,
}

/// All of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Parameters {
    /// The factors.
    pub list: Vec<Parameter>,
    /// For each run, the key and the place in `list` of every factor that it hangs on.
    of_runs: Vec<Vec<(String, usize)>>,
}

impl Parameters {
    /// Of a log.
    pub fn of(log: &Log, stock: &Stock) -> Self {
        let mut all = Self { list: Vec::new(), of_runs: Vec::new() };
        for run in &log.runs {
            let places = all.of_run(run);
            all.of_runs.push(places);
        }
        let usual = |key: &str| stock.spreads.iter().find(|row| row.key == key);
        for (key, of) in log
            .cell_trials
            .iter()
            .map(|t| ("cell_resistance", &t.cell))
            .chain(log.bath_trials.iter().map(|t| ("conductivity", &t.electrolyte)))
        {
            if let Some(row) = usual(key) {
                all.place(key, of, &row.title, row.sd.is.si());
            }
        }
        all
    }

    fn of_run(&mut self, run: &LogRun) -> Vec<(String, usize)> {
        let known = |key: &str| Factors::default().named(key).is_some();
        let rows = run.job.spread.0.iter().filter(|s| s.sd > 0.0 && known(&s.key));
        let mut places = Vec::new();
        for row in rows {
            if let Some(of) = scope(&row.key, &run.job, &run.source) {
                places.push((row.key.clone(), self.place(&row.key, &of, &row.title, row.sd)));
            }
        }
        places
    }

    /// Where a factor stands, after it was added if need be.
    fn place(&mut self, key: &str, of: &str, title: &str, prior_sd: f64) -> usize {
        self.find(key, of).unwrap_or_else(|| {
            let (key, of, title) = (key.into(), of.into(), title.into());
            self.list.push(Parameter { key, of, title, prior_sd });
            self.list.len() - 1
        })
    }

    /// Where a factor stands.
    pub fn find(&self, key: &str, of: &str) -> Option<usize> {
        self.list.iter().position(|p| p.key == key && p.of == of)
    }

    /// Factors of a run, from the logarithms of all.
    pub fn factors(&self, run: usize, logarithms: &DVector<f64>) -> Factors {
        let mut factors = Factors::default();
        for (key, k) in &self.of_runs[run] {
            if let Some(factor) = factors.named(key) {
                *factor = libm::exp(logarithms[*k]);
            }
        }
        factors
    }

    /// Whether a run hangs on a factor.
    pub fn touches(&self, run: usize, k: usize) -> bool {
        self.of_runs[run].iter().any(|(_, at)| *at == k)
    }

    /// Covariance of the logarithms before anything is learned: none between them.
    pub fn prior(&self) -> DMatrix<f64> {
        prior(&self.list.iter().map(|p| p.prior_sd).collect::<Vec<_>>())
    }
}
