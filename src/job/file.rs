//! Text files, whole and not too long, and what a file refused in words.

use crate::reader::LONGEST;
use std::io::{self, BufRead, ErrorKind, Read, Seek};
use std::path::{Path, PathBuf};

/// What stands in a file.
pub trait Bytes: BufRead + Seek {}
impl<T: BufRead + Seek> Bytes for T {}

/// How a file is opened, by its path. One that is no plain file, which might never end, is
/// refused.
pub type Open<'a> = &'a dyn Fn(&Path) -> io::Result<Box<dyn Bytes>>;

/// The files that a text may name: profiles, pictures, jobs.
#[derive(Clone, Copy)]
pub struct Files<'a> {
    /// The folder against which their names are taken.
    pub folder: &'a Path,
    /// How they are opened.
    pub open: Open<'a>,
    /// Whether the text itself lies in that folder: one on standard input has nothing beside it.
    pub beside: bool,
    /// The folder of the user's settings, where a bench file may lie too.
    pub settings: Option<&'a Path>,
}

impl Default for Files<'_> {
    /// None are there.
    fn default() -> Self {
        Self {
            folder: Path::new(""),
            open: &|_| Err(ErrorKind::NotFound.into()),
            beside: true,
            settings: None,
        }
    }
}

impl Files<'_> {
    /// Where the file of a name lies.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    /// The text of a file and its name in messages.
    ///
    /// # Errors
    /// A sentence with the file's name.
    pub fn text(&self, path: &Path) -> Result<(String, String), String> {
        let name = path.display().to_string();
        text_of((self.open)(path), &name).map(|text| (text, name))
    }
}

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

/// What a file refused, in words.
fn why(error: &io::Error) -> String {
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
