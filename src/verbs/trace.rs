//! `trace`

use super::answer::{Answer, Outcome};
use super::folder::{open_folder, write};
use super::read::{advise, stock_for};
use crate::cli;
use restbite::advice::{self, Advice};
use restbite::sheet::plots::{NAMES, View, plots};
use restbite::sheet::{json, text};

/// `trace`
pub fn trace(args: &cli::Trace) -> Outcome {
    let stock = stock_for(&args.job.job)?;
    let folder = open_folder(&args.job.how, &NAMES)?;
    let points = args.points as usize;
    let advice = advise(&args.job, &stock, |job| advice::advise(job, &stock, points))?;
    // A refused job has no plots.
    if let (Some(folder), Advice::Plan(plan)) = (folder, &advice) {
        write(&folder, &plots(&View::of(plan, args.job.how.units.into()))?)?;
    }
    Ok(Answer::advice(&args.job.how, &advice, json::trace, text::trace))
}
