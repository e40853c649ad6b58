//! The command line, nothing else.

use crate::help::{ASKING, CODES, DAY_KEYS, KEYS, LOG_KEYS, LOOKING, STOCK_KEYS};
use clap::{
    Arg, ArgAction, ArgMatches, Args, Command, FromArgMatches, Parser, Subcommand, ValueEnum,
};
use restbite::advice::spread::Sampling;
use restbite::job::log::{Said, What};
use restbite::units::say::System;
use std::path::PathBuf;

/// Plans direct-current etching of silver and copper sheet before the current is on.
#[derive(Debug, Parser)]
#[command(version, propagate_version = true, args_conflicts_with_subcommands = true,
    after_help = CODES)]
pub struct Cli {
    /// What to do
    #[command(subcommand)]
    pub verb: Option<Verb>,
    /// Prints a script that completes the command line in this shell
    #[arg(long, value_name = "SHELL", exclusive = true)]
    pub completions: Option<clap_complete::Shell>,
    /// Prints the man page
    #[arg(long, exclusive = true)]
    pub man: bool,
}

/// What `restbite` alone says.
pub const BEGIN: &str = "\
restbite plans the etching of silver and copper sheet by direct current. Begin with:

  restbite plan data-demo/fern-pin.toml   the demo, a fern cloak pin, on one page
  restbite stock                          the cells, metals, baths and wires it knows
  restbite --help                         the other verbs

For your own piece `restbite new` asks and writes a job file; plan that.
";

/// The verbs.
#[derive(Debug, Subcommand)]
pub enum Verb {
    /// The whole job on one bench sheet
    #[command(before_help = "Example: restbite plan data-demo/fern-pin.toml", after_help = KEYS)]
    Plan(Plan),
    /// Which cells or supply do the job, ranked, and why the others do not
    #[command(before_help = "Example: restbite size data-demo/fern-pin.toml", after_help = KEYS)]
    Size(Size),
    /// Job files, or one piece with other sources, side by side
    #[command(
        before_help = "Example: restbite compare data-demo/fern-pin.toml --source data-demo/sources.toml",
        after_help = KEYS
    )]
    Compare(Compare),
    /// On and off in turn: for this piece, and for a whole session
    #[command(before_help = "Example: restbite rest data-demo/fern-pin.toml", after_help = KEYS)]
    Rest(Job),
    /// How many pieces a charge gives and how sure that is, and how many the bath
    #[command(before_help = "Example: restbite charge data-demo/fern-pin.toml", after_help = KEYS)]
    Charge(Sampled),
    /// A list of pieces and sources over a day at the bench: who etches when on what
    #[command(before_help = "Example: restbite day data-demo/day.toml", after_help = DAY_KEYS)]
    Day(Day),
    /// This bench's own factors, from a log of measured runs
    #[command(before_help = "Example: restbite learn data-demo/log.toml", after_help = LOG_KEYS)]
    Learn(Learn),
    /// While the current is on: what a reading makes of the time that is left, and of faults
    #[command(
        before_help = "Example: restbite look data-demo/fern-pin.toml --at 8min --amps 1.6A",
        after_help = LOOKING
    )]
    Look(Look),
    /// One run over time: CSV, JSON or plots
    #[command(
        before_help = "Example: restbite trace data-demo/moon-dial.toml --out plots-of-mine",
        after_help = KEYS
    )]
    Trace(Trace),
    /// The cells, metals, baths, wires, resists and holders in stock, each number with its source
    #[command(before_help = "Example: restbite stock LR20", after_help = STOCK_KEYS)]
    Stock(Stock),
    /// A commented job file, by questions or with defaults; with --log a log for `learn`
    #[command(before_help = "Example: restbite new --yes -", after_help = ASKING)]
    New(New),
}

/// What `stock` takes.
#[derive(Debug, Args)]
pub struct Stock {
    /// A kind, such as cells, or a name, such as LR20; everything where nothing is named
    #[arg(value_name = "NAME")]
    pub what: Vec<String>,
    /// Prints one JSON object for programs
    #[arg(long)]
    pub json: bool,
    /// Units to answer in; the JSON is metric
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    pub units: Units,
}

/// What `new` takes.
#[derive(Debug, Args)]
pub struct New {
    /// The file to write, job.toml, log.toml or bench.toml where none is named; - for standard output
    #[arg(value_name = "FILE")]
    pub file: Option<PathBuf>,
    /// Asks nothing and takes every default
    #[arg(long)]
    pub yes: bool,
    /// Writes a log to fill in after measured runs; as a table where FILE ends in .csv
    #[arg(long, conflicts_with = "yes")]
    pub log: bool,
    /// Writes a bench file, bench.toml, that lies under every job beside it: after that `new` asks
    /// about the piece alone
    #[arg(long, conflicts_with = "log")]
    pub bench: bool,
    /// Overwrites a file that is there already
    #[arg(long)]
    pub force: bool,
}

/// What `size` takes.
#[derive(Debug, Args)]
pub struct Size {
    /// The job
    #[command(flatten)]
    pub job: Job,
    /// Every reason against every kind of cell, not the first of the nearest alone
    #[arg(long)]
    pub all: bool,
    /// Draws the wall charts into the folder of --out
    #[arg(long, requires = "out")]
    pub chart: bool,
    /// The cell of the wall charts; the chosen source's where none is named
    #[arg(long, value_name = "NAME", requires = "chart")]
    pub cell: Option<String>,
    /// How the inputs are drawn
    #[command(flatten)]
    pub draws: Draws,
}

/// What `learn` takes.
#[derive(Debug, Args)]
pub struct Learn {
    /// The log, TOML or CSV; - for standard input
    #[arg(value_name = "LOG.toml")]
    pub log: PathBuf,
    /// How to answer; --out writes workshop.toml
    #[command(flatten)]
    pub how: How,
    /// Times that the next piece is drawn
    #[arg(long, value_name = "N", default_value_t = Sampling::OF_A_PLAN.draws as u32,
        value_parser = clap::value_parser!(u32).range(20..=1_000_000))]
    pub draws: u32,
    /// Seed of the draws: the same seed, the same answer
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,
}

/// What `look` takes.
#[derive(Debug, Args)]
pub struct Look {
    /// The job
    #[command(flatten)]
    pub job: Job,
    /// What was read, and when
    #[command(flatten)]
    pub readings: Readings,
    /// A log with the run so far, in place of readings here
    #[arg(long, value_name = "LOG.toml", conflicts_with_all = ["at", "amps", "volts", "depth", "weight", "warmth"])]
    pub log: Option<PathBuf>,
}

/// Readings in the order in which they stand on the command line.
#[derive(Debug, Clone, Default)]
pub struct Readings(pub Vec<Said>);

/// The options of readings: what they are, their value's name, their help.
const READINGS: [(&str, Option<What>, &str, &str); 6] = [
    ("at", None, "TIME", "Time since the current went on; what follows was read then"),
    ("amps", Some(What::Amps), "CURRENT", "What the ammeter shows"),
    ("volts", Some(What::BathVolts), "VOLTAGE", "What a meter shows between sheet and pan"),
    ("depth", Some(What::Depth), "LENGTH", "How deep the floor is"),
    ("weight", Some(What::WeightLoss), "MASS", "How much lighter the piece is than it was"),
    ("warmth", Some(What::CellTemperature), "TEMPERATURE", "How warm a cell is outside"),
];

impl Args for Readings {
    fn augment_args(cmd: Command) -> Command {
        READINGS.into_iter().fold(cmd, |cmd, (name, _, value, help)| {
            let arg = Arg::new(name).long(name).value_name(value).help(help);
            cmd.arg(arg.action(ArgAction::Append).allow_hyphen_values(true))
        })
    }

    fn augment_args_for_update(cmd: Command) -> Command {
        Self::augment_args(cmd)
    }
}

impl FromArgMatches for Readings {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let mut list: Vec<(usize, Said)> = Vec::new();
        for (name, what, ..) in READINGS {
            let places = matches.indices_of(name).into_iter().flatten();
            let texts = matches.get_many::<String>(name).into_iter().flatten();
            for (place, text) in places.zip(texts) {
                list.push((place, Said { option: format!("--{name}"), what, text: text.clone() }));
            }
        }
        list.sort_by_key(|(place, _)| *place);
        Ok(Self(list.into_iter().map(|(_, said)| said).collect()))
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

/// What `day` takes.
#[derive(Debug, Args)]
pub struct Day {
    /// The day file; - for standard input
    #[arg(value_name = "DAY.toml")]
    pub day: PathBuf,
    /// How to answer; --out writes timeline.svg and, for a day with a date, day.ics
    #[command(flatten)]
    pub how: How,
}

/// How to answer.
#[derive(Debug, Args)]
pub struct How {
    /// Overrides one key of the job, such as piece.depth="0.4 mm"
    #[arg(long = "set", value_name = "KEY=VALUE")]
    pub sets: Vec<String>,
    /// Prints one JSON object for programs
    #[arg(long)]
    pub json: bool,
    /// Writes the plots into this folder; plan also sheet.html, the bench sheet
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Units to answer in
    #[arg(long, value_enum, default_value_t = Units::Metric)]
    pub units: Units,
    /// Overwrites files that are there already
    #[arg(long)]
    pub force: bool,
}

/// What every verb on one job takes.
#[derive(Debug, Args)]
pub struct Job {
    /// The job file; - for standard input
    #[arg(value_name = "JOB.toml")]
    pub job: PathBuf,
    /// How to answer
    #[command(flatten)]
    pub how: How,
}

/// What `plan` takes.
#[derive(Debug, Args)]
pub struct Plan {
    /// What it shares with charge
    #[command(flatten)]
    pub sampled: Sampled,
    /// Every number and every finding, not the one screen for the bench
    #[arg(long)]
    pub full: bool,
}

/// What `plan` and `charge` take.
#[derive(Debug, Args)]
pub struct Sampled {
    /// The job
    #[command(flatten)]
    pub job: Job,
    /// How the inputs are drawn
    #[command(flatten)]
    pub draws: Draws,
}

/// How the uncertain inputs are drawn.
#[derive(Debug, Clone, Copy, Args)]
pub struct Draws {
    /// Times that the uncertain inputs are drawn, to tell how sure the answer is (for pieces
    /// of a charge, and for each option of size, fewer: the answer says how many)
    #[arg(long, value_name = "N", default_value_t = Sampling::OF_A_PLAN.draws as u32,
        value_parser = clap::value_parser!(u32).range(20..=1_000_000))]
    pub draws: u32,
    /// Seed of the draws: the same seed, the same answer
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub seed: u64,
}

impl From<Draws> for Sampling {
    fn from(d: Draws) -> Self {
        Self { draws: d.draws as usize, seed: d.seed }
    }
}

/// What `compare` takes.
#[derive(Debug, Args)]
pub struct Compare {
    /// Job files; - for standard input
    #[arg(value_name = "JOB.toml", required = true)]
    pub jobs: Vec<PathBuf>,
    /// A file with other sources for the job: [source], or [[source]] several times, each
    /// with a name
    #[arg(long = "source", value_name = "FILE")]
    pub sources: Vec<PathBuf>,
    /// How to answer
    #[command(flatten)]
    pub how: How,
}

/// What `trace` takes.
#[derive(Debug, Args)]
pub struct Trace {
    /// The job
    #[command(flatten)]
    pub job: Job,
    /// Samples, evenly spaced from start to end
    #[arg(long, value_name = "N", default_value_t = 201,
        value_parser = clap::value_parser!(u32).range(2..=100_000))]
    pub points: u32,
}

/// Units to answer in.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub enum Units {
    /// Millimetres, degrees Celsius
    Metric,
    /// Inches, thou and gauges, fluid ounces and quarts, degrees Fahrenheit; grams stay
    Imperial,
}

impl From<Units> for System {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => Self::Metric,
            Units::Imperial => Self::Imperial,
        }
    }
}
