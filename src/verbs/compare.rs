//! `compare`

use super::answer::{Answer, Failure, Outcome};
use super::folder::{open_folder, write};
use super::plan::PLAN_POINTS;
use super::read::{read_job, stock_for};
use crate::cli;
use crate::input::read_text;
use anyhow::anyhow;
use restbite::advice::compare::{Alternative, alternative};
use restbite::advice::size::at_its_best;
use restbite::job::{Checked, Needs, read_sources};
use restbite::sheet::plots::{self, Compared};
use restbite::sheet::{json, text};

/// `compare`
pub fn compare(args: &cli::Compare) -> Outcome {
    let folder = open_folder(&args.how, &["compare"])?;
    let texts: Vec<(String, String)> =
        args.sources.iter().map(|path| read_text(path)).collect::<Result<_, _>>()?;
    let mut jobs = Vec::new();
    for path in &args.jobs {
        let stock = stock_for(path)?;
        let mut others = Vec::new();
        for (text, name) in &texts {
            others.extend(read_sources(text, name, &stock).map_err(Failure::Job)?);
        }
        let read = |needs| read_job(path, &args.how.sets, &stock, needs);
        let job = match read(Needs::Nothing)? {
            // With no other sources it must have its own, or a drawer.
            Checked::Job(job)
                if texts.is_empty() && job.source.is_none() && job.drawer.is_empty() =>
            {
                match read(Needs::Source)? {
                    Checked::Job(job) => *job,
                    Checked::Refused(_) => *job,
                }
            }
            Checked::Job(job) => *job,
            Checked::Refused(why) => {
                let (json, text) = (|_| json::refused(&why), |_| text::refused(&why));
                return Ok(Answer::either(&args.how, false, json, text));
            }
        };
        if texts.is_empty() && args.jobs.len() == 1 {
            let best = at_its_best(&job, &stock).map_err(Failure::cannot)?;
            others.extend(best.into_iter().map(|(name, source, _)| (name, source)));
        }
        jobs.push((job, stock, others));
    }
    let mut list = Vec::new();
    for (job, stock, others) in &jobs {
        let own = job.source.clone().map(|source| (job.title.clone(), source));
        for (name, source) in own.iter().chain(others) {
            let name = match args.jobs.len() {
                1 => name.clone(),
                _ if *name == job.title => name.clone(),
                _ => format!("{}: {name}", job.title),
            };
            let made = alternative(name, job, source, stock, PLAN_POINTS);
            list.push(made.map_err(Failure::cannot)?);
        }
    }
    if list.len() < 2 {
        let text = "nothing to compare; give a second job file, other sources with --source FILE, or a bench \
             file with more than one thing in its drawer";
        return Err(anyhow!(text).into());
    }
    let units = args.how.units.into();
    if let Some(folder) = folder {
        let compared: Vec<Compared> = list.iter().map(side).collect();
        write(&folder, &[plots::compare(&compared, "Side by side", units)?])?;
    }
    let done = list.iter().any(|a| a.judged.verdict().done());
    let (json, text) = (|u| json::compare(&list, u), |u| text::compare(&list, u));
    Ok(Answer::either(&args.how, done, json, text))
}

fn side<'a>(a: &'a Alternative) -> Compared<'a> {
    Compared { name: &a.name, trace: &a.trace, target_m: a.judged.case.setup.piece.depth }
}
