//! Which of a job's keys are from the bench file under it.

use super::stages;
use crate::advice::Case;
use crate::job::Job;
use serde_json::{Value, json};

/// Adds to an answer what not every job has: the bench file under it, its stages.
pub fn told(mut value: Value, case: &Case) -> Value {
    let job = case.job;
    if let (Some(list), Value::Object(all)) = (stages::block(case), &mut value) {
        all.insert("stages".into(), list);
    }
    if let (Some(bench), Value::Object(all)) = (block(job), &mut value) {
        all.insert("bench".into(), bench);
    }
    value
}

/// The bench file and its keys; none without one.
pub fn block(job: &Job) -> Option<Value> {
    job.bench.as_ref().map(|bench| json!({ "file": bench.file, "keys": bench.keys }))
}
