//! `day`

use super::answer::{Answer, Failure, Outcome};
use super::read::stock_for;
use crate::cli;
use crate::files::Folder;
use crate::input::{beside, read_text};
use restbite::advice;
use restbite::job::{CheckedDay, Written, read_day};
use restbite::sheet::{ics, json, plots, text};

/// Files of a day.
const TIMELINE: &str = "timeline.svg";
const CALENDAR: &str = "day.ics";

/// `day`
pub fn day(args: &cli::Day) -> Outcome {
    let stock = stock_for(&args.day)?;
    let how = &args.how;
    let (text, name) = read_text(&args.day)?;
    let files = beside(&args.day);
    let written = Written { text: &text, name: &name, files, sets: &how.sets };
    let day = match read_day(&written, &stock).map_err(Failure::Job)? {
        CheckedDay::Day(day) => advice::day::with_drawer(*day, &stock).map_err(Failure::cannot)?,
        CheckedDay::Refused(name, why) => {
            let json = |_| json::day_refused(&name, &why);
            return Ok(Answer::either(how, false, json, |_| text::day_refused(&name, &why)));
        }
    };
    let names: Vec<&str> = [TIMELINE].into_iter().chain(day.date.map(|_| CALENDAR)).collect();
    let out = how.out.as_ref().map(|path| Folder::open(path, how.force, &names)).transpose()?;
    let mut plan = advice::day::day(&day, &stock).map_err(Failure::cannot)?;
    plan.verdicts = advice::day::verdicts(&day, &plan, &stock).map_err(Failure::cannot)?;
    if let (Some(folder), true) = (out, plan.done()) {
        folder.write(TIMELINE, &plots::timeline(&day, &plan)?.svg)?;
        if let Some(calendar) = ics::calendar(&day, &plan, how.units.into()) {
            folder.write(CALENDAR, &calendar)?;
        }
    }
    let (json, text) = (|u| json::day(&day, &plan, u), |u| text::day(&day, &plan, u));
    Ok(Answer::either(how, plan.done(), json, text))
}
