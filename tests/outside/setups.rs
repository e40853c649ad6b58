//! Demo jobs, changed here and there, as resolved setups.

use restbite::job::resolve::{Factors, resolve};
use restbite::job::{Checked, Job, Needs, Written, read};
use restbite::run::Setup;
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

/// The setup of its own source.
pub fn resolved(job: &Job) -> Setup {
    let stock = Stock::builtin().unwrap();
    resolve(job, job.source.as_ref().unwrap(), &stock, &Factors::default()).unwrap()
}

/// A demo job's setup, with keys set anew.
pub fn demo(name: &str, sets: &[&str]) -> Setup {
    let folder = super::common::root().join("data-demo");
    let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap();
    resolved(&checked(&text, sets))
}
