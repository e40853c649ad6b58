//! What comes of a verb: an answer, or why there is none; and their exit codes.

use crate::cli;
use restbite::advice::Advice;
use restbite::job::{self, file};
use restbite::sheet;
use restbite::units::say::System;
use serde_json::Value;

/// Exit code: the job as given cannot be done.
pub const CANNOT: u8 = 1;

/// Exit code: the job or the command line is wrong.
pub const WRONG: u8 = 2;

/// An answer for standard output, and the exit code.
pub struct Answer {
    /// What to print.
    pub text: String,
    /// 0 or [`CANNOT`].
    pub code: u8,
}

/// Why there is no answer.
pub enum Failure {
    /// The job has complaints.
    Job(job::Complaints),
    /// Anything else, a file or a number.
    Other(anyhow::Error, u8),
}

impl Failure {
    /// Exit code.
    pub fn code(&self) -> u8 {
        match self {
            Self::Job(_) => WRONG,
            Self::Other(_, code) => *code,
        }
    }

    /// What to tell the user.
    pub fn text(&self) -> String {
        match self {
            Self::Job(complaints) => complaints.to_string(),
            Self::Other(error, _) => {
                format!("restbite: {}", file::plain(&format!("{error:#}")))
            }
        }
    }
}

impl From<anyhow::Error> for Failure {
    fn from(error: anyhow::Error) -> Self {
        Self::Other(error, WRONG)
    }
}

/// What a verb hands to the door.
pub type Outcome = Result<Answer, Failure>;

pub fn answer(
    args: &cli::How,
    advice: &Advice,
    json: impl Fn(&Advice, System) -> Value,
    text: impl Fn(&Advice, System) -> String,
) -> Answer {
    let units = args.units.into();
    let text =
        if args.json { sheet::json::print(&json(advice, units)) } else { text(advice, units) };
    Answer { text, code: if advice.done() { 0 } else { CANNOT } }
}
