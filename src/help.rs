//! What --help tells beyond the arguments: files, keys, defaults.

pub const CODES: &str = "\
Begin with the demo, a fern cloak pin in sterling:
  restbite plan data-demo/fern-pin.toml

Exit code: 0 answered; 1 the job as given cannot be done (the answer says why and what
would do); 2 the job or the command line is wrong.";

pub const STOCK_KEYS: &str = "\
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

pub const ASKING: &str = "\
`restbite new` asks and writes job.toml, `restbite new my-piece.toml` a file of that name. An
empty line takes the default that stands beside the question. Answers may come through a pipe,
one a line; a wrong or missing one ends it then, and nothing is written.";

pub const KEYS: &str = "\
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

pub const DAY_KEYS: &str = "\
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

pub const LOG_KEYS: &str = "\
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

pub const LOOKING: &str = "\
Each --at opens a group: what follows it was read then. Readings may stand in a log as `learn`
takes it instead, of which --log takes the last run. What the meters are good to: amps 2 % + 0.01 A,
volts 1 % + 0.01 V, depth 0.02 mm, weight 0.02 g, warmth 1 K, time 10 s; a log may say otherwise.

It says when the piece is done now, when to look next, and whether the readings fit a fault of
`plan --full` better than the plan. Nothing is written: what several runs teach of a bench is for
`learn`.";
