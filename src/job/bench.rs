//! The user's bench under every job: `bench.toml` beside the job, else in the folder of settings.
//!
//! Bath, leads, room, limits and the like are the bench's and stand there once; a job's own keys
//! win, one by one. A job's own `[source]` stands in place of the bench's whole, for a key of one
//! kind of source means nothing to another.

use super::file::Files;
use crate::reader::tree::{Item, Node, Table, parse};
use crate::reader::{Complaint, Complaints, Place, quoted, short};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Its name.
pub const FILE: &str = "bench.toml";
/// What it may hold.
const TABLES: [&str; 8] =
    ["bath", "source", "leads", "room", "limits", "session", "profile", "drawer"];
/// What was measured on one bottle says nothing about another salt.
const OF_THE_SALT: [&str; 4] = ["concentration", "conductivity", "dissolved_silver", "ph"];
/// Nor does its conductivity about another strength.
const OF_THE_STRENGTH: [&str; 1] = ["conductivity"];

/// The bench file that lies under a job, and what of the job is from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bench {
    /// Its name in messages.
    pub file: String,
    /// Keys that are from it (`bath.gap`), in the order of the file.
    pub keys: Vec<String>,
}

/// A bench file as it was read.
pub(super) struct Under {
    name: String,
    folder: PathBuf,
    table: Table,
}

/// The bench file of a job, where there is one.
///
/// # Errors
/// When there is one that cannot be read, or that holds what belongs elsewhere.
pub(super) fn find(files: Files) -> Result<Option<Under>, Complaints> {
    let beside = files.beside.then_some(files.folder);
    for folder in beside.into_iter().chain(files.settings) {
        let path = folder.join(FILE);
        if (files.open)(&path).is_err_and(|e| e.kind() == ErrorKind::NotFound) {
            continue;
        }
        let name = path.display().to_string();
        let place = Place::File { name: name.clone(), line: 1, column: 1 };
        let wrong = |place: Place, key: &str, text: String| {
            Complaints(vec![Complaint { place, key: key.into(), text }])
        };
        let (text, name) = files.text(&path).map_err(|why| wrong(place, "", why))?;
        let table = parse(text.strip_prefix('\u{feff}').unwrap_or(&text), &name)?;
        let others = table.entries.iter().filter(|(key, ..)| !TABLES.contains(&key.as_str()));
        let allowed = quoted(TABLES.into_iter());
        let text = format!("belongs in a job, not in a bench file; allowed here: {allowed}");
        let all: Vec<Complaint> = others
            .flat_map(|(key, place, _)| wrong(place.clone(), &short(key), text.clone()).0)
            .collect();
        if !all.is_empty() {
            return Err(Complaints(all));
        }
        return Ok(Some(Under { name, folder: folder.to_path_buf(), table }));
    }
    Ok(None)
}

/// Whether a bench file lies under a job with these files beside it.
pub fn is_there(files: Files) -> bool {
    let beside = files.beside.then_some(files.folder);
    beside.into_iter().chain(files.settings).any(|folder| (files.open)(&folder.join(FILE)).is_ok())
}

impl Under {
    /// Lays it under a job, whose own folder is `folder`.
    pub fn lay(self, job: &mut Table, folder: &Path) {
        let own = |key: &str| text_of(job, "bath", key);
        let differs = |key: &str| {
            let (own, benchs) = (own(key), text_of(&self.table, "bath", key));
            own.is_some() && own != benchs
        };
        let mut left: Vec<&str> = Vec::new();
        if differs("electrolyte") {
            left.extend(OF_THE_SALT);
        } else if differs("concentration") {
            left.extend(OF_THE_STRENGTH);
        }
        let staged = job.get("stage").is_some();
        for (key, place, mut item) in self.table.entries {
            if staged && key == "source" {
                continue;
            }
            if let (Node::Text(file), "profile") = (&mut item.node, key.as_str()) {
                // Named against the bench file, not against the job.
                if self.folder != folder {
                    *file = self.folder.join(&*file).display().to_string();
                }
            }
            let Some((.., at)) = job.entries.iter_mut().find(|(k, ..)| *k == key) else {
                job.entries.push((key, place, item));
                continue;
            };
            if let (Node::Table(own), Node::Table(under), false) =
                (&mut at.node, item.node, key == "source")
            {
                let missing = under.entries.into_iter().filter(|(k, ..)| {
                    own.get(k).is_none() && !(key == "bath" && left.contains(&k.as_str()))
                });
                let missing: Vec<_> = missing.collect();
                own.entries.extend(missing);
            }
        }
    }

    /// Its name in messages.
    pub fn name(&self) -> String {
        self.name.clone()
    }
}

/// What of a job is from the file of that name.
pub(super) fn used(file: String, job: &Table) -> Bench {
    let of_bench = |place: &Place| matches!(place, Place::File { name, .. } if name == &file);
    let mut keys = Vec::new();
    for (key, place, Item { node, .. }) in &job.entries {
        match node {
            Node::Table(inner) => keys.extend(
                inner
                    .entries
                    .iter()
                    .filter(|(_, place, _)| of_bench(place))
                    .map(|(inner, ..)| format!("{key}.{inner}")),
            ),
            _ if of_bench(place) => keys.push(key.clone()),
            _ => {}
        }
    }
    Bench { file, keys }
}

/// A text under a key of a table, in lower case.
fn text_of(table: &Table, of: &str, key: &str) -> Option<String> {
    match table.get(of).map(|item| &item.node) {
        Some(Node::Table(inner)) => match inner.get(key).map(|item| &item.node) {
            Some(Node::Text(text)) => Some(text.trim().to_lowercase()),
            _ => None,
        },
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn under(text: &str) -> Under {
        let table = parse(text, "bench.toml").unwrap();
        Under { name: "bench.toml".into(), folder: "/home/b".into(), table }
    }

    fn laid(bench: &str, job: &str) -> (Table, Bench) {
        let mut table = parse(job, "job.toml").unwrap();
        under(bench).lay(&mut table, Path::new("."));
        let used = used("bench.toml".into(), &table);
        (table, used)
    }

    const BENCH: &str = "profile = \"w.toml\"\n[bath]\nelectrolyte = \"copper nitrate\"\n\
                         concentration = \"0.5 mol/L\"\nconductivity = \"70 mS/cm\"\n\
                         gap = \"12 mm\"\n[source]\nkind = \"pack\"\ncell = \"LR20\"\nseries = 3\n";

    #[test]
    fn a_jobs_own_keys_win_one_by_one() {
        let (table, used) = laid(BENCH, "[bath]\ngap = \"9 mm\"\n");
        assert_eq!(text_of(&table, "bath", "gap").as_deref(), Some("9 mm"));
        assert_eq!(
            used.keys,
            [
                "bath.electrolyte",
                "bath.concentration",
                "bath.conductivity",
                "profile",
                "source.kind",
                "source.cell",
                "source.series"
            ]
        );
        assert_eq!(
            table.get("profile").unwrap().node,
            Node::Text(Path::new("/home/b").join("w.toml").display().to_string())
        );
    }

    #[test]
    fn a_source_of_the_jobs_own_replaces_the_whole() {
        let (table, used) = laid(BENCH, "[source]\nkind = \"supply\"\nvoltage = \"3 V\"\n");
        assert_eq!(text_of(&table, "source", "cell"), None);
        assert!(!used.keys.iter().any(|key| key.starts_with("source")), "{used:?}");
    }

    #[test]
    fn what_was_measured_on_one_bottle_does_not_go_with_another() {
        let (table, _) = laid(BENCH, "[bath]\nelectrolyte = \"sodium nitrate\"\n");
        assert_eq!(text_of(&table, "bath", "conductivity"), None);
        assert_eq!(text_of(&table, "bath", "concentration"), None);
        let (table, _) = laid(BENCH, "[bath]\nconcentration = \"0.3 mol/L\"\n");
        assert_eq!(text_of(&table, "bath", "conductivity"), None);
        let (table, _) = laid(BENCH, "[bath]\nelectrolyte = \"Copper nitrate\"\n");
        assert!(text_of(&table, "bath", "conductivity").is_some());
    }
}
