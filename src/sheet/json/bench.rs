//! Which of a job's keys are from the bench file under it.

use crate::job::Job;
use serde_json::{Value, json};

/// Adds the bench file and its keys to an answer, where there is one.
pub fn told(mut value: Value, job: &Job) -> Value {
    if let (Some(bench), Value::Object(all)) = (block(job), &mut value) {
        all.insert("bench".into(), bench);
    }
    value
}

/// The bench file and its keys; none without one.
pub fn block(job: &Job) -> Option<Value> {
    job.bench.as_ref().map(|bench| json!({ "file": bench.file, "keys": bench.keys }))
}
