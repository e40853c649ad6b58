//! The whole file: head, style, script, and the parts of the sheet in their order.

use super::mark::Markup;
use super::{bench, numbers, watch};
use crate::advice::{Level, Plan};
use crate::job::Refused;
use crate::sheet::plots::Plot;
use crate::sheet::words::findings::word;
use crate::sheet::words::{plan as words, verdict};
use crate::units::say::{self, System};

/// Name of the file.
pub const NAME: &str = "sheet.html";

pub(super) const STYLE: &str = include_str!("style.css");
pub(super) const SCRIPT: &str = include_str!("script.js");
/// Nothing from outside, whatever gets into the file.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; \
                      img-src data:";

/// The sheet of a job, with its plots.
pub fn sheet(plan: &Plan, plots: &[Plot], u: System) -> String {
    let mut body = Markup::default();
    whole(&mut body, plan, plots, u);
    page(&plan.case().job.title, &body.done())
}

/// The sheet of a job that is refused: a short one that says why.
pub fn refused(why: &Refused) -> String {
    let title = "Not to be etched so";
    let mut body = Markup::default();
    body.open("header", &[]);
    body.leaf("h1", &[], title);
    body.close();
    body.open("main", &[]);
    barred(&mut body, FORBIDDEN, &[&why.text]);
    body.close();
    page(title, &body.done())
}

/// Head and body of the file.
fn page(title: &str, body: &str) -> String {
    let mut m = Markup::default();
    m.trusted("<!DOCTYPE html>\n");
    m.open("html", &[("xmlns", "http://www.w3.org/1999/xhtml"), ("lang", "en")]);
    m.open("head", &[]);
    m.void("meta", &[("charset", "utf-8")]);
    m.void("meta", &[("name", "viewport"), ("content", "width=device-width, initial-scale=1")]);
    m.void("meta", &[("http-equiv", "Content-Security-Policy"), ("content", POLICY)]);
    m.void("meta", &[("name", "color-scheme"), ("content", "light dark")]);
    m.void("link", &[("rel", "icon"), ("href", "data:,")]);
    m.leaf("title", &[], &format!("{title}: bench sheet"));
    m.open("style", &[]);
    m.trusted(STYLE);
    m.close();
    m.close();
    m.open("body", &[("data-sheet", &fingerprint(body))]);
    m.trusted(body);
    m.open("script", &[]);
    m.trusted("//<![CDATA[\n");
    m.trusted(SCRIPT);
    m.trusted("//]]>\n");
    m.done()
}

/// Tells one sheet's ticks from another's: FNV-1a, 64 bits (its constants from memory).
fn fingerprint(text: &str) -> String {
    let hash = text.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{hash:016x}")
}

fn whole(m: &mut Markup, plan: &Plan, plots: &[Plot], u: System) {
    let (case, stock) = (plan.case(), plan.case().stock);
    let stops = plan.findings.iter().filter(|f| f.level() == Level::Stop);
    let mut words: Vec<String> = stops.map(|f| word(f, u)).collect();
    if words.is_empty() && !plan.done() {
        words.push(verdict::plan(plan, u));
    }
    let barring: Vec<&String> = words.iter().collect();
    m.open("header", &[]);
    m.leaf("h1", &[], &case.job.title);
    m.said("p", &[("class", "piece")], &words::piece(case, u));
    m.said("p", &[("class", "lead")], &lead(plan, u));
    m.close();
    m.open("main", &[]);
    if plan.done() || bench::saved(plan) {
        if !plan.done() {
            barred(m, "Not in one go: rest in between", &barring);
        }
        bench::wire(m, plan, u);
        bench::set_up(m, plan, stock, u);
        bench::meter(m, plan, u);
        bench::looks(m, plan, u);
        bench::stop(m, plan, u);
        bench::rest(m, plan, u);
    } else {
        barred(m, FORBIDDEN, &barring);
        m.part("instead", "Instead", |m| bench::instead(m, plan, u));
    }
    watch::watch(m, plan, u);
    watch::how_sure(m, plan, u);
    watch::over_time(m, plots);
    numbers::numbers(m, case, u);
    m.close();
    m.open("footer", &[]);
    let made = concat!("Made by restbite ", env!("CARGO_PKG_VERSION"), ". ");
    let text = "Numbers are worked out, not measured: look, and believe the metal.";
    m.said("p", &[], &format!("{made}{text}"));
    m.close();
}

/// The verdict, and the first look.
fn lead(plan: &Plan, u: System) -> String {
    let first = plan.looks.checks.first().filter(|_| plan.looks.checks.len() > 1);
    let first = first
        .filter(|_| plan.done())
        .map_or_else(String::new, |look| format!(" Look first after {}.", say::moment(look.at_s)));
    format!("{}{first}", verdict::plan(plan, u))
}

const FORBIDDEN: &str = "Do not etch this as it is described";

/// What forbids the job as it is described.
fn barred(m: &mut Markup, heading: &str, why: &[&String]) {
    m.part("barred", heading, |m| {
        for text in why {
            m.open("p", &[]);
            m.leaf("strong", &[], "STOP ");
            m.prose(text);
            m.close();
        }
    });
}
