//! `charge`

use super::answer::Outcome;
use super::folder::no_plots;
use super::part::on_a_plan;
use crate::cli;
use restbite::advice::{Plan, with_charge};
use restbite::job::Job;
use restbite::sheet::{json, text};
use restbite::stock::Stock;

/// `charge`
pub fn charge(args: &cli::Drawn) -> Outcome {
    no_plots(&args.job.how, "charge draws no plots")?;
    let done = |plan: &Plan| plan.charge.as_ref().is_some_and(|c| c.pieces.count() > 0);
    let (json, text) = (json::charge, text::charge);
    let sampling = args.draws.into();
    let work = |job: &Job, stock: &Stock, points| with_charge(job, stock, points, sampling);
    on_a_plan(&args.job, work, |_| Ok(()), json, text, done)
}
