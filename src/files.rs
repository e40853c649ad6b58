//! Writes files into a folder: whole or not at all, and nothing overwritten unasked.

use anyhow::{Context, Result, bail};
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Held while a temporary file is about.
static WRITING: Mutex<()> = Mutex::new(());

/// Waits until no temporary file is about, and lets none come to be while it is held. Whoever
/// ends the process before its time holds this, so that no file is left half written.
pub fn hold() -> MutexGuard<'static, ()> {
    WRITING.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A folder that can be written to.
#[derive(Debug)]
pub struct Folder {
    path: PathBuf,
    force: bool,
}

impl Folder {
    /// Opens a folder before the long work: makes it where it is missing, and sees that
    /// it can be written to and that none of `names` is there already.
    ///
    /// # Errors
    /// When it cannot be made or written to, or a file is there and `force` is not set.
    pub fn open(path: &Path, force: bool, names: &[&str]) -> Result<Self> {
        let shown = path.display();
        if path.is_file() {
            bail!("{shown} is a file; allowed: the name of a folder, which is made where missing");
        }
        fs::create_dir_all(path).with_context(|| format!("the folder {shown} cannot be made"))?;
        let held = hold();
        tempfile::NamedTempFile::new_in(path)
            .with_context(|| format!("the folder {shown} cannot be written to"))?;
        drop(held);
        let folder = Self { path: path.into(), force };
        for name in names {
            folder.free(name)?;
        }
        Ok(folder)
    }

    fn free(&self, name: &str) -> Result<()> {
        let target = self.path.join(name);
        if !self.force && fs::symlink_metadata(&target).is_ok() {
            bail!("{} is there already; --force overwrites it", target.display());
        }
        Ok(())
    }

    /// Writes one file whole, by way of a temporary one beside it.
    ///
    /// # Errors
    /// When it cannot be written, or has come to be there meanwhile.
    pub fn write(&self, name: &str, content: &str) -> Result<PathBuf> {
        let target = self.path.join(name);
        let shown = target.display().to_string();
        let failed = || format!("{shown} cannot be written");
        #[cfg_attr(not(unix), expect(unused_mut))]
        let mut file = tempfile::Builder::new();
        #[cfg(unix)]
        {
            // A temporary file is the owner's alone; what is kept is an ordinary file.
            use std::os::unix::fs::PermissionsExt;
            file.permissions(fs::Permissions::from_mode(0o666));
        }
        let _held = hold();
        let mut file = file.tempfile_in(&self.path).with_context(failed)?;
        file.write_all(content.as_bytes()).with_context(failed)?;
        file.as_file().sync_all().with_context(failed)?;
        if self.force {
            file.persist(&target).map_err(|e| e.error).with_context(failed)?;
        } else {
            file.persist_noclobber(&target).map_err(|e| e.error).with_context(failed)?;
        }
        Ok(target)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_overwritten_unasked() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("deep").join("er");
        let folder = Folder::open(&path, false, &["a.svg"]).unwrap();
        folder.write("a.svg", "one").unwrap();
        assert!(Folder::open(&path, false, &["a.svg"]).is_err());
        assert!(folder.write("a.svg", "two").is_err());
        assert_eq!(fs::read_to_string(path.join("a.svg")).unwrap(), "one");
        let forced = Folder::open(&path, true, &["a.svg"]).unwrap();
        forced.write("a.svg", "two").unwrap();
        assert_eq!(fs::read_to_string(path.join("a.svg")).unwrap(), "two");
        assert_eq!(fs::read_dir(&path).unwrap().count(), 1, "no half file is left");
        assert!(Folder::open(&path.join("a.svg"), false, &[]).is_err(), "a file is no folder");
    }

    #[test]
    fn a_folder_that_goes_between_the_start_and_the_end_of_the_work() {
        let dir = tempfile::tempdir().unwrap();
        let gone = dir.path().join("gone");
        let folder = Folder::open(&gone, true, &["a.svg"]).unwrap();
        fs::remove_dir(&gone).unwrap();
        let why = folder.write("a.svg", "one").unwrap_err();
        assert!(why.to_string().contains("cannot be written"), "{why}");
        assert!(!gone.exists());
    }
}
