//! `look`

use super::answer::{Answer, Failure, Outcome};
use super::folder::no_plots;
use super::part::{on_a_job, usual};
use super::read::stock_for;
use crate::cli;
use crate::input::{beside, read_text};
use anyhow::anyhow;
use restbite::advice::AdviceError;
use restbite::advice::look::{DRAWS, look as worked_out};
use restbite::job::log::{Accuracies, Reading, What, read_log, said};
use restbite::job::{Source, Written};
use restbite::sheet::{json, text};
use restbite::stock::Stock;
use restbite::units::Quantity;
use restbite::units::say::figures;
use std::path::Path;

/// `look`
pub fn look(args: &cli::Look) -> Outcome {
    let how = &args.job.how;
    no_plots(how, "look draws no plots")?;
    let stock = stock_for(&args.job.job)?;
    on_a_job(&args.job, &stock, usual, |job| {
        let cells = matches!(job.source, Some(Source::Pack(_)));
        let (readings, accuracies) = match &args.log {
            Some(log) => logged(log, &stock)?,
            None => {
                let readings = said(&args.readings.0, cells).map_err(|e| anyhow!(e))?;
                (readings, Accuracies::default())
            }
        };
        let begun = job.piece.begun.as_ref().map_or(0.0, |begun| begun.is.si());
        let less = |r: &&Reading| r.what == What::Depth && r.value < begun;
        if let Some(reading) = readings.iter().find(less) {
            let mm = |m: f64| figures(1e3 * m, 3);
            return Err(anyhow!(
                "a depth of {} mm is less than the {} mm that the piece had when it was begun; read \
                 it again",
                mm(reading.value),
                mm(begun)
            )
            .into());
        }
        let found = worked_out(job, &stock, &readings, accuracies, DRAWS).map_err(|e| match e {
            AdviceError::Reading { .. } => anyhow!(e).into(),
            e => Failure::cannot(e),
        })?;
        let (json, text) = (|u| json::look(&found, u), |u| text::look(&found, u));
        Ok(Answer::either(how, found.does(), json, text))
    })
}

/// The readings of a log's last run, and how good its meters are.
fn logged(path: &Path, stock: &Stock) -> Result<(Vec<Reading>, Accuracies), Failure> {
    let (text, name) = read_text(path)?;
    let written = Written { text: &text, name: &name, files: beside(path), sets: &[] };
    let log = read_log(&written, stock).map_err(Failure::Job)?;
    let last = log.runs.into_iter().next_back().filter(|run| !run.readings.is_empty());
    let run = last.ok_or_else(|| anyhow!("{name}: no readings of a run in it"))?;
    Ok((run.readings, run.accuracies))
}
