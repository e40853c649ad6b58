//! A verb that draws one part of a plan.

use super::answer::{Answer, Failure, Outcome};
use super::read::{advise, stock_for};
use crate::cli;
use restbite::advice::{Advice, AdviceError, Plan};
use restbite::job::Job;
use restbite::sheet;
use restbite::stock::Stock;
use restbite::units::say::System;
use serde_json::Value;

/// Samples where no curve is drawn.
const NO_CURVE: usize = 2;

/// A verb that draws one part of a plan.
pub fn on_a_plan(
    args: &cli::Job,
    work: impl Fn(&Job, &Stock, usize) -> Result<Plan, AdviceError>,
    drawn: impl Fn(&Plan) -> Result<(), Failure>,
    json: impl Fn(&Plan, System) -> Value,
    text: impl Fn(&Plan, System) -> String,
    done: impl Fn(&Plan) -> bool,
) -> Outcome {
    let stock = stock_for(&args.job)?;
    let advice = advise(args, &stock, |job| work(job, &stock, NO_CURVE))?;
    let Advice::Plan(plan) = &advice else {
        return Ok(Answer::advice(&args.how, &advice, sheet::json::plan, sheet::text::plan));
    };
    drawn(plan)?;
    Ok(Answer::either(&args.how, done(plan), |u| json(plan, u), |u| text(plan, u)))
}
