//! `charge`

use super::answer::{Answer, Failure, Outcome};
use super::folder::no_plots;
use super::part::{on_a_job, usual};
use super::read::stock_for;
use crate::cli;
use restbite::advice;
use restbite::sheet::{json, text};

/// `charge`
pub fn charge(args: &cli::Sampled) -> Outcome {
    let how = &args.job.how;
    no_plots(how, "charge draws no plots")?;
    let stock = stock_for(&args.job.job)?;
    on_a_job(&args.job, &stock, usual, |job| {
        let charged = advice::charged(job, &stock, args.draws.into()).map_err(Failure::cannot)?;
        let (json, text) = (|u| json::charge(&charged, u), |u| text::charge(&charged, u));
        Ok(Answer::either(how, charged.done(), json, text))
    })
}
