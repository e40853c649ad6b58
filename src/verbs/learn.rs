//! `learn`

use super::answer::{Answer, Failure, Outcome};
use super::read::stock_for;
use crate::cli;
use crate::files::Folder;
use crate::input::{beside, read_text};
use anyhow::anyhow;
use restbite::advice;
use restbite::advice::spread::Sampling;
use restbite::job::Written;
use restbite::job::log::read_log;
use restbite::sheet::{json, text, toml};

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
    let out = how.out.as_ref().map(|path| Folder::open(path, how.force, &[toml::NAME]));
    let out = out.transpose()?;
    let sampling = Sampling { draws: args.draws as usize, seed: args.seed };
    let learning = advice::learn::learn(&log, &stock, sampling).map_err(Failure::cannot)?;
    if let Some(folder) = out {
        folder.write(toml::NAME, &toml::learn(&log, &learning))?;
    }
    let json = |u| json::learn(&log, &learning, u);
    Ok(Answer::either(how, true, json, |u| text::learn(&log, &learning, u)))
}
