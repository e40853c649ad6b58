//! A page of text on the terminal: labels beside wrapped lines, tables, findings.

use crate::advice::{Finding, Level};
use crate::sheet::words::findings::word;
use crate::sheet::words::typeset::{JOINED, together};
use crate::units::say::System;
use anstyle::{AnsiColor, Style};
use std::fmt::Write;

/// Width of the page in characters.
pub const WIDTH: usize = 79;
/// Width of the labels' column.
const LABEL: usize = 10;
/// Lines of the page so far. (Writing to a String does not fail.)
#[derive(Default)]
pub struct Page {
    /// The page.
    pub text: String,
}

impl Page {
    /// An empty line.
    pub fn blank(&mut self) {
        self.text.push('\n');
    }

    /// The title.
    pub fn title(&mut self, text: &str) {
        let style = Style::new().bold().underline();
        for line in textwrap::wrap(text, WIDTH) {
            let _ = writeln!(self.text, "{style}{line}{style:#}");
        }
    }

    /// Lines across the whole page.
    pub fn lines(&mut self, text: &str) {
        for line in textwrap::wrap(&together(text), WIDTH) {
            let _ = writeln!(self.text, "{}", line.replace(JOINED, " "));
        }
    }

    /// A label and its text, wrapped beside it.
    pub fn row(&mut self, label: &str, text: &str) {
        self.styled(label, Style::new().bold(), text);
    }

    fn styled(&mut self, label: &str, style: Style, text: &str) {
        let options = textwrap::Options::new(WIDTH - LABEL).break_words(true);
        for (n, line) in textwrap::wrap(&together(text), options).iter().enumerate() {
            let label = if n == 0 { label } else { "" };
            let line = line.replace(JOINED, " ");
            let _ = writeln!(self.text, "{style}{label:<LABEL$}{style:#}{line}");
        }
    }

    /// A finding under its level.
    pub fn finding(&mut self, finding: &Finding, units: System) {
        self.under(finding.level(), &word(finding, units));
    }

    fn under(&mut self, level: Level, text: &str) {
        let (label, colour) = match level {
            Level::Stop => ("STOP", AnsiColor::Red),
            Level::Caution => ("Caution", AnsiColor::Yellow),
            Level::Note => ("Note", AnsiColor::Cyan),
        };
        self.styled(label, colour.on_default().bold(), text);
    }

    /// What forbids a job.
    pub fn barred(&mut self, text: &str) {
        self.under(Level::Stop, text);
    }

    /// A table: heads over columns, the first column to the left, the others to the right.
    pub fn table(&mut self, heads: &[&str], rows: &[Vec<String>]) {
        self.table_from(heads, rows, 1);
    }

    /// A table whose first `words` columns go to the left.
    pub fn table_from(&mut self, heads: &[&str], rows: &[Vec<String>], words: usize) {
        let width = |n: usize| {
            let cells = rows.iter().filter_map(|r| r.get(n)).map(|c| c.chars().count());
            cells.chain([heads[n].chars().count()]).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..heads.len()).map(width).collect();
        let line = |cells: Vec<&str>| {
            let padded = cells.iter().zip(&widths).enumerate().map(|(n, (cell, w))| {
                if n < words { format!("{cell:<w$}") } else { format!("{cell:>w$}") }
            });
            padded.collect::<Vec<_>>().join("  ").trim_end().to_string()
        };
        let style = Style::new().bold();
        let _ = writeln!(self.text, "{style}{}{style:#}", line(heads.to_vec()));
        for row in rows {
            let _ = writeln!(self.text, "{}", line(row.iter().map(String::as_str).collect()));
        }
    }
}
