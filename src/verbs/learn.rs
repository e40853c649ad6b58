//! `learn`

use super::stock::stock_for;
use super::{Answer, CANNOT, Failure, Outcome};
use crate::cli;
use crate::files::Folder;
use crate::input::{beside, read_text};
use anyhow::anyhow;
use restbite::advice;
use restbite::advice::spread::Sampling;
use restbite::job::Written;
use restbite::job::log::read_log;
use restbite::sheet::{self, profile};

/// `learn`
pub fn learn(args: &cli::Learn) -> Outcome {
    let stock = stock_for(&args.log)?;
    let how = &args.how;
    let (text, name) = read_text(&args.log)?;
    let files = beside(&args.log);
    let written = Written { text: &text, name: &name, files, sets: &how.sets };
    let log = read_log(&written, &stock).map_err(Failure::Job)?;
    if log.runs.iter().all(|run| run.readings.is_empty())
        && log.cell_trials.is_empty()
        && log.bath_trials.is_empty()
    {
        return Err(anyhow!("{name}: no readings in it yet, so nothing to learn from").into());
    }
    let out = how.out.as_ref().map(|path| Folder::open(path, how.force, &[profile::NAME]));
    let out = out.transpose()?;
    let sampling = Sampling { draws: args.draws as usize, seed: args.seed };
    let learning = advice::learn::learn(&log, &stock, sampling)
        .map_err(|error| Failure::Other(error.into(), CANNOT))?;
    if let Some(folder) = out {
        folder.write(profile::NAME, &profile::to_toml(&log, &learning))?;
    }
    let units = how.units.into();
    let text = if how.json {
        sheet::json::print(&sheet::learn::to_json(&log, &learning, units))
    } else {
        sheet::learn::to_text(&log, &learning, units)
    };
    Ok(Answer { text, code: 0 })
}
