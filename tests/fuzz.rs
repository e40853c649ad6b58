//! Every reader against texts that nobody would write: files of `corpus/`, of the demo and of
//! the wrong ones, changed at random, byte by byte and word by word. No panic, no hang, little
//! memory.
//!
//! A quick run in `cargo test`; the long one is
//! `cargo test --release --test fuzz -- --ignored --nocapture`, last printed
//!
//! ```text
//! 10000000 texts of 8 kinds in 372s: 406592 read well, 330463 not UTF-8, the rest refused; slowest 33ms; most memory Some(29) MB, Some(7) before
//! ```

mod common;

use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64;
use restbite::job::log::read_log;
use restbite::job::{self, Bytes, Files, Needs, Written};
use restbite::stock::Stock;
use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::time::{Duration, Instant};

/// What a text is read as.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Kind {
    Job,
    Set,
    Day,
    Log,
    Csv,
    Profile,
    Sources,
    Stock,
    /// Under a job that lacks what a bench has.
    Bench,
}

const KINDS: [Kind; 9] = [
    Kind::Job,
    Kind::Set,
    Kind::Day,
    Kind::Log,
    Kind::Csv,
    Kind::Profile,
    Kind::Sources,
    Kind::Stock,
    Kind::Bench,
];

/// What the changed texts are made of.
struct Corpus {
    fern: String,
    texts: Vec<(Kind, Vec<u8>)>,
    /// So many of them, the first ones, are read well as they are.
    good: usize,
    /// Words and numbers that the readers know, and some that upset readers.
    words: Vec<Vec<u8>>,
}

fn kind_of(path: &Path) -> Kind {
    let name = path.display().to_string();
    match () {
        () if name.ends_with(".csv") => Kind::Csv,
        () if name.contains("bad_stock") || name.ends_with("stock.toml") => Kind::Stock,
        () if name.contains("workshop") => Kind::Profile,
        () if name.contains("bad_logs") || name.ends_with("log.toml") => Kind::Log,
        () if name.ends_with("bench.toml") => Kind::Bench,
        () if name.ends_with("day.toml") => Kind::Day,
        () if name.ends_with("sources.toml") => Kind::Sources,
        () => Kind::Job,
    }
}

const UPSETTING: [&str; 40] = [
    "nan",
    "inf",
    "-0",
    "1e999",
    "1e-999",
    "9223372036854775807",
    "-9223372036854775808",
    "0x7f",
    "1/0",
    "\"\"\"",
    "'''",
    "[[",
    "]]",
    "{",
    "}",
    "[",
    "]",
    "=",
    "\"",
    "'",
    ".",
    ",",
    "#",
    "\n",
    "\r",
    "\r\n",
    "\0",
    "\u{feff}",
    "\u{2028}",
    "\u{e9}",
    "\u{1F525}",
    "\\u0000",
    "\\U0010FFFF",
    " x ",
    "1979-05-27T07:32:00Z",
    "24:60",
    "AWG 99999999999",
    "999999999999 ga",
    "true",
    "%",
];

impl Corpus {
    fn read() -> Self {
        let root = common::root();
        let mut texts = Vec::new();
        let mut words: Vec<Vec<u8>> = UPSETTING.iter().map(|w| w.as_bytes().to_vec()).collect();
        let mut good = 0;
        let folders =
            ["tests/corpus", "data-demo", "tests/bad_jobs", "tests/bad_logs", "tests/bad_stock"];
        for folder in folders {
            if folder.contains("bad_jobs") {
                good = texts.len();
            }
            let mut paths: Vec<_> =
                std::fs::read_dir(root.join(folder)).unwrap().map(|e| e.unwrap().path()).collect();
            paths.retain(|path| path.is_file());
            paths.sort();
            for path in paths {
                let text = std::fs::read(&path).unwrap();
                if path.ends_with("sets.txt") {
                    texts.extend(text.split(|b| *b == b'\n').map(|l| (Kind::Set, l.to_vec())));
                } else if path.extension().is_some_and(|e| e == "toml" || e == "csv") {
                    words.extend(
                        text.split(|b| b" \n=,[]{}\"".contains(b))
                            .filter(|w| w.len() > 1)
                            .map(<[u8]>::to_vec),
                    );
                    texts.push((kind_of(&path), text));
                }
            }
        }
        words.sort();
        words.dedup();
        let fern = std::fs::read_to_string(root.join("data-demo/fern-pin.toml")).unwrap();
        Self { fern, texts, good, words }
    }

    /// A text changed in one to eight places, mostly few; one in fifty is another kind's.
    fn changed(&self, rng: &mut Pcg64) -> (Kind, Vec<u8>) {
        let from = [self.good, self.texts.len()][below(rng, 2)];
        let (mut kind, mut text) = self.texts[below(rng, from)].clone();
        if below(rng, 50) == 0 {
            kind = KINDS[below(rng, KINDS.len())];
        }
        let most = 1 + below(rng, 8);
        for _ in 0..=below(rng, most) {
            self.change(rng, &mut text);
        }
        (kind, text)
    }

    fn change(&self, rng: &mut Pcg64, text: &mut Vec<u8>) {
        let at = below(rng, text.len() + 1);
        let to = (at + 1 + below(rng, 30)).min(text.len());
        match below(rng, 9) {
            0 if at < text.len() => text[at] ^= 1 << below(rng, 8),
            1 if at < text.len() => text[at] = below(rng, 128) as u8,
            2 => drop(text.drain(at..to)),
            3 => {
                let piece = text[at..to].to_vec();
                let there = below(rng, text.len() + 1);
                text.splice(there..there, piece);
            }
            4 => text.truncate(at),
            5 => {
                // A line twice, or as often as it takes to be long.
                let line: Vec<u8> =
                    text[at..].split(|b| *b == b'\n').next().unwrap_or_default().to_vec();
                let often = [1, 2, 100][below(rng, 3)];
                for _ in 0..often {
                    text.splice(at..at, line.iter().copied().chain([b'\n']));
                }
            }
            6 => {
                let depth = 1 + below(rng, 200);
                let sign = b"[{(\"'."[below(rng, 6)];
                text.splice(at..at, std::iter::repeat_n(sign, depth));
            }
            _ => {
                // One word for another.
                let word = self.words[below(rng, self.words.len())].clone();
                let end = |b: &u8| b" \n=,[]{}\"".contains(b);
                let until = text[at..].iter().position(end).map_or(text.len(), |n| at + n);
                text.splice(at..until, word);
            }
        }
    }
}

fn below(rng: &mut Pcg64, n: usize) -> usize {
    (rng.next_u64() % n.max(1) as u64) as usize
}

/// What a job has to say where a bench file says the rest.
const PIECE: &str = "[piece]\nmetal = \"sterling\"\noutline = \"42 mm x 28 mm\"\n\
                     exposed = \"38 %\"\nthickness = \"1.2 mm\"\ndepth = \"0.35 mm\"\n";

/// Reads a text; whether the reader took it.
fn taken(kind: Kind, text: &str, fern: &str, stock: &Stock) -> bool {
    let open = |_: &Path| {
        let job: Box<dyn Bytes> = Box::new(Cursor::new(fern.to_string()));
        Ok(job)
    };
    // What a job alone names is not there.
    let bench = |_: &Path| {
        let bench: Box<dyn Bytes> = Box::new(Cursor::new(text.to_string()));
        Ok(bench)
    };
    let files = match kind {
        Kind::Day | Kind::Log | Kind::Csv => {
            Files { open: &open, beside: false, ..Files::default() }
        }
        Kind::Bench => Files { open: &bench, ..Files::default() },
        _ => Files::default(),
    };
    let name = if kind == Kind::Csv { "log.csv" } else { "file.toml" };
    let sets = [text.to_string()];
    let written = match kind {
        Kind::Set => Written { text: fern, name, files, sets: &sets },
        Kind::Bench => Written { text: PIECE, name, files, sets: &[] },
        _ => Written { text, name, files, sets: &[] },
    };
    let wrong = match kind {
        Kind::Job | Kind::Set | Kind::Bench => job::read(&written, stock, Needs::Source).err(),
        Kind::Day => job::read_day(&written, stock).err(),
        Kind::Log | Kind::Csv => read_log(&written, stock).err(),
        Kind::Profile => job::read_profile(text, name).err(),
        Kind::Sources => job::read_sources(text, name, stock).err(),
        Kind::Stock => stock.clone().with_own(text, name).err(),
    };
    if let Some(complaints) = &wrong {
        let message = complaints.to_string();
        assert!(!message.trim().is_empty(), "a refusal without a word");
        let strange = |c: char| c.is_control() && c != '\n';
        assert!(!message.contains(strange), "a control character in {message:?}");
    }
    wrong.is_none()
}

/// Most memory that this process has held, MB; none where the system does not say.
fn most_memory_mb() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|l| l.starts_with("VmHWM"))?;
    Some(line.split_whitespace().nth(1)?.parse::<u64>().ok()? / 1024)
}

/// Reads so many changed texts on every core; prints what came of it.
fn fuzz(executions: u64) {
    let corpus = Corpus::read();
    let stock = Stock::builtin().unwrap();
    let cores = std::thread::available_parallelism().map_or(1, |n| n.get() as u64);
    let (began, before) = (Instant::now(), most_memory_mb());
    let one = |core: u64| {
        let mut rng = Pcg64::seed_from_u64(core);
        let (mut well, mut slowest, mut not_text) = (0u64, Duration::ZERO, 0u64);
        for _ in 0..executions / cores {
            let (kind, bytes) = corpus.changed(&mut rng);
            // The command refuses what is not UTF-8 before any reader sees it.
            let Ok(text) = std::str::from_utf8(&bytes) else {
                not_text += 1;
                continue;
            };
            let start = Instant::now();
            let read = AssertUnwindSafe(|| taken(kind, text, &corpus.fern, &stock));
            match catch_unwind(read) {
                Ok(taken) => well += u64::from(taken),
                Err(_) => panic!("{kind:?} {text:?}"),
            }
            slowest = slowest.max(start.elapsed());
        }
        (well, slowest, not_text)
    };
    let one = &one;
    let parts: Vec<_> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..cores).map(|core| scope.spawn(move || one(core))).collect();
        threads.into_iter().map(|t| t.join().expect("a reader panicked")).collect()
    });
    let well: u64 = parts.iter().map(|p| p.0).sum();
    let slowest = parts.iter().map(|p| p.1).max().unwrap_or_default();
    let not_text: u64 = parts.iter().map(|p| p.2).sum();
    let memory = most_memory_mb();
    println!(
        "{executions} texts of {} kinds in {:.0?}: {well} read well, {not_text} not UTF-8, the rest refused; \
         slowest {slowest:.0?}; most memory {memory:?} MB, {before:?} before",
        KINDS.len(),
        began.elapsed()
    );
    // Some are read well, or the readers were never reached.
    assert!(well > executions / 200, "{well}");
    assert!(slowest < Duration::from_secs(5), "{slowest:?}");
    if let (Some(most), Some(before)) = (memory, before) {
        assert!(most < before + 100 * cores, "{most} MB");
    }
}

#[test]
fn no_reader_panics_hangs_or_swells() {
    fuzz(200_000);
}

#[test]
#[ignore = "minutes; the command stands at the head of this file"]
fn ten_million_texts() {
    fuzz(10_000_000);
}
