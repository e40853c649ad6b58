//! Text from a file or from standard input, whole and not too long.

use anyhow::{Context, anyhow};
use restbite::job;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The job's text, whole and not too long, and its name in messages.
pub fn read_text(path: &Path) -> anyhow::Result<(String, String)> {
    let standard_input = path.as_os_str() == "-";
    let name =
        if standard_input { "standard input".to_string() } else { path.display().to_string() };
    let mut bytes = Vec::new();
    let limit = job::LONGEST + 1;
    let read = if standard_input {
        std::io::stdin().take(limit).read_to_end(&mut bytes)
    } else {
        File::open(path).and_then(|file| file.take(limit).read_to_end(&mut bytes))
    };
    read.with_context(|| format!("{name}: the job cannot be read"))?;
    if bytes.len() as u64 > job::LONGEST {
        return Err(anyhow!("{name}: too long for a job; allowed: 1 MiB at most"));
    }
    let text = String::from_utf8(bytes).map_err(|e| {
        let before = &e.as_bytes()[..e.utf8_error().valid_up_to()];
        let line = before.iter().filter(|b| **b == b'\n').count() + 1;
        anyhow!("{name}:{line}: not UTF-8 text; save the job as UTF-8")
    })?;
    Ok((text, name))
}
