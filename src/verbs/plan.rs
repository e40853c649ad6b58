//! `plan`

use super::answer::{Answer, Outcome};
use super::draw;
use super::folder::open_folder;
use super::read::{advise, stock_for};
use crate::cli;
use restbite::advice;
use restbite::job::Job;
use restbite::sheet::plots::{NAMES, REST};
use restbite::sheet::{html, json, text};

/// Samples behind the plots of a plan.
pub const PLAN_POINTS: usize = 201;

/// `plan`
pub fn plan(args: &cli::Drawn) -> Outcome {
    let stock = stock_for(&args.job.job)?;
    let how = &args.job.how;
    let names = [&NAMES[..], &[REST, html::NAME]].concat();
    let folder = open_folder(how, &names)?;
    let work = |job: &Job| advice::plan(job, &stock, PLAN_POINTS, args.draws.into());
    let advice = advise(&args.job, &stock, work)?;
    let units = how.units.into();
    if let Some(folder) = folder {
        draw::plan(&folder, &advice, &stock, units)?;
    }
    Ok(Answer::advice(how, &advice, json::plan, text::plan))
}
