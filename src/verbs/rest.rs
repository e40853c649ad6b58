//! `rest`

use super::answer::{Answer, Failure, Outcome};
use super::folder::{open_folder, write};
use super::part::{on_a_job, usual};
use super::pictures::rests;
use super::read::stock_for;
use crate::cli;
use restbite::advice;
use restbite::sheet::plots::REST;
use restbite::sheet::{json, text};

/// `rest`
pub fn rest(args: &cli::Job) -> Outcome {
    let stock = stock_for(&args.job)?;
    let folder = open_folder(&args.how, &[REST])?;
    on_a_job(args, &stock, usual, |job| {
        let rested = advice::rested(job, &stock).map_err(Failure::cannot)?;
        if let Some(folder) = &folder {
            let plot = rests(&rested.case, rested.rests.as_ref(), args.how.units.into())?;
            write(folder, plot.as_slice())?;
        }
        let (json, text) = (|u| json::rest(&rested, u), |u| text::rest(&rested, u));
        Ok(Answer::either(&args.how, rested.done(), json, text))
    })
}
