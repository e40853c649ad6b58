//! The log: measured runs, from which `learn` learns the bench.
//!
//! Each run names the job as it was set up (`job = "fern-pin.toml"`, beside the log) and
//! holds any readings that were taken while the current was on, at times counted from when
//! it was switched on. TOML, or CSV with one reading a row.

mod accuracy;
mod csv;
mod trials;

pub use accuracy::{Accuracies, Accuracy};
pub use trials::{BathTrial, CellTrial};

use super::beside::{Beside, Open, settle};
use super::clock::{DATE, Date, parse_date};
use super::{Checked, Job, Needs, Source, Written};
use crate::reader::{At, Complaints, Ledger, Place, Reader, mistaken, short};
use crate::stock::Stock;
use crate::units::{Current, Length, Mass, Quantity, Temperature, Time, Voltage};

/// Most runs of a log.
pub const MOST_RUNS: usize = 500;
/// Most readings of a log.
pub const MOST_READINGS: usize = 20_000;

/// A checked log.
#[derive(Debug, Clone)]
pub struct Log {
    /// Title.
    pub title: String,
    /// Its file, as named.
    pub file: String,
    /// How good the meters are, unless a run says otherwise.
    pub accuracies: Accuracies,
    /// Measured runs.
    pub runs: Vec<LogRun>,
    /// Two-load tests of cells.
    pub cell_trials: Vec<CellTrial>,
    /// Two-current tests of baths.
    pub bath_trials: Vec<BathTrial>,
}

/// One measured run.
#[derive(Debug, Clone)]
pub struct LogRun {
    /// Name.
    pub name: String,
    /// Its day, where one is given.
    pub date: Option<Date>,
    /// Its job file, as named.
    pub file: String,
    /// The job as it was set up, without what a profile has learned before.
    pub job: Box<Job>,
    /// Its source.
    pub source: Source,
    /// Readings in order of time.
    pub readings: Vec<Reading>,
    /// How good the meters are.
    pub accuracies: Accuracies,
}

/// One reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// When, s since the current was on.
    pub at_s: f64,
    /// Of what.
    pub what: What,
    /// Value, SI.
    pub value: f64,
}

/// What a reading is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// Voltage at the source's terminals, V.
    SourceVolts,
    /// Voltage between the piece and the pan, V.
    BathVolts,
    /// Current, A.
    Amps,
    /// Depth, m.
    Depth,
    /// Metal lost by all pieces together, kg.
    WeightLoss,
    /// Surface of the warmest cell, K.
    CellTemperature,
}

impl What {
    /// All of them, as a log names them.
    pub const ALL: [(Self, &'static str); 6] = [
        (Self::SourceVolts, "source_volts"),
        (Self::BathVolts, "bath_volts"),
        (Self::Amps, "amps"),
        (Self::Depth, "depth"),
        (Self::WeightLoss, "weight_loss"),
        (Self::CellTemperature, "cell_temperature"),
    ];

    /// Its key in a log.
    pub fn key(self) -> &'static str {
        Self::ALL.iter().find(|(what, _)| *what == self).map_or("", |(_, key)| key)
    }
}

/// Reads and checks a log and the jobs that it names.
///
/// # Errors
/// Every complaint about the log and about its jobs.
pub fn read_log(written: &Written, stock: &Stock, open: Open) -> Result<Log, Complaints> {
    let table = if written.name.to_lowercase().ends_with(".csv") {
        csv::table(written.text, written.name)?
    } else {
        super::with_sets(written)?
    };
    let ledger = Ledger::default();
    let start = Place::File { name: written.name.into(), line: 1, column: 1 };
    mistaken::expect(mistaken::Kind::Log, &table, &start)?;
    let mut reader = Reader::new(&table, start.clone(), "", &ledger);
    let mut beside = Beside::new(stock, open, written.folder, &ledger);
    let log = beside.log(&mut reader, written.name);
    reader.finish();
    let elsewhere = beside.take_complaints();
    settle(ledger, elsewhere, log, &start)
}

impl Beside<'_> {
    fn log(&mut self, r: &mut Reader, file: &str) -> Option<Log> {
        let title = r.text("title", "a text").map(|t| short(&t.is));
        let accuracies = accuracy::read(r, Accuracies::default());
        let cell_trials: Vec<_> =
            r.tables("cell_test").into_iter().filter_map(|s| trials::cell(s, self.stock)).collect();
        let bath_trials: Vec<_> =
            r.tables("bath_test").into_iter().filter_map(|s| trials::bath(s, self.stock)).collect();
        let tables = r.tables("run");
        if !["run", "cell_test", "bath_test"].iter().any(|key| r.has(key)) {
            r.missing("run", "[[run]] once for every measured run, with its job and its readings");
        }
        let mut runs: Vec<LogRun> = Vec::new();
        let mut readings = 0;
        for (n, sub) in tables.into_iter().enumerate() {
            let place = sub.place.clone();
            if n == MOST_RUNS {
                sub.complain("", format!("one run too many; allowed: {MOST_RUNS} at most"));
            }
            if let Some(run) = self.run(sub, n, accuracies) {
                readings += run.readings.len();
                if runs.iter().any(|other| other.name == run.name) {
                    let text = format!("a second run \"{}\"; allowed: a name of its own", run.name);
                    self.ledger.add(&place, "run.name", text);
                }
                runs.push(run);
            }
        }
        if readings > MOST_READINGS {
            r.complain("run", format!("{readings} readings; allowed: {MOST_READINGS} at most"));
        }
        let title = title.unwrap_or_else(|| "Measured runs".into());
        Some(Log { title, file: file.into(), accuracies, runs, cell_trials, bath_trials })
    }

    fn run(&mut self, mut r: Reader, n: usize, accuracies: Accuracies) -> Option<LogRun> {
        const JOB: &str = "the name of a job file beside this log";
        r.require("job", JOB);
        r.require("reading", "[[run.reading]] once for every time that something was read");
        let name = r.text("name", "a text to tell this run by").map(|t| short(&t.is));
        let date = r.dated("date", DATE, parse_date).map(|d| d.is);
        let file = r.text("job", JOB);
        let sets = if r.has("set") {
            r.texts("set", "a list of texts such as \"piece.depth = \\\"0.3 mm\\\"\", in [ ]")
        } else {
            r.acknowledge(&["set"]);
            Some(Vec::new())
        };
        let accuracies = accuracy::read(&mut r, accuracies);
        let job = file.as_ref().zip(sets.as_ref()).and_then(|(f, sets)| self.job(f, sets));
        let source = job.as_ref().and_then(|job| job.source.clone());
        let cells = source.as_ref().is_none_or(|s| matches!(s, Source::Pack(_)));
        let mut readings = Vec::new();
        for sub in r.tables("reading") {
            reading(sub, cells, &mut readings);
        }
        readings.sort_by(|a: &Reading, b| a.at_s.total_cmp(&b.at_s).then(a.what.cmp(&b.what)));
        r.finish();
        let (file, job, source) = (file?, job?, source?);
        let name = name.unwrap_or_else(|| format!("run {}", n + 1));
        Some(LogRun { name, date, file: file.is, job, source, readings, accuracies })
    }

    /// The job of a run, as it was set up.
    fn job(&mut self, file: &At<String>, sets: &[At<String>]) -> Option<Box<Job>> {
        match self.job_in_file(file, sets, Needs::Source)? {
            // What was learned before came from runs too, and must not count twice.
            Checked::Job(job) => Some(Box::new(Job { profile: None, ..*job })),
            Checked::Refused(_) => {
                let text = "this metal may not be etched in this bath, so it has no run; see plan";
                self.ledger.add(&file.place, &file.key, text);
                None
            }
        }
    }
}

/// Everything that was read at one time; `cells` unless the source is known to have none.
fn reading(mut r: Reader, cells: bool, list: &mut Vec<Reading>) {
    r.require("at", "a time since the current was on, such as \"5 min\"");
    let at = r.quantity::<Time>("at", "0 s", "100 h").map(|t| t.is.si());
    let values = [
        r.quantity::<Voltage>("source_volts", "0 V", "60 V").map(|v| v.is.si()),
        r.quantity::<Voltage>("bath_volts", "0 V", "60 V").map(|v| v.is.si()),
        r.quantity::<Current>("amps", "0 A", "1000 A").map(|v| v.is.si()),
        r.quantity::<Length>("depth", "0 mm", "20 mm").map(|v| v.is.si()),
        r.quantity::<Mass>("weight_loss", "0 g", "10 kg").map(|v| v.is.si()),
        r.quantity::<Temperature>("cell_temperature", "-20 degC", "200 degC").map(|v| v.is.si()),
    ];
    if !What::ALL.iter().any(|(_, key)| r.has(key)) {
        let others: Vec<&str> = What::ALL.iter().map(|(_, key)| *key).collect();
        r.missing("amps", &format!("something that was read: any of {}", others.join(", ")));
    }
    if values[5].is_some() && !cells {
        r.complain("cell_temperature", "this job's source has no cells; allowed: only of a pack");
    }
    r.finish();
    let Some(at_s) = at else {
        return;
    };
    for ((what, _), value) in What::ALL.into_iter().zip(values) {
        list.extend(value.map(|value| Reading { at_s, what, value }));
    }
}
