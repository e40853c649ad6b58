//! `trace`

use super::answer::{Answer, Failure, Outcome};
use super::folder::{open_folder, write};
use super::part::on_a_job;
use super::read::stock_for;
use crate::cli;
use restbite::advice;
use restbite::job::Refused;
use restbite::sheet::plots::{NAMES, View, plots};
use restbite::sheet::{json, text};

/// `trace`
pub fn trace(args: &cli::Trace) -> Outcome {
    let stock = stock_for(&args.job.job)?;
    let how = &args.job.how;
    let folder = open_folder(how, &NAMES)?;
    let refused = |why: &Refused| Ok(json::trace_refused(why));
    on_a_job(&args.job, &stock, refused, |job| {
        let traced = advice::traced(job, &stock, args.points as usize).map_err(Failure::cannot)?;
        if let Some(folder) = &folder {
            let view = View::of(&traced.case, &traced.trace, how.units.into());
            write(folder, &plots(&view)?)?;
        }
        let done = traced.verdict.done();
        Ok(Answer::either(how, done, |u| json::trace(&traced, u), |_| text::trace(&traced)))
    })
}
