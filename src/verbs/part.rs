//! A verb that reads one job and answers on it.

use super::answer::{Answer, Failure, Outcome};
use super::read::read_job;
use crate::cli;
use restbite::job::{Checked, Job, Needs, Refused};
use restbite::sheet::{json, text};
use restbite::stock::Stock;
use serde_json::Value;

/// Reads the job and answers on it; a refused one is told as the verb tells it.
pub fn on_a_job(
    args: &cli::Job,
    stock: &Stock,
    refused: impl FnOnce(&Refused) -> Result<Value, Failure>,
    answer: impl FnOnce(&Job) -> Outcome,
) -> Outcome {
    match read_job(&args.job, &args.how.sets, stock, Needs::Source)? {
        Checked::Refused(why) => {
            let json = refused(&why)?;
            Ok(Answer::either(&args.how, false, |_| json, |_| text::refused(&why)))
        }
        Checked::Job(job) => answer(&job),
    }
}

/// A refused job in the JSON that most verbs give.
pub fn usual(why: &Refused) -> Result<Value, Failure> {
    Ok(json::refused(why))
}
