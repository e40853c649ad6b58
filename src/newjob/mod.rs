//! A new job file, from a few answers; and a log to fill in.
//!
//! Each answer is checked at once by the very reader of job files, over the answers so far,
//! so what is allowed is written in one place only.

mod log;
mod page;
mod questions;

pub use log::{log_csv, log_toml};
pub use questions::Question;

use crate::job::{self, Files, Written, bench};
use crate::stock::Stock;
use crate::units::say::figures;
use crate::units::{Outline, Quantity, parse_outline};
use page::toml_value;
use questions::{QUESTIONS, plain_defaults};

/// Most characters of an answer.
const LONGEST: usize = 200;
/// How deep a bath is offered for a pan: the gap and the sheet, and as much again.
const BATH_DEPTH_M: f64 = 46.7e-3;

/// What is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum About {
    /// A whole job.
    Whole,
    /// The piece alone: a bench file says the rest.
    Piece,
    /// The bench, for all pieces.
    Bench,
}

/// A job in the making.
pub struct Answers<'a> {
    about: About,
    stock: &'a Stock,
    files: Files<'a>,
    /// Key, and the value as TOML writes it.
    given: Vec<(&'static str, String)>,
}

impl<'a> Answers<'a> {
    /// None yet; `files` are those beside the job file to be, such as a picture. Where a bench file
    /// is among them, only the piece is asked for.
    pub fn new(stock: &'a Stock, files: Files<'a>) -> Self {
        let about = if bench::is_there(files) { About::Piece } else { About::Whole };
        Self { about, stock, files, given: Vec::new() }
    }

    /// The same for a bench file, whatever bench there is already.
    pub fn of_bench(stock: &'a Stock, files: Files<'a>) -> Self {
        let files = Files { beside: false, settings: None, ..files };
        Self { about: About::Bench, stock, files, given: Vec::new() }
    }

    /// The value of a key as TOML writes it.
    fn value(&self, key: &str) -> Option<&str> {
        self.given.iter().find(|(k, _)| *k == key).map(|(_, v)| v.as_str())
    }

    /// The value of a key whose value is a text.
    fn text_of(&self, key: &str) -> Option<String> {
        let table: toml::Table = format!("v = {}", self.value(key)?).parse().ok()?;
        table.get("v")?.as_str().map(str::to_string)
    }

    /// The next question; none when all that is needed is answered.
    pub fn next(&self) -> Option<&'static Question> {
        let kind = self.text_of("source.kind").map(|k| k.trim().to_lowercase());
        QUESTIONS.iter().find(|q| {
            let asked = self.value(q.key).is_some()
                || (q.key == "piece.exposed" && self.value("piece.artwork").is_some());
            let wanted = match q.only {
                None => true,
                Some("picture") => self.value("piece.artwork").is_some(),
                Some(only) => kind.as_deref() == Some(only),
            };
            let of_piece = q.key == "title" || q.key.starts_with("piece.");
            let meant = match self.about {
                About::Whole => true,
                About::Piece => of_piece,
                About::Bench => !of_piece,
            };
            wanted && meant && !asked
        })
    }

    /// What an empty line means: the first of the defaults that fits the answers so far.
    /// None where no default fits.
    pub fn default(&self, question: &Question) -> Option<String> {
        let list = match question.key {
            "piece.artwork_width" => self.sheet_width().into_iter().collect(),
            "bath.volume" => self.pan_full().into_iter().collect(),
            key => plain_defaults(key).iter().map(|d| (*d).to_string()).collect::<Vec<_>>(),
        };
        list.into_iter().find(|text| self.check(question, text).is_ok())
    }

    /// The sheet's own width: the picture is as wide as the sheet.
    fn sheet_width(&self) -> Option<String> {
        let width = match parse_outline(&self.text_of("piece.outline")?).ok()? {
            Outline::Rectangle(a, _) | Outline::Disc(a) => a,
            Outline::Area(_) => return None,
        };
        Some(format!("{} mm", figures(width.si() * 1e3, 4)))
    }

    /// Bath enough for the pan.
    fn pan_full(&self) -> Option<String> {
        let pan = parse_outline(&self.text_of("bath.pan")?).ok()?;
        Some(format!("{} mL", figures(pan.area_m2() * BATH_DEPTH_M * 1e6, 2)))
    }

    /// Takes an answer.
    ///
    /// # Errors
    /// What was found and what is allowed, in the words of the job file's own checks.
    pub fn answer(&mut self, question: &Question, text: &str) -> Result<(), String> {
        let (key, value) = self.check(question, text)?;
        self.given.push((key, value));
        Ok(())
    }

    /// The key and value that an answer gives, when they may stand.
    fn check(&self, question: &Question, text: &str) -> Result<(&'static str, String), String> {
        let text = text.trim();
        if text.chars().count() > LONGEST {
            return Err(format!("too long; allowed: {LONGEST} characters at most"));
        }
        let picture = question.key == "piece.exposed" && text.to_lowercase().ends_with(".png");
        let key = if picture { "piece.artwork" } else { question.key };
        let value = toml_value(key, text);
        let mut all = self.given.clone();
        all.push((key, value.clone()));
        self.complaint(&all).map_or(Ok((key, value)), Err)
    }

    /// What the reader of job files has against answers, if anything.
    fn complaint(&self, all: &[(&'static str, String)]) -> Option<String> {
        let given = |key: &str| all.iter().any(|(k, _)| *k == key);
        let filled = FILLERS
            .iter()
            .filter(|f| f.beside.is_none_or(given) && !given(f.key))
            .map(|f| (f.key, toml_value(f.key, f.is)));
        let sets: Vec<String> = all
            .iter()
            .cloned()
            .chain(filled)
            .map(|(key, value)| format!("{key}={value}"))
            .collect();
        let job = job::read(&self.written("", &sets), self.stock, job::Needs::Nothing);
        // What is missing has not been asked yet. A sheet that no gap would cover is the fault
        // of the pan or of the volume.
        let minds = |key: &str| given(key) || (key == "bath.gap" && given("bath.pan"));
        let complaints = job.err()?.0;
        complaints.into_iter().find(|c| minds(&c.key)).map(|c| c.text)
    }

    fn written<'s>(&'s self, text: &'s str, sets: &'s [String]) -> Written<'s> {
        Written { text, name: "the new job", files: self.files, sets }
    }

    /// The commented job file.
    ///
    /// # Errors
    /// Complaints where the answers make no job together, which asking for all of them
    /// rules out.
    pub fn file(&self) -> Result<String, job::Complaints> {
        if self.about == About::Bench {
            let text = page::bench_file(|key| self.value(key));
            // With a piece as it may be in any pan.
            let piece =
                FILLERS_OF_A_PIECE.map(|(key, is)| format!("{key}={}", toml_value(key, is)));
            job::read(&self.written(&text, &piece), self.stock, job::Needs::Source)?;
            return Ok(text);
        }
        let text = match self.about {
            About::Piece => page::piece_file(|key| self.value(key)),
            _ => page::job_file(|key| self.value(key)),
        };
        // What a bench file lacks of a source is no fault of this one.
        let needs =
            if self.about == About::Piece { job::Needs::Nothing } else { job::Needs::Source };
        job::read(&self.written(&text, &[]), self.stock, needs)?;
        Ok(text)
    }
}

/// A value that stands in for one not yet given, chosen to contradict nothing, so that the
/// checks across keys can be made as early as may be.
struct Filler {
    key: &'static str,
    is: &'static str,
    /// Only once this key is given.
    beside: Option<&'static str>,
}

/// A piece that lies in any pan and goes with any bath.
const FILLERS_OF_A_PIECE: [(&str, &str); 5] = [
    ("piece.metal", "copper"),
    ("piece.outline", "1 mm x 1 mm"),
    ("piece.exposed", "50 %"),
    ("piece.thickness", "0.05 mm"),
    ("piece.depth", "0.001 mm"),
];

const FILLERS: [Filler; 8] = [
    Filler { key: "piece.thickness", is: "20 mm", beside: None },
    Filler { key: "piece.depth", is: "0.001 mm", beside: None },
    Filler { key: "piece.artwork_width", is: "1 mm", beside: Some("piece.artwork") },
    Filler { key: "bath.concentration", is: "0.5 mol/L", beside: Some("bath.electrolyte") },
    Filler { key: "bath.volume", is: "200 L", beside: Some("bath.pan") },
    Filler { key: "bath.gap", is: "0.5 mm", beside: Some("bath.pan") },
    Filler { key: "source.rated_current", is: "1 A", beside: Some("source.rated_voltage") },
    Filler { key: "leads.length", is: "45 cm", beside: Some("leads.wire") },
];

#[cfg(test)]
mod tests;
