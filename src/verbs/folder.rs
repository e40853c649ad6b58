//! The folder of --out.

use crate::cli::How;
use crate::files::Folder;
use restbite::sheet::plots::Plot;

/// A folder asked for in vain is said, not passed over.
pub fn no_plots(how: &How, why: &str) -> anyhow::Result<()> {
    anyhow::ensure!(how.out.is_none(), "{why}; leave --out away");
    Ok(())
}

/// Opens the folder of --out before the long work, for plots of these names.
pub fn open_folder(how: &How, names: &[&str]) -> anyhow::Result<Option<Folder>> {
    let Some(path) = &how.out else {
        return Ok(None);
    };
    let names: Vec<String> = names.iter().map(|name| file_name(name)).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    Folder::open(path, how.force, &names).map(Some)
}

/// A plot's file; what has an ending already keeps it.
pub fn file_name(name: &str) -> String {
    if name.contains('.') { name.into() } else { format!("{name}.svg") }
}

/// Writes plots into a folder.
pub fn write(folder: &Folder, plots: &[Plot]) -> anyhow::Result<()> {
    for plot in plots {
        folder.write(&file_name(plot.name), &plot.svg)?;
    }
    Ok(())
}
