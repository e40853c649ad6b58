//! Sentences of a plan: what the page on the terminal and the bench sheet both say.

use super::ends::taker;
use super::reasons::reasons;
use super::size::{in_turn, source_words, tightest};
use super::verdict::brief;
use crate::advice::size::Judged;
use crate::advice::spread::quantile::Quantiles;
use crate::advice::{Case, Plan};
use crate::job::layout;
use crate::job::{Hung, Job, Pack, Source, Stage, Supply, Until};
use crate::run::Stop;
use crate::stock::weighed;
use crate::units::say::{self, System};
use crate::units::{Outline, Quantity};

/// What is etched: how deep, into what, how much of it bare.
pub fn piece(case: &Case, u: System) -> String {
    let p = &case.job.piece;
    let count = p.count.is;
    let faces = case.job.bath.hung.faces();
    let each = if count > 1 { format!("{count} pieces, each ") } else { String::new() };
    let begun = match case.setup.piece.begun {
        0.0 => String::new(),
        begun => format!(", {} of that done already,", u.depth(begun)),
    };
    format!(
        "{each}{} deep{begun}{} into {} of {}; {} bare of {}",
        u.depth(case.setup.piece.depth),
        if faces > 1 { " on either side" } else { "" },
        u.sheet(case.setup.piece.thickness),
        p.alloy.title,
        u.area(case.geometry().bare_m2 / f64::from(count * faces)),
        u.area(p.outline_m2()),
    )
}

/// What pushes the current, and how it is set.
pub fn source(source: &Source) -> String {
    match source {
        Source::Pack(pack) => pack_in_words(pack),
        Source::Supply(s) => {
            let limit = match s.current_limit {
                Some(limit) => format!("current limit {}", say::current(limit.si())),
                None => "no current limit".into(),
            };
            format!("Set the bench supply to {}, {limit}.", say::voltage(s.voltage.si()))
        }
        Source::Adapter(a) => format!(
            "Plug-in adapter, {} without load, sagging {} for each ampere.",
            say::voltage(a.open_voltage.si()),
            say::voltage(a.series_resistance.si())
        ),
    }
}

/// What of a job is from the bench file under it: "bath, leads, source"; none without one.
pub fn bench(job: &Job) -> Option<String> {
    let bench = job.bench.as_ref()?;
    let mut heads: Vec<&str> = Vec::new();
    for key in &bench.keys {
        let head = key.split('.').next().unwrap_or(key);
        if !heads.contains(&head) {
            heads.push(head);
        }
    }
    if heads.is_empty() {
        return Some(format!("{}: the job says all that it says.", bench.file));
    }
    Some(format!("{}: {} are from it where the job says nothing.", bench.file, heads.join(", ")))
}

/// The sources of a piece that changes from one to the next, each with its end; none with one.
fn stages(case: &Case, u: System) -> Option<String> {
    let stages = &case.job.stages;
    case.setup.then.as_ref()?;
    let one = |(n, stage): (usize, &Stage)| {
        let until = match stage.until.as_ref().map(|at| at.is) {
            Some(Until::Time(time)) => format!(", for {}", say::time(time.si())),
            Some(Until::Depth(depth)) => format!(", to {}", u.depth(depth.si())),
            None if n > case.run.changes_s.len() => String::new(),
            None => ", to the end".into(),
        };
        let from = match (n.checked_sub(1), &case.run.changes_s) {
            (Some(before), changes) if before < changes.len() => {
                format!(", from {} on", say::time(changes[before]))
            }
            (Some(_), _) => ", not reached".into(),
            (None, _) => String::new(),
        };
        let words = source(&stage.source);
        // That of the first stands behind them all.
        let besides = if n > 0 { besides(&stage.source) } else { String::new() };
        format!("{}. {}{from}{until}.{besides}", n + 1, words.trim_end_matches('.'))
    };
    let list: Vec<String> = stages.iter().enumerate().map(one).collect();
    Some(format!("One source after the other: {}", list.join(" ")))
}

/// What pushes the current and all that goes with it: one source, or one after the other.
pub fn sources(case: &Case, u: System) -> String {
    stages(case, u).unwrap_or_else(|| source(&case.source)) + &besides(&case.source)
}

/// The resistor or the pulse of a source, in a sentence that follows it; empty without.
fn besides(of: &Source) -> String {
    let mut text = match of.resistor().si() {
        0.0 => String::new(),
        ohm => format!(" A resistor of {} in one lead.", say::resistance(ohm)),
    };
    if let Source::Supply(Supply { pulse: Some(pulse), .. }) = of {
        text += &format!(
            " It pulses: on {} of every {} ms.",
            say::share(pulse.duty.si()),
            say::figures(1e3 * pulse.period.si(), 3)
        );
    }
    text
}

/// Which pole goes where.
pub fn poles(case: &Case) -> &'static str {
    match case.job.bath.hung {
        Hung::FaceDown => "Plus to the sheet, minus to the pan.",
        Hung::Upright { plates: 1, .. } => "Plus to the sheet, minus to the plate.",
        Hung::Upright { .. } => "Plus to the sheet, minus to both plates.",
    }
}

/// The leads and their clips: "AWG 20, 45 cm each way, 2 clips".
pub fn leads(case: &Case, u: System) -> String {
    let leads = &case.job.leads;
    let clips = clips(leads.clips);
    let assumed = if leads.assumed { " (assumed: the job has none)" } else { "" };
    format!("{}, {} each way, {clips}{assumed}", leads.wire_name, u.length(leads.length.si()))
}

/// "1 clip", "2 clips".
pub fn clips(count: u32) -> String {
    if count == 1 { "1 clip".into() } else { format!("{count} clips") }
}

/// What the bath is made of.
pub fn mixture(case: &Case, u: System) -> String {
    let b = &case.job.bath;
    format!(
        "{} of {} {}",
        u.volume(b.volume.is.si()),
        say::molar(b.concentration.is.si()),
        b.stock.title,
    )
}

/// What goes on the scales: every form of the salt that is sold, and the acid.
pub fn weigh(case: &Case, u: System) -> String {
    let b = &case.job.bath;
    let mol = b.concentration.is.si() * b.volume.is.si();
    let forms: Vec<String> = weighed::sold(&b.stock, b.salt_water)
        .into_iter()
        .map(|(formula, kg_per_mol)| format!("{} of {formula}", say::mass(mol * kg_per_mol)))
        .collect();
    let acid = b.acid_kg().map_or_else(String::new, |kg| {
        format!(", with {} of pure sulphuric acid (acid into water)", say::mass(kg))
    });
    format!(
        "{}{acid}, made up with water to {}{}: {} {}",
        forms.join(", or "),
        u.volume(b.volume.is.si()),
        if b.volume_assumed { " (assumed: it covers the sheet by 10 mm)" } else { "" },
        say::molar(b.concentration.is.si()),
        b.stock.title
    )
}

/// How the bath stands: "still, at 21 degC, 46.7 mm deep in a pan 150 mm by 100 mm".
pub fn stand(case: &Case, u: System) -> String {
    let b = &case.job.bath;
    let pan = match b.pan.is {
        Outline::Rectangle(x, y) => format!("{} by {}", u.length(x.si()), u.length(y.si())),
        Outline::Disc(d) => format!("{} round", u.length(d.si())),
        Outline::Area(a) => u.area(a.si()),
    };
    format!(
        "{}, at {}, {} deep in a pan {pan}",
        if b.stirred { "stirred" } else { "still" },
        u.temperature(b.temperature.si()),
        u.length(b.depth_m()),
    )
}

/// How the sheet hangs.
pub fn hang(case: &Case, u: System) -> String {
    let (bath, count) = (&case.job.bath, case.job.piece.count.is);
    let gap = u.length(bath.gap.is.si());
    let sides = |outline: &Outline| match outline {
        Outline::Rectangle(a, b) => format!("{} by {}", u.length(a.si()), u.length(b.si())),
        Outline::Disc(d) => format!("{} round", u.length(d.si())),
        Outline::Area(area) => u.area(area.si()),
    };
    match &bath.hung {
        Hung::FaceDown if count > 1 => {
            let grid = layout::sides(&case.job.piece.outline.is)
                .zip(layout::sides(&bath.pan.is))
                .map(|(piece, pan)| layout::most(piece, pan, bath.gap.is.si()));
            let how = grid.map_or_else(String::new, |grid| {
                let columns = grid.columns.min(count);
                format!(
                    ", up to {columns} in a row{}",
                    if grid.across { ", their long side across the pan" } else { "" }
                )
            });
            format!(
                "The {count} sheets hang side by side face down, {gap} over the pan{how}, at least \
                 {gap} between them, a wire to each."
            )
        }
        Hung::FaceDown => format!("The sheet hangs face down, {gap} over the pan."),
        Hung::Upright { plate, plates: 1 } => {
            format!("The sheet hangs upright, {gap} from a plate of {}.", sides(&plate.is))
        }
        Hung::Upright { plate, .. } => format!(
            "The sheet hangs upright, both faces bare, {gap} on either side from a plate of {}; the \
             plates are joined to the minus wire.",
            sides(&plate.is)
        ),
    }
}

/// How the sheet hangs, in two words.
pub fn way(case: &Case) -> &'static str {
    if case.job.bath.hung == Hung::FaceDown { "face down" } else { "upright" }
}

/// How the source stands, with the rests that it needs.
pub fn standing(judged: &Judged, u: System) -> String {
    if !judged.feasible() {
        let done = judged.verdict().done();
        let how = if done { brief(&judged.verdict()) } else { "Does not do it".into() };
        return format!("{how}: {}.", reasons(&judged.reasons, u));
    }
    let rest = judged.rest.map_or_else(String::new, |r| {
        format!(" with {}, {} in all", in_turn(&r.cycle), say::time(r.elapsed_s))
    });
    format!("{}{rest}. {}", brief(&judged.verdict()), tightest(judged))
}

/// What would do where the job's own source does not.
pub fn instead(plan: &Plan) -> String {
    match &plan.instead {
        Some(o) => format!(
            "`restbite size` would take {}: {}.",
            source_words(&o.case.source),
            say::time(o.elapsed_s())
        ),
        None => "`restbite size` tells what would have to give.".into(),
    }
}

/// Cells and how they are joined: "3 LR20 (alkaline manganese, D size) in series".
fn wired(series: u32, parallel: u32, kind: &str) -> String {
    match (series, parallel) {
        (1, 1) => format!("One {kind}"),
        (_, 1) => format!("{series} {kind} in series"),
        (1, _) => format!("{parallel} {kind} side by side"),
        _ => format!(
            "{} {kind}, {parallel} strings side by side of {series} in series",
            u64::from(series) * u64::from(parallel)
        ),
    }
}

/// Cells by their name alone.
pub fn cells(pack: &Pack) -> String {
    wired(pack.series.is, pack.parallel, &pack.cell.name)
}

fn pack_in_words(pack: &Pack) -> String {
    let cell = &pack.cell;
    let wired = wired(pack.series.is, pack.parallel, &format!("{} ({})", cell.name, cell.title));
    let charge = match pack.charge_left.si() {
        left if left < 1.0 => format!(", {} charged", say::share(left)),
        _ => String::new(),
    };
    format!("{wired}{charge}; holder: {}.", pack.holder.name)
}

/// How long it takes, or where it stops.
pub fn time(case: &Case, u: System) -> String {
    let run = &case.run;
    let time = say::time(run.time_s);
    match run.stop {
        Stop::Depth => format!("About {time} to {}.", u.depth(run.depth_m)),
        _ => format!(
            "Stops after {time} at {} of {}: see below.",
            u.depth(run.depth_m),
            u.depth(case.setup.piece.depth)
        ),
    }
}

/// When to stop, and how soon that may be; none where the piece does not come to depth.
pub fn stop(plan: &Plan) -> Option<String> {
    let last = plan.looks.checks.last().filter(|_| plan.done())?;
    let fast = plan.looks.fast_s.map_or_else(String::new, |t| {
        format!(" One piece in ten is that deep after {} already.", say::moment(t))
    });
    Some(format!("Stop when it is deep enough, after about {}.{fast}", say::time(last.at_s)))
}

/// What to keep under: time, current, warmth.
pub fn limits(case: &Case, u: System) -> String {
    let bounds = &case.bounds;
    let cells = case.setup.source.pack().map_or_else(String::new, |pack| {
        format!(
            " Cells no warmer than {} inside, {} to the touch.",
            u.temperature(pack.temperature_limit_k),
            u.temperature(bounds.touch_k)
        )
    });
    let own = bounds.own_density.map_or_else(String::new, |own| {
        let most = say::current(own * case.setup.piece.exposed_area);
        format!("No more than {most} ({} of bare metal). ", u.density(own))
    });
    let rated = bounds
        .rated_current
        .map_or_else(String::new, |a| format!(" The adapter is rated for {}.", say::current(a)));
    format!("{own}Bath no warmer than {}.{cells}{rated}", u.temperature(bounds.resist_k),)
}

/// The current, from start to end; none where none flows.
pub fn current(case: &Case, u: System) -> Option<String> {
    let run = &case.run;
    (run.stop != Stop::NoCurrent).then(|| {
        format!(
            "{} at the start ({} of bare metal), {} at the end.",
            say::current(run.start_current_a),
            u.density(run.start_current_density),
            say::current(run.end_current_a)
        )
    })
}

/// The voltages.
pub fn voltage(case: &Case) -> String {
    let run = &case.run;
    let back = if run.start_back_emf_v < 5e-3 {
        String::new()
    } else {
        format!(", of which the metals push back {}", say::voltage(run.start_back_emf_v))
    };
    format!(
        "{} at the source under load, {} at the end; {} across the bath{back}.",
        say::voltage(run.start_source_v),
        say::voltage(run.end_source_v),
        say::voltage(run.start_bath_v),
    )
}

/// What takes the voltage, the most first.
pub fn held_back(plan: &Plan) -> Option<String> {
    let list: Vec<String> = plan
        .shares
        .as_ref()?
        .iter()
        .filter(|s| s.share >= 0.005)
        .map(|s| format!("{} {}", taker(s.of), say::share(s.share)))
        .collect();
    Some(format!("by {}.", list.join(", ")))
}

/// How warm bath and cells get.
pub fn warmth(case: &Case, u: System) -> String {
    let run = &case.run;
    let bath = format!(
        "Bath {} to {}",
        u.temperature(case.setup.bath.temperature_k),
        u.temperature(run.end_bath_k)
    );
    match (run.peak_hot_spot_k, run.peak_surface_k, case.setup.source.pack()) {
        (Some(hot), Some(surface), Some(pack)) => format!(
            "{bath}. Cells at most {} inside (limit {}) and {} at the surface (skin bears {}).",
            u.temperature(hot),
            u.temperature(pack.temperature_limit_k),
            u.temperature(surface),
            u.temperature(case.bounds.touch_k)
        ),
        _ => format!("{bath}."),
    }
}

/// What dissolves, and where the silver goes.
pub fn metal(plan: &Plan, u: System) -> String {
    let (run, alloy) = (&plan.case().run, &plan.case().job.piece.alloy);
    let parts: Vec<String> = run
        .removed_kg
        .iter()
        .map(|(symbol, kg)| format!("{} {}", say::mass(*kg), alloy.name_of(symbol)))
        .collect();
    let silver = silver(plan).map_or_else(String::new, |text| format!(" {text}"));
    format!(
        "{} dissolved ({}); undercut {} at each edge.{silver}",
        say::mass(run.metal_removed_kg),
        parts.join(", "),
        u.depth(run.undercut_m),
    )
}

/// Where the silver is when the current goes off, and after a night; none without any.
pub fn silver(plan: &Plan) -> Option<String> {
    let run = &plan.case().run;
    let (_, all) = run.removed_kg.iter().find(|(symbol, kg)| symbol == "Ag" && *kg > 0.0)?;
    let (end, night) = (run.end_silver, run.night_silver);
    let drawn = plan.spread.as_ref().and_then(|s| s.outcomes.silver_kg);
    let range = |q: Option<Quantiles>| match q.and_then(|q| q.p10.zip(q.p90)) {
        Some((low, high)) => format!(" ({} to {})", say::mass(low), say::mass(high)),
        None => String::new(),
    };
    let loose = if end.loose > 0.01 * end.down() {
        format!(", {} of it loose", say::mass(end.loose))
    } else {
        ", none of it loose (a dark skin that benches take for copper: weigh it once)".into()
    };
    Some(format!(
        "Of {} silver about {}{} is on the pan when you stop{loose}; left overnight, all but \
         {}{} falls there too. Keep bath, pan and sludge.",
        say::mass(*all),
        say::mass(end.down()),
        range(drawn.map(|d| d.0)),
        say::mass(night.solution.max(0.0)),
        range(drawn.map(|d| d.1)),
    ))
}

/// What the cells give and keep; none without cells.
pub fn charge(case: &Case) -> Option<String> {
    let (wells, pack) = (case.run.wells_end?, case.setup.source.pack()?);
    if case.setup.then.is_some() {
        return None; // the last of several sources is not the first
    }
    Some(format!(
        "{} from each cell; {} of a full charge is left at the end, {} of what is at hand \
         without a rest.",
        say::charge(case.run.charge_c / pack.parallel),
        say::share(wells.total),
        say::share(wells.available)
    ))
}
