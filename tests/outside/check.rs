//! One check against the outside, and how a list of them becomes a page.

use std::fmt::Write;

/// How we know what is expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// Seen in a published page, table or data file.
    Read,
    /// Mathematics: a closed form or a defined constant.
    Exact,
    /// Worked out by us, independently of the tool, from what the source says.
    Computed,
    /// Solved in this suite while it runs.
    Here,
    /// Recalled, not read.
    Memory,
    /// Common practice, no published source.
    Practice,
}

/// What is expected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Expected {
    /// This value.
    Value(f64),
    /// Anything from the first to the second.
    Between(f64, f64),
    /// This or more.
    AtLeast(f64),
}

/// How far off it may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tolerance {
    /// Share of the expected value.
    Relative(f64),
    /// In the check's unit.
    Absolute(f64),
    /// Not at all: the expectation is a range.
    Within,
    /// Printed beside the others, asked for nothing.
    Shown,
}

/// One check.
#[derive(Debug, Clone)]
pub struct Check {
    /// What it is about; groups the page.
    pub subject: &'static str,
    /// What is checked.
    pub what: String,
    /// Where the expected value is from.
    pub source: String,
    /// How we know it.
    pub known: Known,
    /// The value.
    pub expected: Expected,
    /// What this project gives.
    pub got: f64,
    /// Unit of both.
    pub unit: &'static str,
    /// How far off it may be.
    pub tolerance: Tolerance,
    /// Why that much.
    pub why: String,
}

/// What a row of checks has in common.
#[derive(Debug, Clone, Copy)]
pub struct Basis {
    /// What they are about.
    pub subject: &'static str,
    /// Where the expected values are from.
    pub source: &'static str,
    /// How we know them.
    pub known: Known,
    /// Unit.
    pub unit: &'static str,
    /// How far off they may be.
    pub tolerance: Tolerance,
    /// Why that much.
    pub why: &'static str,
}

impl Basis {
    /// A check of one value.
    pub fn value(&self, what: impl Into<String>, expected: f64, got: f64) -> Check {
        self.check(what, Expected::Value(expected), got)
    }

    /// A check of one expectation.
    pub fn check(&self, what: impl Into<String>, expected: Expected, got: f64) -> Check {
        Check {
            subject: self.subject,
            what: what.into(),
            source: self.source.into(),
            known: self.known,
            expected,
            got,
            unit: self.unit,
            tolerance: self.tolerance,
            why: self.why.into(),
        }
    }
}

/// Below this share of the expected value the page does not tell how far off it is:
/// machines differ in their last digits.
const SMALL: f64 = 1e-6;

impl Check {
    /// Signed distance from what is expected; 0 inside a range.
    fn distance(&self) -> f64 {
        match self.expected {
            Expected::Value(x) => self.got - x,
            Expected::Between(low, high) => self.got - self.got.clamp(low, high),
            Expected::AtLeast(low) => (self.got - low).min(0.0),
        }
    }

    /// Size of what is expected, for relative figures.
    fn scale(&self) -> f64 {
        match self.expected {
            Expected::Value(x) | Expected::AtLeast(x) => x.abs(),
            Expected::Between(low, high) => 0.5 * (low.abs() + high.abs()),
        }
    }

    /// Whether it holds.
    pub fn holds(&self) -> bool {
        let off = self.distance().abs();
        self.got.is_finite()
            && match self.tolerance {
                Tolerance::Relative(share) => off <= share * self.scale(),
                Tolerance::Absolute(most) => off <= most,
                Tolerance::Within => off == 0.0,
                Tolerance::Shown => true,
            }
    }

    fn with_unit(&self, text: &str) -> String {
        if self.unit.is_empty() { text.to_string() } else { format!("{text} {}", self.unit) }
    }

    /// A number as the page says it; what is nothing beside the tolerance is nothing.
    fn said(&self, x: f64, digits: usize) -> String {
        match self.tolerance {
            Tolerance::Absolute(most) if x.abs() < 1e-3 * most => "0".into(),
            _ => rounded(x, digits),
        }
    }

    fn expected_text(&self) -> String {
        self.with_unit(&match self.expected {
            Expected::Value(x) => self.said(x, 6),
            Expected::Between(low, high) => {
                format!("{} to {}", rounded(low, 4), rounded(high, 4))
            }
            Expected::AtLeast(low) => format!("at least {}", rounded(low, 4)),
        })
    }

    fn off_text(&self) -> String {
        let (off, scale) = (self.distance(), self.scale());
        let sign = if off < 0.0 { "-" } else { "+" };
        match self.tolerance {
            Tolerance::Within if off == 0.0 => "within".into(),
            _ if off == 0.0 && matches!(self.expected, Expected::AtLeast(_)) => "above".into(),
            Tolerance::Within => "outside".into(),
            Tolerance::Absolute(_) if off.abs() < SMALL * scale => "0".into(),
            Tolerance::Absolute(_) => match self.said(off.abs(), 2).as_str() {
                "0" => "0".into(),
                text => self.with_unit(&format!("{sign}{text}")),
            },
            _ if off.abs() < SMALL * scale => "under 0.0001 %".into(),
            _ => format!("{sign}{} %", rounded(100.0 * off.abs() / scale, 2)),
        }
    }

    fn tolerance_text(&self) -> String {
        match self.tolerance {
            Tolerance::Relative(share) => format!("{} %", rounded(100.0 * share, 3)),
            Tolerance::Absolute(most) => self.with_unit(&rounded(most, 3)),
            Tolerance::Within => "the range".into(),
            Tolerance::Shown => "none".into(),
        }
    }

    fn source_text(&self) -> String {
        match self.known {
            Known::Read | Known::Exact | Known::Here => self.source.clone(),
            Known::Computed => format!("{}; worked out by us", self.source),
            Known::Memory if self.source.contains("recalled") => self.source.clone(),
            Known::Memory => format!("{}; from memory", self.source),
            Known::Practice => "common practice, no published source".into(),
        }
    }
}

/// A number to `digits` significant digits, without noise behind them.
pub fn rounded(x: f64, digits: usize) -> String {
    if x == 0.0 {
        return "0".into();
    }
    let size = x.abs().log10().floor() as i32;
    let text = if (-4..7).contains(&size) {
        let places = (digits as i32 - 1 - size).max(0) as usize;
        format!("{x:.places$}")
    } else {
        let text = format!("{x:.*e}", digits - 1);
        let (mantissa, power) = text.split_once('e').expect("scientific");
        return format!("{}e{power}", trimmed(mantissa));
    };
    trimmed(&text)
}

fn trimmed(text: &str) -> String {
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_string(),
        false => text.to_string(),
    }
}

/// Stops the test with every check that does not hold.
pub fn assert_all(checks: &[Check]) {
    assert!(!checks.is_empty());
    let faults: Vec<String> = checks
        .iter()
        .filter(|c| !c.holds())
        .map(|c| {
            let (want, got) = (c.expected_text(), rounded(c.got, 6));
            let (off, most) = (c.off_text(), c.tolerance_text());
            format!("{}: {}: {want}, got {got}, off {off}, allowed {most}", c.subject, c.what)
        })
        .collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

/// The table of one subject.
pub fn table(checks: &[Check]) -> String {
    let mut page = String::from(
        "| what | source | expected | got | off | tolerance | why |\n\
         | --- | --- | --- | --- | --- | --- | --- |\n",
    );
    for c in checks {
        let row = [
            c.what.clone(),
            c.source_text(),
            c.expected_text(),
            c.with_unit(&c.said(c.got, 6)),
            c.off_text(),
            c.tolerance_text(),
            c.why.clone(),
        ];
        let row = row.map(|cell| cell.replace('|', "\\|"));
        let _ = writeln!(page, "| {} |", row.join(" | "));
    }
    page
}
