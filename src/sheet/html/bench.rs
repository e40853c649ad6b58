//! What is done at the bench, in its order: wire, set up, look, stop, rest.

use super::mark::Markup;
use super::wiring::diagram;
use crate::advice::look::{Live, Point};
use crate::advice::{Case, End, Finding, Level, Plan};
use crate::job::{Hung, Source};
use crate::sheet::words::size::source_words;
use crate::sheet::words::{charge, faults, plan as words, rest as rests};
use crate::stock::{Named, Stock};
use crate::units::say::{self, System};

/// What to wire: the diagram and the same in words.
pub fn wire(m: &mut Markup, plan: &Plan, u: System) {
    m.part("wire", "Wire", |m| {
        let case = plan.case();
        picture(m, case, (&case.source, &words::sources(case, u)), u);
        m.said("p", &[], &words::standing(&plan.own, u));
    });
}

fn picture(m: &mut Markup, case: &Case, (source, said): (&Source, &str), u: System) {
    m.open("figure", &[]);
    m.trusted(&diagram(case, source, u));
    let leads = words::leads(case, u);
    let text = format!("{said} {} Leads of {leads}.", words::poles(case));
    m.said("figcaption", &[], &text);
    m.close();
}

/// Whether it stops for heat in one go, and comes to depth with rests.
pub fn saved(plan: &Plan) -> bool {
    let rested = plan.own.feasible() && plan.own.rest.is_some();
    rested
        && plan
            .findings
            .iter()
            .all(|f| f.level() != Level::Stop || matches!(f, Finding::Ends(End::Hot { .. })))
}

/// The source that would do where the job's own does not.
pub fn instead(m: &mut Markup, plan: &Plan, u: System) {
    m.said("p", &[], &words::instead(plan));
    let Some(other) = &plan.instead else {
        return;
    };
    let source = &other.case.source;
    picture(m, plan.case(), (source, &words::source(source)), u);
    let text = format!(
        "Put {} into the job file and plan again: this sheet has no looks and no rests for it yet.",
        source_words(&other.case.source)
    );
    m.said("p", &[], &text);
}

/// Steps with a box each.
pub fn set_up(m: &mut Markup, plan: &Plan, stock: &Stock, u: System) {
    m.part("set-up", "Set up", |m| {
        m.open("ol", &[("class", "steps")]);
        for (n, (what, text)) in steps(plan, stock, u).iter().enumerate() {
            m.open("li", &[]);
            m.open("label", &[]);
            let id = format!("step-{}", n + 1);
            m.void("input", &[("type", "checkbox"), ("id", &id)]);
            m.open("span", &[]);
            m.leaf("strong", &[], &format!("{what} "));
            m.prose(text);
            m.close();
            m.close();
            m.close();
        }
        m.close();
    });
}

fn steps(plan: &Plan, stock: &Stock, u: System) -> Vec<(&'static str, String)> {
    let mut list = vec![("Resist.", resist(plan, stock)), ("Bath.", bath(plan, u))];
    list.push(("Hang.", {
        let level = if plan.case().job.bath.hung == Hung::FaceDown { " Level it." } else { "" };
        words::hang(plan.case(), u) + level
    }));
    list.push(("Clip.", format!("{} Bright metal under the clips.", words::poles(plan.case()))));
    if matches!(plan.case().source, Source::Supply(_)) {
        list.push(("Set.", words::source(&plan.case().source)));
    }
    list.push(("Limits.", words::limits(plan.case(), u)));
    if let Some(meter) = faults::meter(plan) {
        let wrong = faults::wrong(plan).map_or_else(String::new, |w| format!(" Far off: {w}"));
        list.push(("Switch on.", format!("Expect {meter}{wrong}")));
    }
    list
}

fn resist(plan: &Plan, stock: &Stock) -> String {
    let over = match plan.case().job.bath.hung.faces() {
        1 => "over all that must stay, the back and the edges too",
        _ => "over all that must stay on both faces, the edges too",
    };
    let named = plan.case().bounds.resist.as_ref();
    match stock.resists.resist.iter().find(|r| named.is_some_and(|n| r.name() == n)) {
        Some(resist) => format!("{} {over}; {}.", capital(&resist.name), resist.note),
        None => format!("Any usual resist {over}. {}.", capital(&stock.resists.default.note)),
    }
}

fn bath(plan: &Plan, u: System) -> String {
    format!("Weigh {}. It stands {}.", words::weigh(plan.case(), u), words::stand(plan.case(), u))
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}

/// Times to look, a box to tick and room to write.
pub fn looks(m: &mut Markup, plan: &Plan, u: System) {
    if saved(plan) {
        m.part("look", "Look", |m| {
            clock(m, plan, u);
            m.said("p", &[], "Look in every rest, with the current off, and write down the depth.");
        });
        return;
    }
    let checks = &plan.looks.checks;
    if !plan.done() || checks.is_empty() {
        return;
    }
    m.part("look", "Look", |m| {
        clock(m, plan, u);
        // Roles are told again, for a narrow screen lays the rows out anew.
        m.open("table", &[("class", "looks"), ("role", "table")]);
        m.leaf(
            "caption",
            &[],
            "Time with the current on, and the depth to expect. Current off for each look.",
        );
        m.open("thead", &[("role", "rowgroup")]);
        m.open("tr", &[("role", "row")]);
        for head in ["Done", "After", "Depth", "Found"] {
            m.leaf("th", &[("scope", "col"), ("role", "columnheader")], head);
        }
        m.close();
        m.close();
        m.open("tbody", &[("role", "rowgroup")]);
        ammeter(m, plan);
        for (n, check) in checks.iter().enumerate() {
            let last = n + 1 == checks.len();
            let at = if last { say::time(check.at_s) } else { say::moment(check.at_s) };
            row(m, n + 1, &at, check.at_s, &u.depth(check.depth_m), last);
        }
        m.close();
        m.close();
        if plan.live.is_some() {
            m.said("p", &[("class", "small")], LIVE);
        }
    });
}

/// What the sheet makes of what is typed into it.
const LIVE: &str = "What you type under Found moves the looks and the stop to come. That is worked out \
                    to first order, within 3 % of the time that `restbite look` says.";

/// The ammeter's own row, before the first look.
fn ammeter(m: &mut Markup, plan: &Plan) {
    let Some(right) = plan.meter.as_ref().map(|meter| meter.right) else {
        return;
    };
    let Some(amps) = right.current_a.p50 else {
        return;
    };
    let at = say::time(right.at_s);
    m.open("tr", &[("role", "row"), ("class", "ammeter")]);
    m.leaf("td", &[("role", "cell"), ("class", "tick")], "");
    m.said("th", &[("scope", "row"), ("role", "rowheader")], &at);
    m.open("td", &[("role", "cell")]);
    m.prose(&say::current(amps));
    m.leaf("small", &[], "ammeter");
    m.close();
    let seconds = format!("{:.0}", right.at_s);
    let name = format!("Ammeter after {at}");
    let field = [("id", "found-amps"), ("aria-label", name.as_str()), ("data-amps", &seconds)];
    found(m, &field);
    m.close();
}

fn found(m: &mut Markup, own: &[(&str, &str)]) {
    m.open("td", &[("role", "cell"), ("class", "found")]);
    let usual = [("type", "text"), ("autocomplete", "off"), ("placeholder", "found")];
    let field: Vec<(&str, &str)> = usual.iter().chain(own).copied().collect();
    m.void("input", &field);
    m.close();
}

/// What is wrong where the meter shows something else.
pub fn meter(m: &mut Markup, plan: &Plan, u: System) {
    let Some(meter) = &plan.meter else {
        return;
    };
    let Some(right) = faults::right(meter) else {
        return;
    };
    m.part("meter", "Meter", |m| {
        let worth = faults::worth(meter).unwrap_or_default();
        m.said(
            "p",
            &[],
            &format!("The ammeter shows {right} in eight right set-ups of ten. {worth}"),
        );
        if let Some(current) = words::current(plan.case(), u) {
            m.said("p", &[], &format!("{current} {}", words::voltage(plan.case())));
        }
        m.open("details", &[("class", "faults")]);
        m.leaf("summary", &[], "If it shows something else");
        m.open("ul", &[]);
        for [fault, amps, volts, like, remedy] in faults::table(meter, u) {
            m.open("li", &[]);
            m.leaf("strong", &[], &format!("{amps}, {volts} across the bath "));
            let like =
                if like.is_empty() { String::new() } else { format!(" Reads like: {like}.") };
            m.prose(&format!("{fault}. {remedy}{like}"));
            m.close();
        }
        m.close();
        m.close();
    });
}

fn row(m: &mut Markup, n: usize, at: &str, at_s: f64, depth: &str, last: bool) {
    let seconds = format!("{at_s:.0}");
    let last_one = if last { "yes" } else { "no" };
    m.open("tr", &[("role", "row"), ("data-at", &seconds), ("data-last", last_one)]);
    m.open("td", &[("role", "cell"), ("class", "tick")]);
    let (tick, found) = (format!("look-{n}"), format!("found-{n}"));
    let name = format!("Looked after {at}");
    m.open("label", &[]);
    m.void("input", &[("type", "checkbox"), ("id", &tick), ("aria-label", &name)]);
    m.close();
    m.close();
    m.said("th", &[("scope", "row"), ("role", "rowheader")], at);
    m.open("td", &[("role", "cell")]);
    m.prose(depth);
    if last {
        m.leaf("small", &[], "stop");
    }
    m.close();
    let name = format!("Found after {at}");
    self::found(m, &[("id", found.as_str()), ("aria-label", name.as_str())]);
    m.close();
}

/// The clock, for the script to wake.
fn clock(m: &mut Markup, plan: &Plan, u: System) {
    let cycle = plan.own.rest.map(|r| r.cycle);
    let seconds = |s: Option<f64>| s.map_or_else(String::new, |s| format!("{s:.0}"));
    let (on, off) = (seconds(cycle.map(|c| c.on_s)), seconds(cycle.map(|c| c.off_s)));
    let live = plan.live.as_ref().filter(|_| !saved(plan)).map_or_else(String::new, carried);
    let unit = if u == System::Imperial { "in" } else { "mm" };
    let root = [
        ("data-live", live.as_str()),
        ("data-unit", unit),
        ("class", "clock"),
        ("id", "clock"),
        ("data-on", on.as_str()),
        ("data-off", off.as_str()),
        ("hidden", ""),
    ];
    m.open("div", &root);
    m.leaf("p", &[("class", "run"), ("id", "run"), ("role", "timer")], "0:00");
    m.leaf("p", &[("class", "next"), ("id", "next")], "");
    m.leaf("p", &[("class", "next"), ("id", "corrected"), ("role", "status")], "");
    m.open("div", &[("class", "buttons")]);
    m.leaf("button", &[("type", "button"), ("id", "switch")], "Current on");
    m.leaf("button", &[("type", "button"), ("id", "anew"), ("class", "second")], "Begin anew");
    m.close();
    m.leaf("p", &[("class", "ring"), ("id", "ring"), ("role", "status")], "");
    m.close();
}

/// What the script corrects the looks by, as JSON: times, and for depth and current at each the
/// logarithm, its slopes along the unknowns, the variance of the rest.
fn carried(live: &Live) -> String {
    let points = |list: &[Point]| -> Vec<String> {
        let numbers = |p: &Point| {
            let all = [p.ln].into_iter().chain(p.slopes).chain([p.rest]);
            all.map(|x| format!("{x:.4}")).collect::<Vec<_>>().join(",")
        };
        list.iter().map(|p| format!("[{}]", numbers(p))).collect()
    };
    let times: Vec<String> = live.t_s.iter().map(|t| format!("{t:.1}")).collect();
    format!(
        "{{\"t\":[{}],\"depth\":[{}],\"amps\":[{}],\"target\":{:e}}}",
        times.join(","),
        points(&live.depth).join(","),
        points(&live.current).join(","),
        live.target_m
    )
}

/// When to stop.
pub fn stop(m: &mut Markup, plan: &Plan, u: System) {
    m.part("stop", "Stop", |m| {
        m.said("p", &[], &words::stop(plan).unwrap_or_else(|| unwatched(plan, u)));
        // The run in one go, which this is of, is not the one to be made.
        if !saved(plan) {
            m.said("p", &[], &words::metal(plan, u));
        }
    });
}

/// When to stop where no looks are planned.
fn unwatched(plan: &Plan, u: System) -> String {
    if saved(plan) {
        return format!("Stop at {}.", u.depth(plan.case().setup.piece.depth));
    }
    words::time(plan.case(), u)
}

/// When to rest, and what a charge gives.
pub fn rest(m: &mut Markup, plan: &Plan, u: System) {
    m.part("rest", "Rest", |m| match &plan.rests {
        None => m.said("p", &[], rests::NO_CELLS),
        Some(rest) => {
            m.said("p", &[("class", "cycle")], &rests::sentence(plan.case(), rest, u));
            m.said("p", &[], &rests::after(rest));
            if let Some(charge) = words::charge(plan.case()).filter(|_| !saved(plan)) {
                m.said("p", &[], &charge);
            }
            if plan.case().run.wells_end.is_some() {
                m.said("p", &[], &charge::sentence(plan.case(), &plan.charge, u));
            }
        }
    });
}
