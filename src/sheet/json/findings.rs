//! The `findings` of an answer.

use crate::advice::{Finding, Level};
use crate::job::Refused;
use crate::sheet::words::findings::word;
use crate::units::say::System;
use serde_json::{Value, json};

/// Findings, in their order.
pub fn findings(list: &[Finding], units: System) -> Value {
    let one = |f: &Finding| json!({ "code": f.code(), "level": f.level().word(), "text": word(f, units) });
    list.iter().map(one).collect()
}

/// What forbids a job, as a finding.
pub fn barred(why: &Refused) -> Value {
    json!({ "code": why.code, "level": Level::Stop.word(), "text": why.text })
}
