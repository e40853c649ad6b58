//! The door: parse, call, print, exit code.

#![forbid(unsafe_code)]

mod cli;
mod drawn;
mod input;
mod verbs;

use clap::Parser;
use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = cli::Cli::parse();
    let outcome = match cli.verb {
        cli::Verb::Plan(job) => verbs::plan(&job),
        cli::Verb::Size(size) => verbs::size(&size),
        cli::Verb::Charge(job) => verbs::charge(&job),
        cli::Verb::Rest(job) => verbs::rest(&job),
        cli::Verb::Compare(compare) => verbs::compare(&compare),
        cli::Verb::Day(day) => verbs::day(&day),
        cli::Verb::Learn(learn) => verbs::learn(&learn),
        cli::Verb::Trace(trace) => verbs::trace(&trace),
        cli::Verb::New(new) => verbs::new(&new),
    };
    match outcome {
        Ok(answer) => print(&answer),
        Err(failure) => {
            // Standard error may be closed too; there is nobody left to tell then.
            let _ = writeln!(anstream::stderr(), "{}", failure.text());
            ExitCode::from(failure.code())
        }
    }
}

/// Prints an answer; a reader that has gone away is no error.
fn print(answer: &verbs::Answer) -> ExitCode {
    let mut out = anstream::stdout();
    let written = out.write_all(answer.text.as_bytes()).and_then(|()| out.flush());
    match written {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
            let _ = writeln!(anstream::stderr(), "restbite: the answer cannot be printed: {e}");
            ExitCode::from(verbs::WRONG)
        }
        _ => ExitCode::from(answer.code),
    }
}
