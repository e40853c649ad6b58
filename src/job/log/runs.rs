//! The log and its runs.

use super::accuracy::{self, Accuracies};
use super::csv;
use super::reading::{Reading, reading};
use super::trials::{self, BathTrial, CellTrial};
use crate::job::beside::{Beside, settle};
use crate::job::checked::{Checked, Job};
use crate::job::clock::{DATE, Date, parse_date};
use crate::job::draft::Needs;
use crate::job::source::Source;
use crate::job::written::Written;
use crate::reader::{At, Reader};
use crate::reader::{Complaints, Ledger, Place};
use crate::reader::{mistaken, short};
use crate::stock::Stock;

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

/// Reads and checks a log and the jobs that it names.
///
/// # Errors
/// Every complaint about the log and about its jobs.
pub fn read_log(written: &Written, stock: &Stock) -> Result<Log, Complaints> {
    let table = if written.name.to_lowercase().ends_with(".csv") {
        csv::table(written.text, written.name)?
    } else {
        written.table()?
    };
    let ledger = Ledger::default();
    let start = Place::File { name: written.name.into(), line: 1, column: 1 };
    mistaken::expect(mistaken::Kind::Log, &table, &start)?;
    let mut reader = Reader::new(&table, start.clone(), "", &ledger);
    let mut beside = Beside::new(stock, written.files, &ledger);
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
