//! The door: parse, call, print, exit code.

#![forbid(unsafe_code)]

mod bar;
mod cli;
mod cores;
mod files;
mod help;
mod input;
mod shell;
mod verbs;

use clap::Parser;
use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = cli::Cli::parse();
    restbite::advice::share_among(cores::run);
    // Without it an interrupt ends the process as ever; only a temporary file may be left.
    #[cfg(not(target_family = "wasm"))]
    let _ = ctrlc::set_handler(interrupted);
    let bar = bar::Bar::start();
    let outcome = answer(&cli);
    drop(bar);
    match outcome {
        Ok(answer) => print(&answer),
        Err(failure) => {
            // Standard error may be closed too; there is nobody left to tell then.
            let _ = writeln!(anstream::stderr(), "{}", failure.text());
            ExitCode::from(failure.code())
        }
    }
}

fn answer(cli: &cli::Cli) -> Result<verbs::Answer, verbs::Failure> {
    let Some(verb) = &cli.verb else {
        return verbs::without_a_verb(cli);
    };
    match verb {
        cli::Verb::Plan(job) => verbs::plan(job),
        cli::Verb::Size(size) => verbs::size(size),
        cli::Verb::Charge(job) => verbs::charge(job),
        cli::Verb::Rest(job) => verbs::rest(job),
        cli::Verb::Compare(compare) => verbs::compare(compare),
        cli::Verb::Day(day) => verbs::day(day),
        cli::Verb::Learn(learn) => verbs::learn(learn),
        cli::Verb::Look(look) => verbs::look(look),
        cli::Verb::Trace(trace) => verbs::trace(trace),
        cli::Verb::New(new) => verbs::new(new),
        cli::Verb::Stock(stock) => verbs::stock(stock),
    }
}

/// Ctrl-C: ends when no file is half written, with the exit code that shells give it.
#[cfg(not(target_family = "wasm"))]
fn interrupted() {
    let _held = files::hold();
    bar::wipe();
    std::process::exit(130);
}

/// Prints an answer; a reader that has gone away is no error.
fn print(answer: &verbs::Answer) -> ExitCode {
    let mut out = anstream::stdout();
    let written = out.write_all(answer.text.as_bytes()).and_then(|()| out.flush());
    match written {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
            let why = restbite::job::file::plain(&e.to_string());
            let _ = writeln!(anstream::stderr(), "restbite: the answer cannot be printed: {why}");
            ExitCode::from(verbs::WRONG)
        }
        _ => ExitCode::from(answer.code),
    }
}
