//! The commented job file: `job.toml` beside this file, with the answers put in.
//!
//! `{key|example}` is the answer to that key, `{key=value}` one of the values that it may
//! have. A line whose key was not answered, or otherwise, is written as a comment with the
//! example, so that whoever reads the file sees what else there is.

const TEMPLATE: &str = include_str!("job.toml");
const DRAWER: &str = include_str!("drawer.toml");
const BENCH_HEAD: &str = "\
# A bench file for restbite, as `restbite new --bench` wrote it: what is the same for every piece. It
# lies under each job in this folder; from the folder of settings (restbite/bench.toml there) under
# every job. A job's own keys go before it. Where you took what was offered, its numbers are invented.
";
/// Column of the notes.
const NOTES: usize = 35;

/// An answer as TOML writes it: a count bare, anything else a text.
pub fn toml_value(key: &str, text: &str) -> String {
    match text.parse::<i64>() {
        Ok(n) if key == "source.series" => n.to_string(),
        _ => toml::Value::String(text.into()).to_string(),
    }
}

/// The file; `value` gives an answer as TOML writes it.
pub fn job_file<'v>(value: impl Fn(&str) -> Option<&'v str>) -> String {
    let mut text = String::new();
    for line in TEMPLATE.lines() {
        text += filled(line, &value).trim_end();
        text.push('\n');
    }
    text
}

/// The part of it that is about the piece.
pub fn piece_file<'v>(value: impl Fn(&str) -> Option<&'v str>) -> String {
    let all = job_file(value);
    let piece = all.split("\n[bath]").next().unwrap_or_default();
    format!("{}\n", piece.trim_end())
}

/// The part of it that is about the bench, and what may lie in its drawer.
pub fn bench_file<'v>(value: impl Fn(&str) -> Option<&'v str>) -> String {
    let all = job_file(value);
    let bench = all.split_once("\n[bath]").map_or("", |(_, bench)| bench);
    format!("{BENCH_HEAD}\n[bath]{}\n{DRAWER}", bench.trim_end())
}

/// A line with its answer in place.
fn filled<'v>(line: &str, value: &impl Fn(&str) -> Option<&'v str>) -> String {
    let parts = line.split_once(" = {").and_then(|(key, rest)| {
        let (what, note) = rest.split_once('}')?;
        Some((key, what, note.trim()))
    });
    let Some((key, what, note)) = parts else {
        return line.into();
    };
    let (mark, written) = if let Some((full, example)) = what.split_once('|') {
        match value(full) {
            Some(answer) => ("", answer.to_string()),
            None => ("# ", toml_value(full, example)),
        }
    } else {
        let (full, this) = what.split_once('=').unwrap_or((what, ""));
        let chosen = value(full).is_some_and(|v| v.trim_matches('"').eq_ignore_ascii_case(this));
        (if chosen { "" } else { "# " }, toml_value(full, this))
    };
    let set = format!("{mark}{key} = {written}");
    if note.is_empty() {
        set
    } else {
        format!("{set:<width$}{note}", width = NOTES.max(set.chars().count() + 2))
    }
}
