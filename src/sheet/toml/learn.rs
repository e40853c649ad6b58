//! `workshop.toml`: what was learned, as a file that any job can name.

use crate::advice::learn::{Factor, Learning};
use crate::job::log::{Log, LogRun};
use toml::Value;

/// The name of the file.
pub const NAME: &str = "workshop.toml";

const HEAD: &str = "\
# What measured runs have taught about this bench, written by `restbite learn`. A job uses it
# with the line
#   profile = \"workshop.toml\"
# at its top. Each factor stands on the value that the job or the stock gives; sd is one
# standard deviation of its logarithm, prior_sd the one before anything was learned (as a
# share), and correlation tells how it hangs together with the factors before it. A factor of
# a cell, a holder, a salt, a metal or a drawing holds for that one alone. A job's own
# [spread] of a key outweighs what stands here.
";

/// The file's text.
pub fn to_toml(log: &Log, learning: &Learning) -> String {
    let mut text = format!("{HEAD}\ntitle = {}\n", quoted(&log.title));
    for (n, run) in log.runs.iter().enumerate() {
        text += &of_run(run, learning.outliers.iter().filter(|o| o.run == n).count());
    }
    for (k, factor) in learning.factors.iter().enumerate() {
        let row: Vec<String> = (0..k).map(|j| rounded(learning.correlation(k, j), 9)).collect();
        text += &of_factor(factor, &row);
    }
    text
}

fn of_run(run: &LogRun, left_out: usize) -> String {
    let date = run.date.map(|d| format!("date = {d}\n")).unwrap_or_default();
    format!(
        "\n[[run]]\nname = {}\njob = {}\n{date}readings = {}\nleft_out = {left_out}\n",
        quoted(&run.name),
        quoted(&run.file),
        run.readings.len(),
    )
}

fn of_factor(f: &Factor, row: &[String]) -> String {
    let of = match f.parameter.of.as_str() {
        "" => String::new(),
        of => format!("of = {}\n", quoted(of)),
    };
    format!(
        "\n[[factor]]\nkey = {}\n{of}value = {}\nsd = {}\nprior_sd = {}\ncorrelation = [{}]\n",
        quoted(&f.parameter.key),
        rounded(f.value, 6),
        rounded(f.ln_sd, 6),
        rounded(f.parameter.prior_sd, 6),
        row.join(", ")
    )
}

/// A text as TOML quotes it.
fn quoted(text: &str) -> String {
    Value::String(text.into()).to_string()
}

/// A number to so many places, always with a point.
fn rounded(x: f64, places: usize) -> String {
    format!("{x:.places$}")
}
