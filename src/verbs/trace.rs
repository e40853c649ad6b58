//! `trace`

use super::answer::{Answer, Outcome};
use super::folder::{open_folder, write};
use super::read::{advise, stock_for};
use crate::cli;
use restbite::advice::{self, Advice};
use restbite::sheet::files::Folder;
use restbite::sheet::plots::{NAMES, View, plots};
use restbite::sheet::{json, text};
use restbite::units::say::System;

/// `trace`
pub fn trace(args: &cli::Trace) -> Outcome {
    let stock = stock_for(&args.job.job)?;
    let folder = open_folder(&args.job.how, &NAMES)?;
    let points = args.points as usize;
    let advice = advise(&args.job, &stock, |job| advice::advise(job, &stock, points))?;
    write_plots(folder.as_ref(), &advice, args.job.how.units.into())?;
    Ok(Answer::advice(&args.job.how, &advice, json::trace, text::trace))
}

/// Draws the plots into a folder; a refused job has none.
fn write_plots(folder: Option<&Folder>, advice: &Advice, units: System) -> anyhow::Result<()> {
    let (Some(folder), Advice::Plan(plan)) = (folder, advice) else {
        return Ok(());
    };
    write(folder, &plots(&View::of(plan, units))?)
}
