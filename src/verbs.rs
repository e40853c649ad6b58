//! What each verb does: read the job, ask for advice, have it drawn.

mod learn;
mod new;
pub mod stock;

pub use learn::learn;
pub use new::new;

use crate::cli;
use crate::drawn;
use crate::files::Folder;
use crate::input::{beside, read_text};
use anyhow::{Context, anyhow};
use restbite::advice::size::{Sizing, chart};
use restbite::advice::{self, Advice, Plan};
use restbite::job::{self, Checked, CheckedDay, Needs, Source, Written};
use restbite::sheet;
use restbite::sheet::plots::{Compared, Plot, REST};
use restbite::stock::{Named, Stock, find};
use restbite::units::say::System;
use serde_json::Value;
use std::path::Path;
use stock::stock_for;

/// Exit code: the job as given cannot be done.
pub const CANNOT: u8 = 1;
/// Exit code: the job or the command line is wrong.
pub const WRONG: u8 = 2;

/// An answer for standard output, and the exit code.
pub struct Answer {
    /// What to print.
    pub text: String,
    /// 0 or [`CANNOT`].
    pub code: u8,
}

/// Why there is no answer.
pub enum Failure {
    /// The job has complaints.
    Job(job::Complaints),
    /// Anything else, a file or a number.
    Other(anyhow::Error, u8),
}

impl Failure {
    /// Exit code.
    pub fn code(&self) -> u8 {
        match self {
            Self::Job(_) => WRONG,
            Self::Other(_, code) => *code,
        }
    }

    /// What to tell the user.
    pub fn text(&self) -> String {
        match self {
            Self::Job(complaints) => complaints.to_string(),
            Self::Other(error, _) => {
                format!("restbite: {}", job::file::plain(&format!("{error:#}")))
            }
        }
    }
}

impl From<anyhow::Error> for Failure {
    fn from(error: anyhow::Error) -> Self {
        Self::Other(error, WRONG)
    }
}

type Outcome = Result<Answer, Failure>;

/// Samples behind the plots of a plan.
const PLAN_POINTS: usize = 201;
/// Files of a day.
const TIMELINE: &str = "timeline.svg";
const CALENDAR: &str = "day.ics";

/// Without a verb: completions, the man page, or where to begin.
pub fn without_a_verb(cli: &cli::Cli) -> Outcome {
    let text = match cli.completions {
        Some(shell) => crate::shell::completions(shell),
        None if cli.man => crate::shell::man().context("the man page")?,
        None => cli::BEGIN.to_string(),
    };
    Ok(Answer { text, code: 0 })
}

/// `plan`
pub fn plan(args: &cli::Drawn) -> Outcome {
    let stock = stock_for(&args.job.job)?;
    let how = &args.job.how;
    let names = [&sheet::plots::NAMES[..], &[REST, sheet::html::NAME]].concat();
    let folder = open_folder(how, &names)?;
    let work = |job: &job::Job| advice::plan(job, &stock, PLAN_POINTS, args.draws.into());
    let advice = advise(&args.job, &stock, work)?;
    let units = how.units.into();
    if let Some(folder) = folder {
        drawn::plan(&folder, &advice, &stock, units)?;
    }
    Ok(answer(how, &advice, sheet::json::plan, sheet::text::plan))
}

/// `trace`
pub fn trace(args: &cli::Trace) -> Outcome {
    let stock = stock_for(&args.job.job)?;
    let folder = open_folder(&args.job.how, &sheet::plots::NAMES)?;
    let points = args.points as usize;
    let advice = advise(&args.job, &stock, |job| advice::advise(job, &stock, points))?;
    write_plots(folder.as_ref(), &advice, args.job.how.units.into())?;
    Ok(answer(&args.job.how, &advice, sheet::json::trace, sheet::text::trace))
}

/// `size`
pub fn size(args: &cli::Size) -> Outcome {
    let stock = stock_for(&args.job.job)?;
    let units = args.job.how.units.into();
    if !args.chart {
        no_plots(&args.job.how, "size draws only with --chart")?;
    }
    let names: &[&str] = if args.chart { &["wall-chart", "cell-chart"] } else { &[] };
    let folder = open_folder(&args.job.how, names)?;
    match read_job(&args.job.job, &args.job.how.sets, &stock, Needs::Nothing)? {
        Checked::Refused(refused) => {
            let advice = Advice::refused(refused);
            Ok(answer(&args.job.how, &advice, sheet::json_size::refused, sheet::text::plan))
        }
        Checked::Job(job) => {
            let sizing = advice::size::size_drawn(&job, &stock, args.draws.into())
                .map_err(|error| Failure::Other(error.into(), CANNOT))?;
            if let Some(folder) = folder.filter(|_| args.chart) {
                write(&folder, &charts(args, &job, &sizing, &stock)?)?;
            }
            let text = if args.job.how.json {
                sheet::json_size::size(&sizing, units)
            } else {
                sheet::text_size::size(&job, &sizing, units)
            };
            Ok(Answer { text, code: if sizing.done() { 0 } else { CANNOT } })
        }
    }
}

fn drawn(a: &advice::compare::Alternative) -> Compared<'_> {
    Compared { name: &a.name, trace: &a.plan.trace, target_m: a.plan.setup.piece.depth }
}

/// `rest`
pub fn rest(args: &cli::Job) -> Outcome {
    let done = |plan: &Plan| match &plan.rests {
        Some(rests) => rests.best.is_some(),
        None => true, // no cells, no rests: that is the answer
    };
    let (json, text) = (sheet::rest::to_json, sheet::rest::to_text);
    let folder = open_folder(&args.how, &[REST])?;
    let drawn = |plan: &Plan| write_rests(folder.as_ref(), plan, args.how.units.into());
    on_a_plan(args, advice::with_rests, drawn, json, text, done)
}

/// `charge`
pub fn charge(args: &cli::Drawn) -> Outcome {
    no_plots(&args.job.how, "charge draws no plots")?;
    let done = |plan: &Plan| plan.charge.as_ref().is_some_and(|c| c.pieces.count() > 0);
    let (json, text) = (sheet::charge::to_json, sheet::charge::to_text);
    let sampling = args.draws.into();
    let work =
        |job: &job::Job, stock: &Stock, points| advice::with_charge(job, stock, points, sampling);
    on_a_plan(&args.job, work, |_| Ok(()), json, text, done)
}

/// Samples where no curve is drawn.
const NO_CURVE: usize = 2;

/// A verb that draws one part of a plan.
fn on_a_plan(
    args: &cli::Job,
    work: impl Fn(&job::Job, &Stock, usize) -> Result<Plan, advice::AdviceError>,
    drawn: impl Fn(&Plan) -> Result<(), Failure>,
    json: impl Fn(&Plan, System) -> Value,
    text: impl Fn(&Plan, System) -> String,
    done: impl Fn(&Plan) -> bool,
) -> Outcome {
    let stock = stock_for(&args.job)?;
    let advice = advise(args, &stock, |job| work(job, &stock, NO_CURVE))?;
    let Advice::Plan(plan) = &advice else {
        return Ok(answer(&args.how, &advice, sheet::json::plan, sheet::text::plan));
    };
    drawn(plan)?;
    let units = args.how.units.into();
    let text =
        if args.how.json { sheet::json::print(&json(plan, units)) } else { text(plan, units) };
    Ok(Answer { text, code: if done(plan) { 0 } else { CANNOT } })
}

/// `compare`
pub fn compare(args: &cli::Compare) -> Outcome {
    let folder = open_folder(&args.how, &["compare"])?;
    let texts: Vec<(String, String)> =
        args.sources.iter().map(|path| read_text(path)).collect::<Result<_, _>>()?;
    let needs = if texts.is_empty() { Needs::Source } else { Needs::Nothing };
    let mut list = Vec::new();
    for path in &args.jobs {
        let stock = stock_for(path)?;
        let mut others = Vec::new();
        for (text, name) in &texts {
            others.extend(job::read_sources(text, name, &stock).map_err(Failure::Job)?);
        }
        let job = match read_job(path, &args.how.sets, &stock, needs)? {
            Checked::Job(job) => *job,
            Checked::Refused(refused) => {
                let advice = Advice::refused(refused);
                return Ok(answer(&args.how, &advice, sheet::json::plan, sheet::text::plan));
            }
        };
        let own = job.source.clone().map(|source| (job.title.clone(), source));
        for (name, source) in own.iter().chain(&others) {
            let name = match args.jobs.len() {
                1 => name.clone(),
                _ if *name == job.title => name.clone(),
                _ => format!("{}: {name}", job.title),
            };
            let made = advice::compare::alternative(name, &job, source, &stock, PLAN_POINTS);
            list.push(made.map_err(|error| Failure::Other(error.into(), CANNOT))?);
        }
    }
    if list.len() < 2 {
        let text =
            "nothing to compare; give a second job file, or other sources with --source FILE";
        return Err(anyhow!(text).into());
    }
    let units = args.how.units.into();
    let text = if args.how.json {
        sheet::json::print(&sheet::json_size::compare(&list, units))
    } else {
        sheet::text_compare::compare(&list, units)
    };
    if let Some(folder) = folder {
        let compared: Vec<Compared> = list.iter().map(drawn).collect();
        write(&folder, &[sheet::plots::compare(&compared, "Side by side", units)?])?;
    }
    let done = list.iter().any(|a| a.judged.feasible());
    Ok(Answer { text, code: if done { 0 } else { CANNOT } })
}

/// `day`
pub fn day(args: &cli::Day) -> Outcome {
    let stock = stock_for(&args.day)?;
    let how = &args.how;
    let units = how.units.into();
    let (text, name) = read_text(&args.day)?;
    let files = beside(&args.day);
    let written = Written { text: &text, name: &name, files, sets: &how.sets };
    let day = match job::read_day(&written, &stock).map_err(Failure::Job)? {
        CheckedDay::Day(day) => *day,
        CheckedDay::Refused(name, why) => {
            let text = if how.json {
                sheet::json::print(&sheet::json_day::refused(&name, &why))
            } else {
                sheet::text_day::refused(&name, &why, units)
            };
            return Ok(Answer { text, code: CANNOT });
        }
    };
    let names: Vec<&str> = [TIMELINE].into_iter().chain(day.date.map(|_| CALENDAR)).collect();
    let out = how.out.as_ref().map(|path| Folder::open(path, how.force, &names)).transpose()?;
    let plan =
        advice::day::day(&day, &stock).map_err(|error| Failure::Other(error.into(), CANNOT))?;
    if let (Some(folder), true) = (out, plan.done()) {
        folder.write(TIMELINE, &sheet::plots::timeline(&day, &plan)?.svg)?;
        if let Some(calendar) = sheet::ics::calendar(&day, &plan, units) {
            folder.write(CALENDAR, &calendar)?;
        }
    }
    let text = if how.json {
        sheet::json::print(&sheet::json_day::day(&day, &plan, units))
    } else {
        sheet::text_day::day(&day, &plan, units)
    };
    Ok(Answer { text, code: if plan.done() { 0 } else { CANNOT } })
}

fn answer(
    args: &cli::How,
    advice: &Advice,
    json: impl Fn(&Advice, System) -> Value,
    text: impl Fn(&Advice, System) -> String,
) -> Answer {
    let units = args.units.into();
    let text =
        if args.json { sheet::json::print(&json(advice, units)) } else { text(advice, units) };
    Answer { text, code: if advice.done() { 0 } else { CANNOT } }
}

/// Reads the job and takes advice on it.
fn advise(
    args: &cli::Job,
    stock: &Stock,
    plan: impl Fn(&job::Job) -> Result<advice::Plan, advice::AdviceError>,
) -> Result<Advice, Failure> {
    match read_job(&args.job, &args.how.sets, stock, Needs::Source)? {
        Checked::Refused(refused) => Ok(Advice::refused(refused)),
        Checked::Job(job) => match plan(&job) {
            Ok(plan) => Ok(Advice::Plan(Box::new(plan))),
            Err(error) => Err(Failure::Other(error.into(), CANNOT)),
        },
    }
}

/// The wall charts of one kind of cell: the one named, or the chosen one's.
fn charts(
    args: &cli::Size,
    job: &job::Job,
    sizing: &Sizing,
    stock: &Stock,
) -> anyhow::Result<Vec<Plot>> {
    let packed = sizing.options.iter().find_map(|o| match &o.source {
        Source::Pack(p) => Some(p.as_ref().clone()),
        _ => None,
    });
    let chosen = sizing.options.iter().filter(|o| o.feasible()).find_map(|o| match &o.source {
        Source::Pack(p) => Some(p.as_ref().clone()),
        _ => None,
    });
    let pack = chosen.or(packed).context("no cell may be chosen, so there is none to chart")?;
    let cell = match &args.cell {
        None => &pack.cell,
        Some(name) => find(&stock.cells, name).with_context(|| {
            let names: Vec<&str> = stock.cells.iter().map(Named::name).collect();
            format!("--cell: \"{name}\" is not in stock; allowed: {}", names.join(", "))
        })?,
    };
    // A chart of many cells is one of a tray, whatever holds a single one.
    let tray = find(&stock.holders, "open tray").unwrap_or(&pack.holder);
    let units = args.job.how.units.into();
    let wall = chart::wall_chart(job, stock, cell, tray)?;
    let cells = chart::cell_chart(job, stock, cell, tray, sizing.chosen())?;
    Ok(vec![
        sheet::plots::wall(&wall, &job.title, units)?,
        sheet::plots::cells(&cells, &job.title, units)?,
    ])
}

/// Reads and checks the job.
fn read_job(path: &Path, sets: &[String], stock: &Stock, needs: Needs) -> Result<Checked, Failure> {
    let (text, name) = read_text(path)?;
    let written = Written { text: &text, name: &name, files: beside(path), sets };
    job::read(&written, stock, needs).map_err(Failure::Job)
}

/// A folder asked for in vain is said, not passed over.
fn no_plots(how: &cli::How, why: &str) -> anyhow::Result<()> {
    anyhow::ensure!(how.out.is_none(), "{why}; leave --out away");
    Ok(())
}

/// Opens the folder of --out before the long work, for plots of these names.
fn open_folder(how: &cli::How, names: &[&str]) -> anyhow::Result<Option<Folder>> {
    let Some(path) = &how.out else {
        return Ok(None);
    };
    let names: Vec<String> = names.iter().map(|name| file_name(name)).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    Folder::open(path, how.force, &names).map(Some)
}

/// A plot's file; what has an ending already keeps it.
fn file_name(name: &str) -> String {
    if name.contains('.') { name.into() } else { format!("{name}.svg") }
}

/// Writes plots into a folder.
pub fn write(folder: &Folder, plots: &[Plot]) -> anyhow::Result<()> {
    for plot in plots {
        folder.write(&file_name(plot.name), &plot.svg)?;
    }
    Ok(())
}

/// Draws the plots into a folder; a refused job has none.
fn write_plots(folder: Option<&Folder>, advice: &Advice, units: System) -> anyhow::Result<()> {
    let (Some(folder), Advice::Plan(plan)) = (folder, advice) else {
        return Ok(());
    };
    write(folder, &sheet::plots::plots(&sheet::plots::View::of(plan, units))?)
}

/// Draws on and off over time into a folder.
fn write_rests(folder: Option<&Folder>, plan: &Plan, units: System) -> Result<(), Failure> {
    let Some(folder) = folder else {
        return Ok(());
    };
    Ok(write(folder, drawn::rests(plan, units)?.as_slice())?)
}
