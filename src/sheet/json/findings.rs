//! The `findings` of an answer.

use crate::advice::{Finding, Plan, word};
use crate::units::say::System;
use serde_json::{Value, json};

/// The findings of a plan.
pub fn findings(plan: &Plan, units: System) -> Value {
    plan.findings.iter().map(|f| finding(f, units)).collect()
}

pub fn finding(finding: &Finding, units: System) -> Value {
    json!({
        "code": finding.code(),
        "level": finding.level().word(),
        "text": word(finding, units),
    })
}
