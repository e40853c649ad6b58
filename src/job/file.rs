//! Text files, whole and not too long, and what a file refused in words.

use crate::reader::LONGEST;
use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::Path;

/// A text and its name in messages; or why it cannot be read.
pub type NamedText = Result<(String, String), String>;

/// The text that a reader gives, whole and not too long; `name` stands in messages.
///
/// # Errors
/// A sentence with the name.
pub fn text_of(from: io::Result<impl Read>, name: &str) -> Result<String, String> {
    let mut bytes = Vec::new();
    let read = from.and_then(|from| from.take(LONGEST + 1).read_to_end(&mut bytes));
    read.map_err(|e| format!("{name}: {}", why(&e)))?;
    if bytes.len() as u64 > LONGEST {
        return Err(format!("{name}: too long; allowed: 1 MiB at most"));
    }
    String::from_utf8(bytes).map_err(|e| {
        let before = &e.as_bytes()[..e.utf8_error().valid_up_to()];
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let last = before.rsplit(|b| *b == b'\n').next().unwrap_or_default();
        let column = String::from_utf8_lossy(last).chars().count() + 1;
        format!("{name}:{line}:{column}: not UTF-8 text; save the file as UTF-8")
    })
}

/// A file that another file names: a plain one.
///
/// # Errors
/// A sentence with the file's name.
pub fn read_named(path: &Path) -> NamedText {
    let name = path.display().to_string();
    match no_plain_file(path) {
        Some(why) => Err(format!("{name}: {why}")),
        None => text_of(File::open(path), &name).map(|text| (text, name)),
    }
}

/// Why a file that another one names is not opened at all: a pipe might never end, nor begin.
pub fn no_plain_file(path: &Path) -> Option<&'static str> {
    let there = std::fs::metadata(path).ok()?;
    let plain = there.is_file() || there.is_dir();
    (!plain).then_some("a pipe or a device; allowed: a plain file")
}

/// What a file refused, in words.
pub fn why(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "no such file".into(),
        ErrorKind::PermissionDenied => "you may not read it".into(),
        ErrorKind::IsADirectory => "a folder, not a file".into(),
        _ => plain(&error.to_string()),
    }
}

/// A message without the system's number for it, "(os error 2)".
pub fn plain(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(" (os error ") {
        out += before;
        rest = after.split_once(')').map_or("", |(_, rest)| rest);
    }
    out + rest
}
