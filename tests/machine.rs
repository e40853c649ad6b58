//! The library needs no machine: files, threads, the terminal, the clock and the process belong
//! to the command, which hands in what it reads and the cores that it has. Read off the source;
//! that the library builds without the command's packages is seen by `.ci/run`.

mod common;

use std::fs;
use std::path::{Path, PathBuf};

/// Parts of the standard library that ask nothing of the machine.
const PURE: [&str; 17] = [
    "array",
    "borrow",
    "cell",
    "cmp",
    "collections",
    "convert",
    "error",
    "f64",
    "fmt",
    "io",
    "iter",
    "mem",
    "slice",
    "num",
    "ops",
    "path",
    "sync",
];
/// What does, though it stands in one of those parts or in none.
const MACHINE: [&str; 13] = [
    "stdin()",
    "stdout()",
    "stderr()",
    "print!(",
    "println!(",
    "dbg!(",
    "exists()",
    ".is_file()",
    ".is_dir()",
    "metadata()",
    ".canonicalize()",
    ".read_dir()",
    ".read_link()",
];

/// Functions whose last bit is the system's own; `libm` has them alike everywhere.
const ROUNDED: [&str; 19] = [
    ".exp(",
    ".exp2(",
    ".exp_m1(",
    ".ln(",
    ".ln_1p(",
    ".log10(",
    ".log2(",
    ".powf(",
    ".cbrt(",
    ".hypot(",
    ".sin(",
    ".cos(",
    ".tan(",
    ".sin_cos(",
    ".atan(",
    ".atan2(",
    ".asinh(",
    ".sinh(",
    ".tanh(",
];

/// Every source of the library but its tests.
fn sources() -> Vec<PathBuf> {
    let src = common::root().join("src");
    let rooms = fs::read_to_string(src.join("lib.rs")).unwrap();
    let rooms = rooms.lines().filter_map(|l| l.strip_prefix("pub mod ")?.strip_suffix(';'));
    let mut list = vec![src.join("lib.rs")];
    for room in rooms {
        list.extend(Some(src.join(format!("{room}.rs"))).filter(|file| file.exists()));
        if src.join(room).is_dir() {
            add(&src.join(room), &mut list);
        }
    }
    list
}

fn add(folder: &Path, list: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let tests = path.file_stem().is_some_and(|name| name == "tests");
        if path.is_dir() && !tests {
            add(&path, list);
        } else if path.extension().is_some_and(|e| e == "rs") && !tests {
            list.push(path);
        }
    }
}

/// The code alone: no comment, and nothing that is built for tests only.
fn code(text: &str) -> String {
    let mut out = String::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        if line == "#[cfg(test)]" {
            let one = lines.next().unwrap_or_default().ends_with(';');
            while !one && lines.next().is_some_and(|line| line != "}") {}
        } else if !line.trim_start().starts_with("//") {
            out.push_str(line);
            out.push('\n');
        }
    }
    out
}

/// What in a piece of code asks for the machine.
fn asked(code: &str) -> Vec<String> {
    let parts = code.match_indices("std::").map(|(at, is)| &code[at + is.len()..]);
    // The name of a part; none where a group of parts would hide them.
    let parts = parts.map(|rest| rest.split(|c: char| !c.is_ascii_alphanumeric()).next());
    let parts = parts.map(Option::unwrap_or_default).filter(|part| !PURE.contains(part));
    let calls = MACHINE.iter().chain(&ROUNDED).copied().filter(|call| code.contains(call));
    parts.map(|part| format!("std::{part}")).chain(calls.map(String::from)).collect()
}

#[test]
fn the_library_needs_no_machine() {
    let sources = sources();
    assert!(sources.len() > 100, "{}", sources.len());
    let mut wrong = Vec::new();
    for path in &sources {
        let found = asked(&code(&fs::read_to_string(path).unwrap()));
        wrong.extend(found.into_iter().map(|what| format!("{}: {what}", path.display())));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn what_asks_for_the_machine_is_seen() {
    for (text, what) in [
        ("use std::fs;\n", "std::fs"),
        ("let now = std::time::Instant::now();\n", "std::time"),
        ("use std::{fmt, thread};\n", "std::"),
        ("    let text = io::stdin();\n", "stdin()"),
        ("    if path.exists() {\n", "exists()"),
        ("    println!(\"x\");\n", "println!("),
        ("    let y = x.ln();\n", ".ln("),
        ("#[cfg(test)]\nmod tests;\nuse std::env;\n", "std::env"),
        ("#[cfg(test)]\nmod tests {\n    x\n}\nuse std::process;\n", "std::process"),
    ] {
        assert_eq!(asked(&code(text)), [what], "{text}");
    }
    for text in [
        "//! use std::fs;\nuse std::fmt::Write;\n",
        "#[cfg(test)]\nmod tests {\n    use std::fs;\n}\n",
        "    json::print(&x);\n",
        "    let y = libm::exp(x.sqrt());\n",
    ] {
        assert!(asked(&code(text)).is_empty(), "{text}");
    }
}
