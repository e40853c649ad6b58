//! Wrong jobs: each file of `bad_jobs/` is refused with exit code 2, nothing on standard
//! output, and the message stored beside it. `RESTBITE_BLESS=1` stores them anew: read
//! them, as the person would who wrote the job.

mod common;

use std::path::PathBuf;

fn jobs() -> Vec<PathBuf> {
    let folder = common::root().join("tests/bad_jobs");
    let mut list: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    list.sort();
    list
}

#[test]
fn every_wrong_job_is_refused_with_its_message() {
    let jobs = jobs();
    assert!(jobs.len() >= 80, "only {} jobs", jobs.len());
    let mut faults = Vec::new();
    for path in jobs {
        let folder = path.parent().expect("a folder");
        let name = path.file_name().and_then(|n| n.to_str()).expect("a name");
        let out = common::restbite_in(folder, &["plan", name], "");
        let message = String::from_utf8_lossy(&out.stderr);
        if out.status.code() != Some(2) || !out.stdout.is_empty() || message.trim().is_empty() {
            faults.push(format!("{name}: answered with {:?}: {message}", out.status.code()));
            continue;
        }
        if message.contains("panicked") {
            faults.push(format!("{name}: {message}"));
        }
        if let Err(fault) = common::snapshot(&path.with_extension("txt"), &message) {
            faults.push(fault);
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n\n"));
}
