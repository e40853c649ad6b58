//! A workshop profile: what measured runs have taught about this bench, as factors on the
//! uncertain inputs. Written by `learn`, named by a job with `profile = "workshop.toml"`.

use super::factors::Factors;
use super::file::Files;
use crate::reader::Reader;
use crate::reader::{Complaints, Ledger, Place};
use crate::reader::{mistaken, short, tree};
use nalgebra::DMatrix;

/// Largest factor, and the inverse of the smallest, that a profile may hold.
pub const FURTHEST: f64 = 100.0;
/// Largest standard deviation of a factor's logarithm.
const WIDEST: f64 = 3.0;

/// A profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// Its file, as named.
    pub file: String,
    /// What was learned, in the order of the file.
    pub factors: Vec<Learned>,
    /// Covariance of the factors' logarithms.
    pub covariance: DMatrix<f64>,
    /// How many runs it came from.
    pub runs: usize,
}

/// One factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// Key, as under `[spread]`.
    pub key: String,
    /// What it belongs to; empty for the whole bench.
    pub of: String,
    /// Median of the factor.
    pub value: f64,
    /// Standard deviation of its logarithm.
    pub sd: f64,
}

/// The profile that a job names, if it names one.
pub(super) fn named(reader: &mut Reader, files: Files) -> Option<Profile> {
    let file = reader.text("profile", "the name of a file that `learn` wrote")?;
    let read = files.text(&files.path(&file.is));
    let read = read.and_then(|(text, name)| read_profile(&text, &name).map_err(|e| e.to_string()));
    read.map_err(|why| reader.complain("profile", why)).ok()
}

/// Reads and checks a profile.
///
/// # Errors
/// Every complaint.
pub fn read_profile(text: &str, name: &str) -> Result<Profile, Complaints> {
    let table = tree::parse(text.strip_prefix('\u{feff}').unwrap_or(text), name)?;
    let ledger = Ledger::default();
    let start = Place::File { name: name.into(), line: 1, column: 1 };
    mistaken::expect(mistaken::Kind::Profile, &table, &start)?;
    let mut reader = Reader::new(&table, start.clone(), "", &ledger);
    reader.text("title", "a text");
    reader.require("factor", "[[factor]] once for everything learned, as `learn` writes it");
    let runs = runs(&mut reader);
    let (mut factors, mut rows) = (Vec::new(), Vec::new());
    for sub in reader.tables("factor") {
        let Some((learned, row)) = factor(sub, factors.len()) else {
            continue;
        };
        factors.push(learned);
        rows.push(row);
    }
    let covariance = covariance(&factors, &rows);
    if covariance.is_none() && ledger.len() == 0 {
        reader.complain("factor", "correlations that cannot hold all at once; learn it anew");
    }
    reader.finish();
    let file = name.into();
    let profile = covariance.map(|covariance| Profile { file, factors, covariance, runs });
    ledger.settle(profile, &start)
}

/// How many runs it says that it came from.
fn runs(reader: &mut Reader) -> usize {
    let mut count = 0;
    for mut sub in reader.tables("run") {
        sub.text("name", "a text");
        sub.text("job", "the name of a job file");
        sub.dated("date", super::clock::DATE, super::clock::parse_date);
        sub.whole("readings", 0, 1_000_000);
        sub.whole("left_out", 0, 1_000_000);
        sub.finish();
        count += 1;
    }
    count
}

/// One factor, and its correlations with those before it.
fn factor(mut sub: Reader, before: usize) -> Option<(Learned, Vec<f64>)> {
    let names = "a key of [spread]";
    for (key, what) in [("key", names), ("value", "a number"), ("sd", "a number")] {
        sub.require(key, what);
    }
    let key = sub.text("key", names);
    let known = |key: &str| Factors::default().named(key).is_some();
    if let Some(wrong) = key.as_ref().filter(|k| !known(&k.is)) {
        let text = format!("found \"{}\"; allowed: {names}", short(&wrong.is));
        sub.complain("key", text);
    }
    let of = sub.text("of", "a text: what it belongs to").map_or(String::new(), |t| t.is);
    let value = sub.number("value", 1.0 / FURTHEST, FURTHEST);
    let sd = sub.number("sd", 1e-6, WIDEST);
    sub.number("prior_sd", 0.0, WIDEST);
    let row = match sub.numbers("correlation", -1.0, 1.0) {
        Some(row) if row.is.len() != before => {
            let text = format!("{} numbers; allowed: {before}, one for each factor before", {
                row.is.len()
            });
            sub.complain("correlation", text);
            return None;
        }
        Some(row) => row.is,
        None => vec![0.0; before],
    };
    sub.finish();
    Some((Learned { key: key?.is, of, value: value?.is, sd: sd?.is }, row))
}

/// Covariance of standard deviations and the lower triangle of correlations; none where no
/// such covariance can be.
fn covariance(factors: &[Learned], rows: &[Vec<f64>]) -> Option<DMatrix<f64>> {
    let n = factors.len();
    let mut matrix = DMatrix::identity(n, n);
    for (i, row) in rows.iter().enumerate() {
        for (j, r) in row.iter().enumerate() {
            matrix[(i, j)] = *r;
            matrix[(j, i)] = *r;
        }
    }
    matrix.clone().cholesky()?;
    Some(DMatrix::from_fn(n, n, |i, j| matrix[(i, j)] * factors[i].sd * factors[j].sd))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TWO: &str = "[[factor]]\nkey = \"gap\"\nvalue = 1.1\nsd = 0.1\n\
        [[factor]]\nkey = \"conductivity\"\nof = \"brine\"\nvalue = 0.9\nsd = 0.2\n";

    #[test]
    fn covariance_from_deviations_and_correlations() {
        let profile = read_profile(&format!("{TWO}correlation = [0.5]\n"), "w").unwrap();
        assert!((profile.covariance[(0, 1)] - 0.01).abs() < 1e-15);
        assert!((profile.covariance[(1, 1)] - 0.04).abs() < 1e-15);
    }

    #[test]
    fn what_cannot_be_is_told() {
        let said = |text: &str| read_profile(text, "w").unwrap_err().to_string();
        assert!(said(&format!("{TWO}correlation = [1.0]\n")).contains("cannot hold all at once"));
        assert!(said(&format!("{TWO}correlation = [0.1, 0.2]\n")).contains("one for each factor"));
        assert!(said("[[factor]]\nkey = \"gab\"\nvalue = 1\nsd = 0.1\n").contains("gab"));
        assert!(said("title = \"x\"").contains("missing"));
        assert!(said("[[factor]]\nkey = \"gap\"\nvalue = 0\nsd = 0.1\n").contains("0.01"));
    }
}
