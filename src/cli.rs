//! The command line, nothing else.

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

const CODES: &str = "\
Begin with the demo, a fern cloak pin in sterling:
  restbite plan data-demo/fern-pin.toml

Exit code: 0 answered; 1 the job as given cannot be done (the answer says why and what
would do); 2 the job or the command line is wrong.";

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

const STOCK_KEYS: &str = "\
Without a word it lists what is in stock; a kind lists that kind; a name shows an entry in
full. Kinds: cells, metals, baths, wires, resists, holders, touch, elements, electrodes,
spread, defaults.

Your own entries stand in a file stock.toml beside the job file, or for every job in
restbite/stock.toml of your settings folder: $XDG_CONFIG_HOME, or else ~/.config (on Windows
%APPDATA%). It is written as the built-in catalogues are:
  [[cell]]    name, like = \"LR20\" for whatever is not given, and numbers such as
              capacity = { is = \"15.2 Ah\", source = \"own measurement\" }
  [[metal]]   name, density, parts = [{ element = \"Cu\", share = { is = ..., source = ... } }]
  [[bath]]    name, like, or all that `stock \"copper nitrate\" --json` has
  [[holder]]  name, like, exposed_share, contact, convection_factor
  [[resist]]  name, like, begins and sure (charge for each bare area at which it lifts),
              max_temperature
An entry with the name of one in stock stands in for it, and `stock` says so. The file beside
the job goes before the one in the settings folder, that one before what is built in. Here the
file stock.toml of the folder you are in counts as the one beside the job.";

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

const ASKING: &str = "\
`restbite new` asks and writes job.toml, `restbite new my-piece.toml` a file of that name. An
empty line takes the default that stands beside the question. Answers may come through a pipe,
one a line; a wrong or missing one ends it then, and nothing is written.";

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

const KEYS: &str = "\
The job file is TOML with the tables [piece], [bath], [source] and, optional,
[leads], [room], [limits], [session], [size], [spread]. data-demo/fern-pin.toml explains every key.

A file bench.toml beside the job, or restbite/bench.toml in your settings folder, lies under it key
by key: [bath], [source], [leads], [room], [limits], [session], profile, and [[drawer]], what you own:
cell, have, charge_left, holder; or name with voltage and current_limit (a supply: the most that it
may be set to), with rated_voltage and rated_current (USB charger, power bank, laptop brick), or with
open_voltage, rated_voltage, rated_current (an adapter). `new --bench` writes one.

Besides: piece.begun, a depth that is there already; [[stage]] in place of [source], each the keys of
a source and until, a time or a depth; source.resistor; source.pulse = { duty, period } of a supply;
bath.hung \"face down\" or \"upright\" with plate and plates 1 or 2 (both faces bare).

Defaults where a job says nothing:
  piece    detail medium (bold 8 mm, medium 4 mm, fine 1.5 mm between lines), count 1,
           etch_factor 1.0, efficiency 100 %, depth_tolerance a tenth of the depth
  bath     volume that covers the sheet by 10 mm, temperature that of the room, stirred
           false, dissolved_silver 0 g/L,
           pan_metal \"stainless steel\" (a pan of copper takes silver by itself),
           conductivity and pH from stock; heat_capacity 4.0 J/K a millilitre and heat_loss
           20 W/(m2 K) of open surface, unless given
  source   pack: series 1, parallel 1, holder \"open tray\", contact by holder,
           charge_left 100 %; supply: output_resistance 0 ohm, no current_limit
  leads    AWG 20, 45 cm each way, where there is no [leads]; clips 2,
           clip_resistance 15 mohm
  room     20 degC
  session  bench_time 10 min between pieces, fresh_bath false
  limits   time 4 h, cell_temperature that of the cell, touch_temperature 48 degC
`restbite stock defaults` says why. `restbite stock` lists the names that a job may use, and
its --help how to add your own in a file stock.toml.

A concentration may be weighed, with the crystal water in the formula:
\"109 g/L Cu(NO3)2.3H2O\", \"109 g Cu(NO3)2.3H2O in 1 L\", \"10 % Cu(NO3)2.3H2O\"; or said:
\"half molar\". qt and fl oz are US measures.";

const DAY_KEYS: &str = "\
The day file is TOML: title; start, a clock time; date, for the calendar; and the tables
  [[break]]   from, to: no hands at the bench; the current runs on over a break only where
              no look and no stop falls into it
  [hands]     hang_up, look, take_down, swap: how long the work takes
  [[piece]]   job, a job file beside the day file, or the tables of a job themselves:
              [piece.piece], [piece.bath], [piece.leads], [piece.room], [piece.limits],
              [piece.spread]; name; count, one after the other in the same pan
  [[source]]  name, the keys of a job's [source], and for a pack charges: fresh charges at
              hand, the one in it counted; without any, what the bench file has in its drawer
The file data-demo/day.toml explains every key. --set overrides keys outside the lists.

Defaults: start 9:00, hang_up 5 min, look 2 min, take_down 3 min, swap 4 min, count 1,
charges 1. Each piece starts in a bath as its job describes it.

Up to 7 pieces and 3 sources every order of work is followed or ruled out; beyond that the
longest piece goes first, and then pieces change places as long as that helps.";

const LOG_KEYS: &str = "\
The log is TOML, or CSV with one reading a row:
  title
  [accuracy]      volts, amps, depth, weight_loss, temperature, time: one standard deviation
                  of your meters, such as \"1 % + 0.01 V\"
  [[run]]         job, a job file beside the log as it was set up; name; date; set, a list of
                  what was different, such as \"source.charge_left = \\\"80 %\\\"\"; accuracy
  [[run.reading]] at, since the current was on, and any of source_volts, bath_volts, amps,
                  depth, weight_loss, cell_temperature
  [[cell_test]]   cell; first and second = { amps, volts, after }: a cell under two loads
  [[bath_test]]   electrolyte, concentration, area, gap, temperature; first and second =
                  { amps, volts }: the bath between two flat plates of one metal
The file data-demo/log.toml explains every key. A run with rests in it is no run for a log:
take readings while the current is on without a break.

With --out DIR it writes workshop.toml, which a job names with profile = \"workshop.toml\" at
its top. The log itself is never touched.

Defaults of [accuracy]: volts 1 % + 0.01 V, amps 2 % + 0.01 A, depth 0.02 mm, weight_loss
0.02 g, temperature 1 K, time 10 s.";

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

const LOOKING: &str = "\
Each --at opens a group: what follows it was read then. Readings may stand in a log as `learn`
takes it instead, of which --log takes the last run. What the meters are good to: amps 2 % + 0.01 A,
volts 1 % + 0.01 V, depth 0.02 mm, weight 0.02 g, warmth 1 K, time 10 s; a log may say otherwise.

It says when the piece is done now, when to look next, and whether the readings fit a fault of
`plan --full` better than the plan. Nothing is written: what several runs teach of a bench is for
`learn`.";

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
