//! Text from a file or from standard input, whole and not too long; where files are looked for.

use restbite::job::{Bytes, Files, file};
use std::fs::{self, File};
use std::io::{self, BufReader, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// Name of a file with entries of the user's own.
const STOCK: &str = "stock.toml";
/// Folder of this command's settings among those of all programs.
const OF_THIS: &str = "restbite";

/// The user's stock files that are there: first the one in the folder of settings, then the
/// one beside the job. A job on standard input has none beside it.
pub fn stock_files(job: &Path) -> Vec<PathBuf> {
    let settings = settings_folder().map(|folder| folder.join(OF_THIS).join(STOCK));
    let beside = (job.as_os_str() != "-").then(|| job.with_file_name(STOCK));
    let there = |path: &PathBuf| fs::symlink_metadata(path).is_ok();
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

/// The files beside a file of the user's, which it may name.
pub fn beside(path: &Path) -> Files<'_> {
    static SETTINGS: LazyLock<Option<PathBuf>> =
        LazyLock::new(|| settings_folder().map(|folder| folder.join(OF_THIS)));
    Files {
        folder: path.parent().unwrap_or_else(|| Path::new("")),
        open: &open,
        beside: path.as_os_str() != "-",
        settings: SETTINGS.as_deref(),
    }
}

/// Opens a file that another one names, a plain one: a pipe might never end, nor begin.
fn open(path: &Path) -> io::Result<Box<dyn Bytes>> {
    let there = fs::metadata(path)?;
    if there.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    if !there.is_file() {
        let why = "a pipe or a device; allowed: a plain file";
        return Err(io::Error::new(ErrorKind::Unsupported, why));
    }
    Ok(Box::new(BufReader::new(File::open(path)?)))
}

/// A text whole and not too long, and its name in messages; `-` is standard input.
pub fn read_text(path: &Path) -> anyhow::Result<(String, String)> {
    if path.as_os_str() == "-" {
        let name = "standard input";
        let text = file::text_of(Ok(io::stdin()), name).map_err(anyhow::Error::msg)?;
        return Ok((text, name.into()));
    }
    let name = path.display().to_string();
    let text = file::text_of(File::open(path), &name).map_err(anyhow::Error::msg)?;
    Ok((text, name))
}
