//! `rest`

use super::answer::{Failure, Outcome};
use super::draw::rests;
use super::folder::{open_folder, write};
use super::part::on_a_plan;
use crate::cli;
use restbite::advice::{Plan, with_rests};
use restbite::sheet::files::Folder;
use restbite::sheet::plots::REST;
use restbite::sheet::{json, text};
use restbite::units::say::System;

/// `rest`
pub fn rest(args: &cli::Job) -> Outcome {
    let done = |plan: &Plan| match &plan.rests {
        Some(rests) => rests.best.is_some(),
        None => true, // no cells, no rests: that is the answer
    };
    let (json, text) = (json::rest, text::rest);
    let folder = open_folder(&args.how, &[REST])?;
    let drawn = |plan: &Plan| write_rests(folder.as_ref(), plan, args.how.units.into());
    on_a_plan(args, with_rests, drawn, json, text, done)
}

/// Draws on and off over time into a folder.
fn write_rests(folder: Option<&Folder>, plan: &Plan, units: System) -> Result<(), Failure> {
    let Some(folder) = folder else {
        return Ok(());
    };
    Ok(write(folder, rests(plan, units)?.as_slice())?)
}
