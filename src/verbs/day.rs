//! `day`

use super::answer::{Answer, CANNOT, Failure, Outcome};
use super::read::stock_for;
use crate::cli;
use crate::input::read_text;
use restbite::advice;
use restbite::job::file::read_named;
use restbite::job::{CheckedDay, Written, read_day};
use restbite::sheet::files::Folder;
use restbite::sheet::{ics, json, plots, text};
use std::path::Path;

/// Files of a day.
const TIMELINE: &str = "timeline.svg";

const CALENDAR: &str = "day.ics";

/// `day`
pub fn day(args: &cli::Day) -> Outcome {
    let stock = stock_for(&args.day)?;
    let how = &args.how;
    let units = how.units.into();
    let (text, name) = read_text(&args.day)?;
    let folder = args.day.parent().unwrap_or_else(|| Path::new(""));
    let written = Written { text: &text, name: &name, folder, sets: &how.sets };
    let day = match read_day(&written, &stock, &read_named).map_err(Failure::Job)? {
        CheckedDay::Day(day) => *day,
        CheckedDay::Refused(name, why) => {
            let text = if how.json {
                json::print(&json::day_refused(&name, &why))
            } else {
                text::day_refused(&name, &why, units)
            };
            return Ok(Answer { text, code: CANNOT });
        }
    };
    let names: Vec<&str> = [TIMELINE].into_iter().chain(day.date.map(|_| CALENDAR)).collect();
    let out = how.out.as_ref().map(|path| Folder::open(path, how.force, &names)).transpose()?;
    let plan =
        advice::day::day(&day, &stock).map_err(|error| Failure::Other(error.into(), CANNOT))?;
    if let (Some(folder), true) = (out, plan.done()) {
        folder.write(TIMELINE, &plots::timeline(&day, &plan)?.svg)?;
        if let Some(calendar) = ics::calendar(&day, &plan, units) {
            folder.write(CALENDAR, &calendar)?;
        }
    }
    let text = if how.json {
        json::print(&json::day(&day, &plan, units))
    } else {
        text::day(&day, &plan, units)
    };
    Ok(Answer { text, code: if plan.done() { 0 } else { CANNOT } })
}
