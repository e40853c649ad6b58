//! Without a verb.

use super::answer::{Answer, Outcome};
use crate::{cli, shell};
use anyhow::Context;

/// Completions, the man page, or where to begin.
pub fn without_a_verb(cli: &cli::Cli) -> Outcome {
    let text = match cli.completions {
        Some(shell) => shell::completions(shell),
        None if cli.man => shell::man().context("the man page")?,
        None => cli::BEGIN.to_string(),
    };
    Ok(Answer::new(text, true))
}
