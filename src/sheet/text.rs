//! The plan on a terminal: one page, the answer first. Colours are ANSI; the door takes
//! them out for a pipe.

use super::csv;
use super::page::Page;
use super::text_size;
use crate::advice::size::source_words;
use crate::advice::{Advice, Plan};
use crate::job::{Pack, Source};
use crate::run::Stop;
use crate::units::say::{self, System};
use crate::units::{Outline, Quantity};

/// The answer of `trace`: the table, or why there is none.
pub fn trace(advice: &Advice, units: System) -> String {
    match advice {
        Advice::Plan(plan) => csv::trace(&plan.trace),
        Advice::Refused(finding) => {
            let mut page = Page::default();
            page.finding(finding, units);
            page.text
        }
    }
}

/// The answer of `plan`.
pub fn plan(advice: &Advice, units: System) -> String {
    let mut page = Page::default();
    match advice {
        Advice::Refused(finding) => page.finding(finding, units),
        Advice::Plan(plan) => {
            head(&mut page, plan, units);
            set_up(&mut page, plan, units);
            source(&mut page, plan, units);
            when(&mut page, plan, units);
            electricity(&mut page, plan, units);
            outcome(&mut page, plan, units);
            page.blank();
            for finding in &plan.findings {
                page.finding(finding, units);
            }
            page.blank();
            page.row("Cautions", &plan.cautions.join(" "));
        }
    }
    page.text
}

fn head(page: &mut Page, plan: &Plan, u: System) {
    let p = &plan.job.piece;
    page.title(&plan.job.title);
    let count = if p.count > 1 { format!("{} pieces, each ", p.count) } else { String::new() };
    let text = format!(
        "{count}{} deep into {} of {}; {} bare of {}",
        u.depth(plan.setup.piece.depth),
        u.sheet(plan.setup.piece.thickness),
        p.alloy.title,
        u.area(plan.geometry.bare_m2 / f64::from(p.count)),
        u.area(p.outline_m2()),
    );
    page.lines(&text);
    page.blank();
}

fn set_up(page: &mut Page, plan: &Plan, u: System) {
    let leads = &plan.job.leads;
    let source = match &plan.source {
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
    };
    let clips = if leads.clips == 1 { "1 clip".into() } else { format!("{} clips", leads.clips) };
    page.row(
        "Wire",
        &format!(
            "{source} Plus to the sheet, minus to the pan. Leads of {}, {} each way, {clips}.",
            leads.wire_name,
            u.length(leads.length.si())
        ),
    );
    let b = &plan.job.bath;
    let pan = match b.pan.is {
        Outline::Rectangle(x, y) => format!("{} by {}", u.length(x.si()), u.length(y.si())),
        Outline::Disc(d) => format!("{} round", u.length(d.si())),
        Outline::Area(a) => u.area(a.si()),
    };
    page.row(
        "Bath",
        &format!(
            "{} of {} {} ({} of the dry salt), {}, at {}, {} deep in a pan {pan}. The sheet hangs \
             face down, {} over the pan.",
            u.volume(b.volume.is.si()),
            say::molar(b.concentration.is.si()),
            b.stock.title,
            say::mass(b.concentration.is.si() * b.volume.is.si() * b.stock.molar_mass.is.si()),
            if b.stirred { "stirred" } else { "still" },
            u.temperature(b.temperature.si()),
            u.length(b.depth_m()),
            u.length(b.gap.is.si()),
        ),
    );
}

/// How the source stands, and what would do where it does not.
fn source(page: &mut Page, plan: &Plan, u: System) {
    let Some(judged) = &plan.judged else {
        return;
    };
    if judged.feasible() {
        let rest = judged.rest.map_or_else(String::new, |r| {
            format!(
                " with {} on and {} off in turn, {} in all",
                say::time(r.cycle.on_s),
                say::time(r.cycle.off_s),
                say::time(r.elapsed_s)
            )
        });
        page.row("Source", &format!("Does the job{rest}. {}", text_size::tightest(judged)));
        return;
    }
    let why: Vec<String> = judged.reasons.iter().map(|r| r.text(u)).collect();
    let instead = match &plan.instead {
        Some(o) => format!(
            "`restbite size` would take {}: {}.",
            source_words(&o.source),
            say::time(o.elapsed_s())
        ),
        None => "`restbite size` tells what would have to give.".into(),
    };
    page.row("Source", &format!("Not fit for it: {}. {instead}", why.join("; ")));
}

fn pack_in_words(pack: &Pack) -> String {
    let (series, parallel) = (pack.series.is, pack.parallel);
    let cell = &pack.cell;
    let kind = format!("{} ({})", cell.name, cell.title);
    let wired = match (series, parallel) {
        (1, 1) => format!("One {kind}"),
        (_, 1) => format!("{series} {kind} in series"),
        (1, _) => format!("{parallel} {kind} side by side"),
        _ => format!(
            "{} {kind}, {parallel} strings side by side of {series} in series",
            series * parallel
        ),
    };
    let charge = match pack.charge_left.si() {
        left if left < 1.0 => format!(", {} charged", say::share(left)),
        _ => String::new(),
    };
    format!("{wired}{charge}; holder: {}.", pack.holder.name)
}

fn when(page: &mut Page, plan: &Plan, u: System) {
    let run = &plan.run;
    let time = say::time(run.time_s);
    let text = match run.stop {
        Stop::Depth => format!("About {time} to {}.", u.depth(run.depth_m)),
        _ => format!(
            "Stops after {time} at {} of {}: see below.",
            u.depth(run.depth_m),
            u.depth(plan.setup.piece.depth)
        ),
    };
    page.row("Time", &text);
    let checks = &plan.looks.checks;
    if let (Some((last, before)), Stop::Depth) = (checks.split_last(), run.stop) {
        let looks: Vec<String> = before
            .iter()
            .enumerate()
            .map(|(n, c)| {
                let by_then = if n == 0 { " deep by then" } else { "" };
                format!("{} ({}{by_then})", say::moment(c.at_s), u.depth(c.depth_m))
            })
            .collect();
        let first =
            if looks.is_empty() { String::new() } else { format!("After {}. ", many(&looks)) };
        let fast = plan.looks.fast_s.map_or_else(String::new, |t| {
            format!(" One piece in ten is that deep after {} already.", say::time(t))
        });
        page.row(
            "Look",
            &format!(
                "{first}Stop when it is deep enough, after about {}.{fast}",
                say::time(last.at_s)
            ),
        );
    }
}

/// A list in words, its middle left out when it is long.
fn many(looks: &[String]) -> String {
    const MOST: usize = 8;
    if looks.len() <= MOST {
        return looks.join(", ");
    }
    let (head, tail) = (&looks[..MOST - 2], &looks[looks.len() - 1]);
    format!("{} and so on to {tail}", head.join(", "))
}

fn electricity(page: &mut Page, plan: &Plan, u: System) {
    let run = &plan.run;
    if run.stop == Stop::NoCurrent {
        return;
    }
    page.row(
        "Current",
        &format!(
            "{} at the start ({} of bare metal), {} at the end.",
            say::current(run.start_current_a),
            u.density(run.start_current_density),
            say::current(run.end_current_a)
        ),
    );
    let back = if run.start_back_emf_v < 5e-3 {
        String::new()
    } else {
        format!(", of which the metals push back {}", say::voltage(run.start_back_emf_v))
    };
    page.row(
        "Voltage",
        &format!(
            "{} at the source under load, {} at the end; {} across the bath{back}.",
            say::voltage(run.start_source_v),
            say::voltage(run.end_source_v),
            say::voltage(run.start_bath_v),
        ),
    );
    if let Some(shares) = &plan.shares {
        let list: Vec<String> = shares
            .0
            .iter()
            .filter(|s| s.share >= 0.005)
            .map(|s| format!("{} {}", s.name, say::share(s.share)))
            .collect();
        page.row("Held back", &format!("by {}.", list.join(", ")));
    }
}

fn outcome(page: &mut Page, plan: &Plan, u: System) {
    let run = &plan.run;
    let bath = format!(
        "Bath {} to {}",
        u.temperature(plan.setup.bath.temperature_k),
        u.temperature(run.end_bath_k)
    );
    let warmth = match (run.peak_hot_spot_k, run.peak_surface_k, plan.setup.source.pack()) {
        (Some(hot), Some(surface), Some(pack)) => format!(
            "{bath}. Cells at most {} inside (limit {}) and {} at the surface (skin bears {}).",
            u.temperature(hot),
            u.temperature(pack.temperature_limit_k),
            u.temperature(surface),
            u.temperature(plan.bounds.touch_k)
        ),
        _ => format!("{bath}."),
    };
    page.row("Warmth", &warmth);
    let alloy = &plan.job.piece.alloy;
    if let Some(rests) = &plan.rests {
        page.row("Rest", &super::rest::sentence(plan, rests, u));
    }
    let parts: Vec<String> = run
        .removed_kg
        .iter()
        .map(|(symbol, kg)| format!("{} {}", say::mass(*kg), alloy.name_of(symbol)))
        .collect();
    page.row(
        "Metal",
        &format!(
            "{} dissolved ({}); undercut {} at each edge.{}",
            say::mass(run.metal_removed_kg),
            parts.join(", "),
            u.depth(run.undercut_m),
            plan.silver.map_or_else(String::new, |silver| format!(
                " Of the silver, {} stays in the bath and {} falls on the pan and as sludge: keep it.",
                say::mass(silver.bath_kg),
                say::mass(silver.pan_kg)
            ))
        ),
    );
    if let (Some(wells), Some(pack)) = (run.wells_end, plan.setup.source.pack()) {
        page.row(
            "Charge",
            &format!(
                "{} from each cell; {} of a full charge is left at the end, {} of what is at hand \
                 without a rest.",
                say::charge(run.charge_c / pack.parallel),
                say::share(wells.total),
                say::share(wells.available)
            ),
        );
    }
    if let Some(charge) = plan.charge.as_ref().filter(|_| run.wells_end.is_some()) {
        page.row("Pieces", &super::charge::sentence(plan, charge, u));
    }
    if let Some(spread) = &plan.spread {
        page.row("How sure", &super::spread::sentence(plan, spread, u));
    }
}
