//! What is wrong with a job, each complaint with its place, what was found and what is
//! allowed.

use std::cell::RefCell;
use std::fmt;

/// Where a value was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// In the file, line and column counted from one.
    File {
        /// Name as the user gave it.
        name: String,
        /// Line.
        line: usize,
        /// Column in characters.
        column: usize,
    },
    /// On the command line.
    Set(String),
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File { name, line, column } => write!(f, "{name}:{line}:{column}"),
            Self::Set(key) if key.is_empty() => write!(f, "--set"),
            Self::Set(key) => write!(f, "--set {key}"),
        }
    }
}

/// One complaint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Complaint {
    /// Where.
    pub place: Place,
    /// Key, such as `piece.depth`; empty when the file as a whole is meant.
    pub key: String,
    /// What is wrong, and what is allowed.
    pub text: String,
}

impl fmt::Display for Complaint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", self.place)?;
        let said = matches!(&self.place, Place::Set(key) if *key == self.key);
        if !self.key.is_empty() && !said {
            write!(f, "{}: ", self.key)?;
        }
        write!(f, "{}", self.text)
    }
}

/// Everything that is wrong with a job, in the order of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Complaints(pub Vec<Complaint>);

impl fmt::Display for Complaints {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, complaint) in self.0.iter().take(SHOWN).enumerate() {
            if i > 0 {
                writeln!(f)?;
            }
            write!(f, "{complaint}")?;
        }
        if self.0.len() > SHOWN {
            write!(f, "\nand more; put these right first")?;
        }
        Ok(())
    }
}

impl std::error::Error for Complaints {}

/// Complaints that are printed at most.
const SHOWN: usize = 50;
/// Complaints that are kept at most.
const KEPT: usize = 1000;

/// Collects complaints while a job is read.
#[derive(Debug, Default)]
pub struct Ledger {
    list: RefCell<Vec<Complaint>>,
    /// Full names of the keys that may stand in the tables read so far.
    keys: RefCell<Vec<String>>,
}

impl Ledger {
    /// Adds one.
    pub fn add(&self, place: &Place, key: impl Into<String>, text: impl Into<String>) {
        let complaint = Complaint { place: place.clone(), key: key.into(), text: text.into() };
        let mut list = self.list.borrow_mut();
        if list.len() < KEPT {
            list.push(complaint);
        }
    }

    /// Remembers the keys that a table may hold.
    pub fn know(&self, keys: impl Iterator<Item = String>) {
        self.keys.borrow_mut().extend(keys);
    }

    /// Full names of a key that stands without its table.
    pub fn within_tables(&self, key: &str) -> Vec<String> {
        let mut found: Vec<String> = Vec::new();
        for full in self.keys.borrow().iter() {
            let last = full.rsplit_once('.').map(|(_, last)| last);
            if last == Some(key) && !found.contains(full) {
                found.push(full.clone());
            }
        }
        found
    }

    /// How many so far.
    pub fn len(&self) -> usize {
        self.list.borrow().len()
    }

    /// The value when nothing was complained of.
    ///
    /// # Errors
    /// All complaints, in the order of their places.
    pub fn settle<T>(self, value: Option<T>, place: &Place) -> Result<T, Complaints> {
        let mut list = self.list.into_inner();
        list.sort_by_key(|c| match &c.place {
            Place::File { line, column, .. } => (0, *line, *column),
            Place::Set(_) => (1, 0, 0),
        });
        list.dedup();
        match value {
            Some(value) if list.is_empty() => Ok(value),
            _ => {
                if list.is_empty() {
                    // Only a fault of ours could leave a job unread without a complaint.
                    list.push(Complaint {
                        place: place.clone(),
                        key: String::new(),
                        text: "the job could not be read".into(),
                    });
                }
                Err(Complaints(list))
            }
        }
    }
}
