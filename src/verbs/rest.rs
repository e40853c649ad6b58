//! `rest`

use super::answer::Outcome;
use super::draw::rests;
use super::folder::{open_folder, write};
use super::part::on_a_plan;
use crate::cli;
use restbite::advice::{Plan, with_rests};
use restbite::sheet::plots::REST;
use restbite::sheet::{json, text};

/// `rest`
pub fn rest(args: &cli::Job) -> Outcome {
    let done = |plan: &Plan| match &plan.rests {
        Some(rests) => rests.best.is_some(),
        None => true, // no cells, no rests: that is the answer
    };
    let (json, text) = (json::rest, text::rest);
    let folder = open_folder(&args.how, &[REST])?;
    let drawn = |plan: &Plan| match &folder {
        Some(folder) => Ok(write(folder, rests(plan, args.how.units.into())?.as_slice())?),
        None => Ok(()),
    };
    on_a_plan(args, with_rests, drawn, json, text, done)
}
