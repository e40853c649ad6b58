//! A text file that a job names.

use super::tree::LONGEST;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

/// The text of a file, whole and not too long.
///
/// # Errors
/// A sentence on why it cannot be read.
pub fn read_text(path: &Path) -> Result<String, String> {
    let name = path.display();
    let mut bytes = Vec::new();
    if let Some(why) = no_plain_file(path) {
        return Err(format!("\"{name}\" cannot be read: {why}"));
    }
    let read = File::open(path).and_then(|file| file.take(LONGEST + 1).read_to_end(&mut bytes));
    if let Err(error) = read {
        let why = match error.kind() {
            ErrorKind::NotFound => "no such file".to_string(),
            ErrorKind::PermissionDenied => "not allowed to read it".to_string(),
            ErrorKind::IsADirectory => "it is a folder".to_string(),
            _ => error.to_string(),
        };
        return Err(format!("\"{name}\" cannot be read: {why}"));
    }
    if bytes.len() as u64 > LONGEST {
        return Err(format!("\"{name}\" is too long; allowed: 1 MiB at most"));
    }
    String::from_utf8(bytes).map_err(|_| format!("\"{name}\" is not UTF-8 text"))
}

/// Why a file that a job names is not opened at all: a pipe might never end, nor begin.
pub fn no_plain_file(path: &Path) -> Option<&'static str> {
    let there = std::fs::metadata(path).ok()?;
    let plain = there.is_file() || there.is_dir();
    (!plain).then_some("a pipe or a device; allowed: a plain file")
}
