//! `size`

use super::answer::{Answer, Failure, Outcome};
use super::folder::{no_plots, open_folder, write};
use super::read::{read_job, stock_for};
use crate::cli;
use anyhow::Context;
use restbite::advice::size::{Sizing, chart, size_sampled};
use restbite::job::{Checked, Job, Needs, Source};
use restbite::sheet::plots::{self, Plot};
use restbite::sheet::{json, text};
use restbite::stock::{Named, Stock, find};

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
        Checked::Refused(why) => {
            let (json, text) = (|_| json::size_refused(&why), |_| text::refused(&why));
            Ok(Answer::either(&args.job.how, false, json, text))
        }
        Checked::Job(job) => {
            let sizing = size_sampled(&job, &stock, args.draws.into()).map_err(Failure::cannot)?;
            if let Some(folder) = folder.filter(|_| args.chart) {
                write(&folder, &charts(args, &job, &sizing, &stock)?)?;
            }
            let text = if args.job.how.json {
                json::size(&job, &sizing, units)
            } else {
                text::size(&job, &sizing, units, args.all)
            };
            Ok(Answer::new(text, sizing.done()))
        }
    }
}

/// The wall charts of one kind of cell: the one named, or the chosen one's.
fn charts(
    args: &cli::Size,
    job: &Job,
    sizing: &Sizing,
    stock: &Stock,
) -> anyhow::Result<Vec<Plot>> {
    let packed = sizing.options.iter().find_map(|o| match &o.case.source {
        Source::Pack(p) => Some(p.as_ref().clone()),
        _ => None,
    });
    let chosen =
        sizing.options.iter().filter(|o| o.feasible()).find_map(|o| match &o.case.source {
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
    Ok(vec![plots::wall(&wall, &job.title, units)?, plots::cells(&cells, &job.title, units)?])
}
