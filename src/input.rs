//! Text from a file or from standard input, whole and not too long; where files are looked for.

use anyhow::anyhow;
use restbite::job;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// Name of a file with entries of the user's own.
const STOCK: &str = "stock.toml";

/// The user's stock files that are there: first the one in the folder of settings, then the
/// one beside the job. A job on standard input has none beside it.
pub fn stock_files(job: &Path) -> Vec<PathBuf> {
    let settings = settings_folder().map(|folder| folder.join("restbite").join(STOCK));
    let beside = (job.as_os_str() != "-").then(|| job.with_file_name(STOCK));
    let there = |path: &PathBuf| std::fs::symlink_metadata(path).is_ok();
    let mut files: Vec<PathBuf> = settings.into_iter().chain(beside).filter(there).collect();
    // A job in the folder of settings has one file, not two.
    files.dedup_by_key(|path| path.canonicalize().unwrap_or_else(|_| path.clone()));
    files
}

/// Where programs keep their settings: `%APPDATA%` on Windows, elsewhere `$XDG_CONFIG_HOME`
/// or, failing that, `~/.config` (XDG base directory specification).
fn settings_folder() -> Option<PathBuf> {
    let folder =
        |key: &str| std::env::var_os(key).map(PathBuf::from).filter(|path| path.is_absolute());
    if cfg!(windows) {
        return folder("APPDATA");
    }
    folder("XDG_CONFIG_HOME").or_else(|| folder("HOME").map(|home| home.join(".config")))
}

/// What a file refused, in words.
fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "no such file".into(),
        io::ErrorKind::PermissionDenied => "you may not read it".into(),
        io::ErrorKind::IsADirectory => "a folder, not a file".into(),
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

/// A file's text, whole and not too long, and its name in messages.
pub fn read_text(path: &Path) -> anyhow::Result<(String, String)> {
    let standard_input = path.as_os_str() == "-";
    let name =
        if standard_input { "standard input".to_string() } else { path.display().to_string() };
    let mut bytes = Vec::new();
    let limit = job::LONGEST + 1;
    let read = if standard_input {
        std::io::stdin().take(limit).read_to_end(&mut bytes)
    } else {
        File::open(path).and_then(|file| file.take(limit).read_to_end(&mut bytes))
    };
    read.map_err(|e| anyhow!("{name}: {}", why(&e)))?;
    if bytes.len() as u64 > job::LONGEST {
        return Err(anyhow!("{name}: too long; allowed: 1 MiB at most"));
    }
    let text = String::from_utf8(bytes).map_err(|e| {
        let before = &e.as_bytes()[..e.utf8_error().valid_up_to()];
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        let last = before.rsplit(|b| *b == b'\n').next().unwrap_or_default();
        let column = String::from_utf8_lossy(last).chars().count() + 1;
        anyhow!("{name}:{line}:{column}: not UTF-8 text; save the file as UTF-8")
    })?;
    Ok((text, name))
}
