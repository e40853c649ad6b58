//! What comes of a verb: an answer, or why there is none; and their exit codes.

use crate::cli::How;
use restbite::job::{self, file};
use restbite::sheet;
use restbite::sheet::plots::PlotError;
use restbite::units::say::System;
use serde_json::Value;

/// Exit code: the job as given cannot be done.
const CANNOT: u8 = 1;
/// Exit code: the job or the command line is wrong.
pub const WRONG: u8 = 2;

/// An answer for standard output, and the exit code.
pub struct Answer {
    /// What to print.
    pub text: String,
    /// 0 or [`CANNOT`].
    pub code: u8,
}

impl Answer {
    /// A text, and whether the job can be done.
    pub fn new(text: String, done: bool) -> Self {
        Self { text, code: if done { 0 } else { CANNOT } }
    }

    /// JSON or a page, whichever is asked for.
    pub fn either(
        how: &How,
        done: bool,
        json: impl FnOnce(System) -> Value,
        text: impl FnOnce(System) -> String,
    ) -> Self {
        let units = how.units.into();
        Self::new(if how.json { sheet::json::print(&json(units)) } else { text(units) }, done)
    }
}

/// Why there is no answer.
pub enum Failure {
    /// The job has complaints.
    Job(job::Complaints),
    /// Anything else, a file or a number.
    Other(anyhow::Error, u8),
}

impl Failure {
    /// The job as given cannot be worked out.
    pub fn cannot(error: impl Into<anyhow::Error>) -> Self {
        Self::Other(error.into(), CANNOT)
    }

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

impl From<PlotError> for Failure {
    fn from(error: PlotError) -> Self {
        anyhow::Error::from(error).into()
    }
}

impl From<anyhow::Error> for Failure {
    fn from(error: anyhow::Error) -> Self {
        Self::Other(error, WRONG)
    }
}

/// What a verb hands to the door.
pub type Outcome = Result<Answer, Failure>;
