//! `new`: asks for a job and writes it, or writes a log to fill in.
//!
//! Questions and remarks go to standard error, so that a job written to standard output
//! stays clean. Plain lines, so that it works with a pipe and a screen reader.

use super::answer::{Answer, Failure, Outcome};
use super::read::stock_for;
use crate::cli;
use crate::files::Folder;
use crate::input::beside;
use anyhow::{Context, bail, ensure};
use restbite::job::bench;
use restbite::newjob::{Answers, Question, log_csv, log_toml};
use std::io::{BufRead, IsTerminal, Read, Write};
use std::path::Path;

/// Most bytes that are read of all the answers.
const LONGEST: u64 = 1 << 20;

/// What gap, outline and bare share mean.
const DRAWING: &str = r"
    From the side, the sheet face down        Its face, seen from below

  plus o---+                                  +------------------+
           |                                  |#####    #########|   # resist
       +---+------------------+ thickness     |###   ##   #######|
       |      ____    ____    |               |#   ######   #####|   bare metal
  bath +#####|    |##|    |###+ depth of      |###   ##   #######|
                |               the recess    |#####    #########|
                | gap                         +------------------+
                |                             outline: all of the face
  +---------------------------+ metal pan     bare share: the bare part of it
  minus o--+
";

/// `new`
pub fn new(args: &cli::New) -> Outcome {
    let usual = match (args.log, args.bench) {
        (true, _) => "log.toml",
        (_, true) => bench::FILE,
        _ => "job.toml",
    };
    let path = args.file.as_deref().unwrap_or(Path::new(usual));
    let target = Target::open(path, args.force)?;
    if args.log {
        let table = path.extension().is_some_and(|e| e.eq_ignore_ascii_case("csv"));
        let text = if table { log_csv() } else { log_toml() };
        return Ok(target.put(text, &|name| {
            format!("Fill it in after each run, then: restbite learn {name}")
        })?);
    }
    let stock = stock_for(path)?;
    let mut answers = if args.bench {
        Answers::of_bench(&stock, beside(path))
    } else {
        Answers::new(&stock, beside(path))
    };
    if args.yes {
        talk(&mut answers, &mut endless(), &mut std::io::sink(), false)?;
    } else {
        let terminal = std::io::stdin().is_terminal();
        let mut out = anstream::stderr();
        if terminal && std::io::stderr().is_terminal() {
            // Nobody to read it is no reason to stop.
            let _ = writeln!(out, "{DRAWING}");
        }
        let input = std::io::stdin().take(LONGEST);
        talk(&mut answers, &mut std::io::BufReader::new(input), &mut out, terminal)?;
    }
    let text = answers.file().map_err(Failure::Job)?;
    if args.bench {
        return Ok(target.put(&text, &|_| {
            "Put in your own numbers and what you own. Next: restbite new my-piece.toml, which asks \
             about the piece alone"
                .into()
        })?);
    }
    Ok(target.put(&text, &|name| {
        format!(
            "Where you took what was offered, put in your own numbers. Next: restbite plan {name}"
        )
    })?)
}

/// Empty lines without end: every default.
fn endless() -> impl BufRead {
    std::io::BufReader::new(std::io::repeat(b'\n'))
}

/// Asks until all is answered. At a terminal a wrong answer is asked for again; in a pipe it
/// ends the matter.
fn talk(
    answers: &mut Answers,
    input: &mut impl BufRead,
    out: &mut impl Write,
    terminal: bool,
) -> anyhow::Result<()> {
    if terminal {
        let _ = writeln!(out, "An empty line takes what stands in [brackets].");
    }
    while let Some(question) = answers.next() {
        let default = answers.default(question);
        if terminal {
            let _ = writeln!(out, "\n{}\n  {}", question.asks, question.tells);
        }
        loop {
            if terminal {
                let offer = default.as_ref().map_or_else(String::new, |d| format!(" [{d}]"));
                let _ = write!(out, "{}{offer}: ", question.key);
                let _ = out.flush();
            }
            let line = line(input, question).inspect_err(|_| {
                let _ = if terminal { writeln!(out) } else { Ok(()) };
            })?;
            let text = match (line.trim(), &default) {
                ("", Some(default)) => default.as_str(),
                (text, _) => text,
            };
            match answers.answer(question, text) {
                Ok(()) => break,
                Err(why) if terminal => {
                    let _ = writeln!(out, "{why}");
                }
                Err(why) => {
                    bail!("{} ({}): {why}; nothing is written", question.key, question.asks)
                }
            }
        }
    }
    Ok(())
}

/// The next line.
fn line(input: &mut impl BufRead, question: &Question) -> anyhow::Result<String> {
    let mut bytes = Vec::new();
    let name = question.key;
    let read = input.read_until(b'\n', &mut bytes);
    let read = read.with_context(|| format!("{name}: the answer cannot be read"))?;
    ensure!(
        read > 0,
        "the answers ended before {name} ({}); nothing is written. An empty line takes a \
         default; new --yes takes all of them",
        question.asks
    );
    String::from_utf8(bytes).with_context(|| format!("{name}: the answer is not UTF-8 text"))
}

/// Where the file goes.
enum Target<'a> {
    Standard,
    File { folder: Folder, name: &'a str, path: &'a Path },
}

impl<'a> Target<'a> {
    /// Sees that it can be written before anything is asked.
    fn open(path: &'a Path, force: bool) -> anyhow::Result<Self> {
        if path.as_os_str() == "-" {
            return Ok(Self::Standard);
        }
        let shown = path.display();
        ensure!(!path.is_dir(), "{shown} is a folder; allowed: the name of a file to write");
        let name = path.file_name().and_then(|n| n.to_str());
        let name = name.with_context(|| format!("{shown} is no name for a file"))?;
        let parent = match path.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        ensure!(parent.is_dir(), "{shown}: the folder {} is not there", parent.display());
        Ok(Self::File { folder: Folder::open(parent, force, &[name])?, name, path })
    }

    /// Writes it, and says on standard error what comes next.
    fn put(self, text: &str, next: &dyn Fn(&str) -> String) -> anyhow::Result<Answer> {
        match self {
            Self::Standard => Ok(Answer::new(text.into(), true)),
            Self::File { folder, name, path } => {
                folder.write(name, text)?;
                let shown = path.display().to_string();
                let plain = |c: char| c.is_ascii_alphanumeric() || "/._-".contains(c);
                let word =
                    if shown.chars().all(plain) { shown.clone() } else { format!("\"{shown}\"") };
                let _ = writeln!(anstream::stderr(), "{shown} is written. {}", next(&word));
                Ok(Answer::new(String::new(), true))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_a_terminal_a_wrong_answer_is_asked_again() {
        let stock = restbite::stock::Stock::builtin().unwrap();
        let mut answers = Answers::new(&stock, restbite::job::Files::default());
        let replies = format!("Fern\nsterlin\nsterling\n{}", "\n".repeat(30));
        let mut out = Vec::new();
        talk(&mut answers, &mut replies.as_bytes(), &mut out, true).unwrap();
        let out = String::from_utf8(out).unwrap();
        assert!(out.contains("did you mean \"sterling\""), "{out}");
        assert_eq!(out.matches("piece.metal [sterling]: ").count(), 2, "{out}");
        let asked = out.lines().filter(|l| !l.contains("allowed: "));
        assert!(asked.clone().all(|l| l.chars().count() < 80), "{out}");
        assert!(asked.count() > 50, "{out}");
        assert!(answers.file().unwrap().contains("title = \"Fern\""));
    }

    #[test]
    fn the_drawing_fits_a_terminal() {
        assert!(DRAWING.lines().all(|l| l.is_ascii() && l.len() < 80));
    }
}
