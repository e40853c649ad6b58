//! The day file: pieces, sources, one pair of hands and their breaks.
//!
//! A piece is a job file of its own (`job = "fern-pin.toml"`, beside the day file) or the
//! tables of one written within: `[piece.piece]`, `[piece.bath]`, `[piece.leads]` and so on,
//! under the `[[piece]]` that they belong to. Both go through the same checks as any job; a
//! `[source]` in a job is checked and then left aside, for the day has sources of its own.

use super::beside::{Beside, settle};
use super::checked::{Checked, Job};
use super::clock::{self, CLOCK, DATE, Date, parse_clock, parse_date};
use super::draft::Needs;
use super::read;
use super::refuse::Refused;
use super::source::{self, Source};
use super::written::Written;
use crate::reader::{At, Reader};
use crate::reader::{Complaints, Ledger, Place};
use crate::reader::{mistaken, short};
use crate::stock::Stock;
use crate::units::{Quantity, Time};

/// Most pieces of a day, all counts together.
pub const MOST_PIECES: u32 = 60;
/// Most sources of a day.
const MOST_SOURCES: usize = 20;
const START_S: f64 = 9.0 * 3600.0;
/// Jobs may be long; the hands' own work is not.
const LONGEST_WORK: &str = "2 h";

/// A checked day.
#[derive(Debug, Clone)]
pub struct Day {
    /// Title, for the head of the page.
    pub title: String,
    /// When it starts, s since midnight.
    pub start_s: f64,
    /// Its date, where one is given.
    pub date: Option<Date>,
    /// When there are no hands: from and to, s since the start, in order and apart.
    pub breaks: Vec<(f64, f64)>,
    /// How long the hands take.
    pub hands: HandTimes,
    /// What is to be etched.
    pub pieces: Vec<DayPiece>,
    /// What it may be etched with; empty where the drawer is to be asked.
    pub sources: Vec<DaySource>,
}

/// What the hands' work takes, s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandTimes {
    /// Hanging a piece up and wiring it.
    pub hang_up_s: f64,
    /// A look, the current off meanwhile.
    pub look_s: f64,
    /// Taking a piece down and rinsing it.
    pub take_down_s: f64,
    /// Putting a fresh charge into a pack.
    pub swap_s: f64,
}

/// One kind of piece.
#[derive(Debug, Clone)]
pub struct DayPiece {
    /// Name.
    pub name: String,
    /// Its job.
    pub job: Box<Job>,
    /// How many, one after the other in the same pan.
    pub count: u32,
}

/// One source.
#[derive(Debug, Clone)]
pub struct DaySource {
    /// Name.
    pub name: String,
    /// The source.
    pub source: Source,
    /// Fresh charges at hand, the one in it counted.
    pub charges: u32,
}

/// What came of reading a day that is well written.
#[derive(Debug, Clone)]
pub enum CheckedDay {
    /// It can be planned.
    Day(Box<Day>),
    /// A piece of it may not be etched at all: its name and the reason.
    Refused(String, Refused),
}

/// Reads and checks a day and the jobs that it names.
///
/// # Errors
/// Every complaint about the day and about its jobs.
pub fn read_day(written: &Written, stock: &Stock) -> Result<CheckedDay, Complaints> {
    let table = written.table()?;
    let ledger = Ledger::default();
    let place = Place::File { name: written.name.into(), line: 1, column: 1 };
    mistaken::expect(mistaken::Kind::Day, &table, &place)?;
    let mut reader = Reader::new(&table, place.clone(), "", &ledger);
    let mut beside = Beside::new(stock, written.files, &ledger);
    let day = beside.day(&mut reader);
    reader.finish();
    let elsewhere = beside.take_complaints();
    let refused = day.as_ref().and_then(|(_, refused)| refused.clone());
    let day = day.map(|(day, _)| day);
    let unread = ledger.len() == 0 && elsewhere.is_empty();
    if let Some((name, refused)) = refused.filter(|_| unread) {
        return Ok(CheckedDay::Refused(name, refused));
    }
    settle(ledger, elsewhere, day, &place).map(|day| CheckedDay::Day(Box::new(day)))
}

/// A piece's job, or why it is refused; none where it could not be read.
type JobRead = Option<Checked>;

impl Beside<'_> {
    fn day(&mut self, r: &mut Reader) -> Option<(Day, Option<(String, Refused)>)> {
        let title = r.text("title", "a text").map(|t| short(&t.is));
        let start = r.dated("start", CLOCK, parse_clock);
        let start_s = start.map_or(START_S, |s| s.is);
        let date = r.dated("date", DATE, parse_date).map(|d| d.is);
        let breaks = breaks(r, start_s);
        let hands = hands(r);
        r.require("piece", "[[piece]] once for every piece, each with a job");
        let sources = self.sources(r);
        let (pieces, refused) = self.pieces(r);
        // What the bench file under the pieces has in its drawer will do.
        if !r.has("source") && pieces.iter().all(|piece| piece.job.drawer.is_empty()) {
            r.acknowledge(&["source"]);
            r.missing("source", "[[source]] once for every source, each with a name");
        }
        let title = title.unwrap_or_else(|| "A day at the bench".into());
        let day = Day { title, start_s, date, breaks, hands, pieces, sources };
        Some((day, refused))
    }

    fn sources(&mut self, r: &mut Reader) -> Vec<DaySource> {
        let mut list: Vec<DaySource> = Vec::new();
        for (n, mut sub) in r.tables("source").into_iter().enumerate() {
            if n == MOST_SOURCES {
                sub.complain("", format!("one source too many; allowed: {MOST_SOURCES} at most"));
            }
            let charges = sub.whole("charges", 1, 1000);
            let place = sub.place.clone();
            let Some((name, source)) = source::read_named(sub, self.stock) else {
                continue;
            };
            if let Some(at) = charges.as_ref().filter(|_| !matches!(source, Source::Pack(_))) {
                let text = "belongs to kind = \"pack\"; nothing else runs out of charge";
                self.ledger.add(&at.place, &at.key, text);
            }
            let name = name.unwrap_or_else(|| format!("source {}", n + 1));
            if list.iter().any(|s| s.name == name) {
                let text = format!("a second source \"{name}\"; allowed: a name of its own");
                self.ledger.add(&place, "source.name", text);
            }
            list.push(DaySource { name, source, charges: charges.map_or(1, |c| c.is) });
        }
        list
    }

    fn pieces(&mut self, r: &mut Reader) -> (Vec<DayPiece>, Option<(String, Refused)>) {
        let (mut list, mut refused) = (Vec::new(), None);
        let mut total = 0;
        for mut sub in r.tables("piece") {
            let name = sub.text("name", "a text to tell this piece by");
            let count = sub.whole("count", 1, i64::from(MOST_PIECES));
            let count = count.map_or(1, |c| c.is);
            total += count;
            if total > MOST_PIECES && total - count <= MOST_PIECES {
                sub.complain("count", format!("too many; allowed: {MOST_PIECES} pieces in all"));
            }
            let file = sub.text("job", "the name of a job file beside this one");
            let job = match file {
                Some(file) => self.job_of_file(&mut sub, &file),
                None if sub.has("job") => None,
                None => self.job_within(sub),
            };
            let named = |job: &Job| name.as_ref().map_or(job.title.clone(), |n| short(&n.is));
            match job {
                Some(Checked::Job(job)) => {
                    let name = told_apart(named(&job), &list);
                    list.push(DayPiece { name, job, count });
                }
                Some(Checked::Refused(r)) => {
                    let name = name.map_or_else(|| "A piece".into(), |n| short(&n.is));
                    refused = refused.or(Some((name, r)));
                }
                None => {}
            }
        }
        (list, refused)
    }

    /// A job in a file of its own.
    fn job_of_file(&mut self, sub: &mut Reader, file: &At<String>) -> JobRead {
        for key in TABLES.iter().filter(|key| sub.has(key)) {
            sub.complain(key, "given beside job; allowed: the one or the other");
        }
        sub.leave(&TABLES);
        sub.finish();
        self.job_in_file(file, &[], Needs::Nothing)
    }

    /// A job written within the day.
    fn job_within(&mut self, mut sub: Reader) -> JobRead {
        if !TABLES.iter().any(|key| sub.has(key)) {
            sub.acknowledge(&TABLES);
            sub.missing("job", "the name of a job file, or the tables [piece.piece], ... of a job");
            sub.finish();
            return None;
        }
        read::tables(sub, self.stock, Needs::Nothing, self.files, self.ledger)
    }
}

/// A name that no piece has yet: "Pin", "Pin (2)".
fn told_apart(name: String, list: &[DayPiece]) -> String {
    let taken = |name: &str| list.iter().any(|p| p.name == name);
    if !taken(&name) {
        return name;
    }
    let numbered = (2..).map(|n| format!("{name} ({n})")).find(|name| !taken(name));
    numbered.unwrap_or(name)
}

/// The tables of a job.
const TABLES: [&str; 8] = ["piece", "bath", "leads", "room", "limits", "spread", "source", "size"];

fn hands(r: &mut Reader) -> HandTimes {
    const DEFAULT: HandTimes =
        HandTimes { hang_up_s: 300.0, look_s: 120.0, take_down_s: 180.0, swap_s: 240.0 };
    let Some(mut sub) = r.sub("hands") else {
        return DEFAULT;
    };
    let mut of = |key: &str, most: &str, usual: f64| {
        sub.quantity::<Time>(key, "1 s", most).map_or(usual, |t| t.is.si())
    };
    let times = HandTimes {
        hang_up_s: of("hang_up", LONGEST_WORK, DEFAULT.hang_up_s),
        // A longer look would leave no time to etch between two that are 15 min apart.
        look_s: of("look", "10 min", DEFAULT.look_s),
        take_down_s: of("take_down", LONGEST_WORK, DEFAULT.take_down_s),
        swap_s: of("swap", LONGEST_WORK, DEFAULT.swap_s),
    };
    sub.finish();
    times
}

/// Breaks in order, those that touch made one; s since the start.
fn breaks(r: &mut Reader, start_s: f64) -> Vec<(f64, f64)> {
    let mut list = Vec::new();
    for mut sub in r.tables("break") {
        sub.require("from", CLOCK);
        sub.require("to", CLOCK);
        let from = sub.dated("from", CLOCK, parse_clock);
        let to = sub.dated("to", CLOCK, parse_clock);
        sub.finish();
        let (Some(from), Some(to)) = (from, to) else {
            continue;
        };
        if to.is <= from.is {
            let from = clock::clock(from.is, 0.0);
            sub.complain("to", format!("not after the break's start; allowed: after {from}"));
        } else if to.is <= start_s {
            let start = clock::clock(start_s, 0.0);
            let text = format!("over before the day starts; allowed: after {start}, its start");
            sub.complain("to", text);
        } else {
            list.push(((from.is - start_s).max(0.0), to.is - start_s));
        }
    }
    list.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut apart: Vec<(f64, f64)> = Vec::new();
    for (from, to) in list {
        match apart.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => apart.push((from, to)),
        }
    }
    apart
}
