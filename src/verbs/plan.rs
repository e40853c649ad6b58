//! `plan`

use super::answer::{Answer, Failure, Outcome};
use super::folder::open_folder;
use super::part::{on_a_job, usual};
use super::pictures;
use super::read::stock_for;
use crate::cli;
use restbite::advice;
use restbite::job::Refused;
use restbite::sheet::plots::{NAMES, REST};
use restbite::sheet::{html, json, text};

/// Samples behind the plots of a plan.
pub const PLAN_POINTS: usize = 201;

/// `plan`
pub fn plan(args: &cli::Plan) -> Outcome {
    let (args, full) = (&args.sampled, args.full);
    let stock = stock_for(&args.job.job)?;
    let how = &args.job.how;
    let units = how.units.into();
    let names = [&NAMES[..], &[REST, html::NAME]].concat();
    let folder = open_folder(how, &names)?;
    let refused = |why: &Refused| {
        folder.as_ref().map(|f| f.write(html::NAME, &html::refused(why))).transpose()?;
        usual(why)
    };
    on_a_job(&args.job, &stock, refused, |job| {
        let plan =
            advice::plan(job, &stock, PLAN_POINTS, args.draws.into()).map_err(Failure::cannot)?;
        if let Some(folder) = &folder {
            pictures::plan(folder, &plan, units)?;
        }
        let (json, text) = (|u| json::plan(&plan, u), |u| text::plan(&plan, u, full));
        Ok(Answer::either(how, plan.done(), json, text))
    })
}
