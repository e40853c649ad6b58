//! Demo jobs, changed here and there, as resolved setups.

use restbite::job::resolve::{self, Resolved};
use restbite::job::{Checked, Job, Needs, Written, read};
use restbite::stock::Stock;

/// A job from its text, with keys set anew.
pub fn checked(text: &str, sets: &[&str]) -> Job {
    let sets: Vec<String> = sets.iter().map(|s| (*s).to_string()).collect();
    let written = Written { text, name: "job", sets: &sets, ..Written::default() };
    match read(&written, &Stock::builtin().unwrap(), Needs::Source) {
        Ok(Checked::Job(job)) => *job,
        other => panic!("{other:?}"),
    }
}

/// Resolved with its own source.
pub fn resolved(job: &Job) -> Resolved {
    let stock = Stock::builtin().unwrap();
    resolve::resolved(job, job.source.as_ref().unwrap(), &stock).unwrap()
}

/// A demo job resolved, with keys set anew.
pub fn demo(name: &str, sets: &[&str]) -> Resolved {
    resolved(&checked(&text(name), sets))
}

/// The same without its `[source]`.
pub fn without_source(name: &str, sets: &[&str]) -> Resolved {
    let text = text(name);
    let (before, rest) = text.split_once("[source]").unwrap();
    let (_, after) = rest.split_once("\n[").unwrap();
    resolved(&checked(&format!("{before}[{after}"), sets))
}

fn text(name: &str) -> String {
    let folder = super::common::root().join("data-demo");
    std::fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap()
}
