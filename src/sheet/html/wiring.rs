//! The wiring diagram: source above, its plus lead down to the sheet, its minus lead down to
//! the pan. Small packs are shown cell by cell, large ones shortened with their numbers.

use super::mark::Markup;
use super::symbols::{At, Diagram, PLATE};
use crate::advice::Case;
use crate::job::{Pack, Source};
use crate::sheet::words::plan as words;
use crate::units::Quantity;
use crate::units::say::{self, System};

const WIDTH: f64 = 340.0;
/// Where the two leads run down.
const MINUS_X: f64 = 16.0;
const PLUS_X: f64 = WIDTH - 16.0;
/// Where the strings of a pack end.
const LEFT: f64 = 52.0;
const RIGHT: f64 = WIDTH - 52.0;
/// Most cells of a string and most strings that are shown one by one.
const MOST_SERIES: u32 = 8;
const MOST_PARALLEL: u32 = 4;
const ROW: f64 = 38.0;
const LINE: f64 = 18.0;

/// The diagram for the job's piece and bath, on a source of its own or another.
pub fn diagram(case: &Case, source: &Source, u: System) -> String {
    let mut d = Diagram(Markup::default());
    let (below, leave) = match source {
        Source::Pack(pack) => cells(&mut d, pack),
        Source::Supply(s) => {
            let limit = s.current_limit.map(|a| format!("limit {}", say::current(a.si())));
            let set = format!("set {}", say::voltage(s.voltage.si()));
            let line = [Some(set), limit].into_iter().flatten().collect::<Vec<_>>().join(", ");
            converter(&mut d, "bench supply", &line)
        }
        Source::Adapter(a) => {
            let line = format!("{} without load", say::voltage(a.open_voltage.si()));
            converter(&mut d, "plug-in adapter", &line)
        }
    };
    let height = bench(&mut d, case, below, leave, u);
    let alt = format!("{} {}", words::source(source), words::poles(case));
    let mut out = Markup::default();
    let view = format!("0 0 {WIDTH} {height}");
    let root = [
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "wiring"),
        ("viewBox", view.as_str()),
        ("role", "img"),
        ("aria-label", alt.as_str()),
    ];
    out.open("svg", &root);
    out.leaf("title", &[], "Wiring diagram");
    out.trusted(&d.0.done());
    out.done()
}

/// Mains to direct current; the height below it and that at which its leads leave.
fn converter(d: &mut Diagram, name: &str, line: &str) -> (f64, f64) {
    let at = (WIDTH / 2.0, 62.0);
    d.words("quiet", (at.0, 16.0), "middle", WIDTH, "mains");
    d.converter(at);
    for (x, edge, plus) in [(LEFT + 34.0, -32.0, false), (RIGHT - 34.0, 32.0, true)] {
        let class = if plus { "lead plus" } else { "lead minus" };
        d.line(class, &[(at.0 + edge, at.1), (x, at.1)]);
        d.pole(plus, (x, at.1 - 16.0));
        let corner = if plus { PLUS_X } else { MINUS_X };
        d.line(class, &[(x, at.1), (corner, at.1)]);
    }
    d.words("strong", (at.0, at.1 + 24.0 + LINE), "middle", 250.0, name);
    d.words("", (at.0, at.1 + 24.0 + 2.0 * LINE), "middle", 250.0, line);
    (at.1 + 24.0 + 2.0 * LINE + 6.0, at.1)
}

/// Cells; the height below them and that at which their leads leave.
fn cells(d: &mut Diagram, pack: &Pack) -> (f64, f64) {
    let (series, parallel) = (pack.series.is, pack.parallel);
    let name = words::cells(pack);
    let (first, second) = name.split_once(", ").unwrap_or((&name, ""));
    d.words("strong", (WIDTH / 2.0, 15.0), "middle", 320.0, first);
    let mut top = 44.0;
    if !second.is_empty() {
        d.words("", (WIDTH / 2.0, 15.0 + LINE), "middle", 330.0, second);
        top += LINE;
    }
    let shown = if parallel > MOST_PARALLEL { 3 } else { parallel };
    let left_out = parallel > MOST_PARALLEL;
    let heights: Vec<f64> = (0..shown)
        .map(|row| {
            let aside = if left_out && row == 2 { 0.8 * ROW } else { 0.0 };
            top + ROW * f64::from(row) + aside
        })
        .collect();
    for y in &heights {
        string(d, *y, series);
    }
    let last = heights.last().copied().unwrap_or(top);
    let middle = if left_out { heights[1] } else { 0.5 * (top + last) };
    if left_out {
        let y = 0.5 * (heights[1] + last);
        d.line("left-out", &[(LEFT, heights[1]), (LEFT, last)]);
        d.line("left-out", &[(RIGHT, heights[1]), (RIGHT, last)]);
        let text = format!("and so on: {parallel} strings");
        d.words("", (WIDTH / 2.0, y + 5.0), "middle", 230.0, &text);
        d.line("wire", &[(LEFT, top), (LEFT, heights[1])]);
        d.line("wire", &[(RIGHT, top), (RIGHT, heights[1])]);
    } else if shown > 1 {
        d.line("wire", &[(LEFT, top), (LEFT, last)]);
        d.line("wire", &[(RIGHT, top), (RIGHT, last)]);
    }
    let inner = heights.get(1..heights.len().saturating_sub(1)).unwrap_or_default();
    for y in inner.iter().chain([&middle]) {
        d.dot("joint", (LEFT, *y), 2.5);
        d.dot("joint", (RIGHT, *y), 2.5);
    }
    d.line("lead minus", &[(LEFT, middle), (MINUS_X, middle)]);
    d.line("lead plus", &[(RIGHT, middle), (PLUS_X, middle)]);
    d.pole(false, (LEFT - 16.0, middle - 16.0));
    d.pole(true, (RIGHT + 16.0, middle - 16.0));
    (last + 24.0, middle)
}

/// One string of cells at a height.
fn string(d: &mut Diagram, y: f64, series: u32) {
    let plates = |middle: f64| (middle - PLATE, middle + PLATE);
    let (cells, pause): (Vec<f64>, Option<(f64, f64)>) = if series <= MOST_SERIES {
        let apart = (RIGHT - LEFT) / f64::from(series.max(3) + 1);
        let first = 0.5 * (LEFT + RIGHT) - 0.5 * apart * f64::from(series - 1);
        ((0..series).map(|n| first + apart * f64::from(n)).collect(), None)
    } else {
        let (a, b) = (LEFT + 24.0, RIGHT - 24.0);
        (vec![a, a + 26.0, b - 26.0, b], Some((a + 44.0, b - 44.0)))
    };
    let mut from = LEFT;
    for at in &cells {
        let (minus, plus) = plates(*at);
        match pause.filter(|p| from < p.0 && minus > p.1) {
            Some((start, end)) => {
                d.line("wire", &[(from, y), (start, y)]);
                d.line("left-out", &[(start, y), (end, y)]);
                d.line("wire", &[(end, y), (minus, y)]);
                let text = format!("{series} in series");
                d.words("", (0.5 * (start + end), y - 5.0), "middle", end - start, &text);
            }
            None => d.line("wire", &[(from, y), (minus, y)]),
        }
        d.cell((*at, y));
        from = plus;
    }
    d.line("wire", &[(from, y), (RIGHT, y)]);
}

/// Leads, clips, pan, bath and sheet under a source; the height of the whole.
fn bench(d: &mut Diagram, case: &Case, below: f64, leave: f64, u: System) -> f64 {
    let leads = &case.job.leads;
    let label = below + 12.0;
    d.words("minus-words", (MINUS_X + 10.0, label), "start", 100.0, "minus lead");
    d.words("plus-words", (PLUS_X - 10.0, label), "end", 100.0, "plus lead");
    let each = format!("each {}, {}", leads.wire_name, u.length(leads.length.si()));
    d.words("", (WIDTH / 2.0, label + LINE), "middle", 280.0, &each);
    let rim = label + LINE + 58.0;
    tank(d, case, rim, u);
    // The sheet hangs from its wire, the wire from the plus clip.
    let hook: At = (244.0, rim - 10.0);
    d.line("wire", &[(hook.0, hook.1 - 2.0), (hook.0, rim + 48.0)]);
    let pan_edge: At = (44.0, rim + 6.0);
    d.line(
        "lead minus",
        &[
            (MINUS_X, leave),
            (MINUS_X, rim - 30.0),
            (pan_edge.0, rim - 30.0),
            (pan_edge.0, rim - 16.0),
        ],
    );
    d.line(
        "lead plus",
        &[(PLUS_X, leave), (PLUS_X, rim - 46.0), (hook.0, rim - 46.0), (hook.0, rim - 32.0)],
    );
    if leads.clips >= 1 {
        d.clip("plus", hook);
    } else {
        d.line("lead plus", &[(hook.0, rim - 34.0), hook]);
    }
    if leads.clips >= 2 {
        d.clip("minus", pan_edge);
    } else {
        d.line("lead minus", &[(pan_edge.0, rim - 18.0), (pan_edge.0, rim)]);
    }
    let clips = words::clips(leads.clips);
    if leads.clips > 0 {
        d.words("quiet", (hook.0 - 14.0, rim - 18.0), "end", 130.0, &clips);
    }
    rim + 138.0
}

/// Pan, bath and sheet, the pan's rim at a height.
fn tank(d: &mut Diagram, case: &Case, rim: f64, u: System) {
    let (left, right, floor) = (44.0, WIDTH - 44.0, rim + 110.0);
    d.block("bath", (left, rim + 16.0), (right - left, floor - rim - 16.0));
    d.line("pan", &[(left, rim), (left, floor), (right, floor), (right, rim)]);
    let (sheet, thick) = (rim + 48.0, 8.0);
    d.block("piece", (94.0, sheet), (176.0, thick));
    d.pole(true, (82.0, sheet + 4.0));
    let way = words::way(case);
    let pieces = match case.job.piece.count.is {
        1 => format!("sheet, {way}"),
        n => format!("{n} sheets, {way}, a wire to each"),
    };
    d.words("on-bath", (100.0, sheet - 8.0), "start", 142.0, &pieces);
    d.span(262.0, sheet + thick, floor - 2.0);
    let gap = format!("gap {}", u.length(case.job.bath.gap.is.si()));
    let middle = 0.5 * (sheet + thick + floor) + 5.0;
    d.words("on-bath strong", (254.0, middle), "end", 150.0, &gap);
    d.words("on-bath", (54.0, rim + 34.0), "start", 44.0, "bath");
    d.pole(false, (62.0, floor - 16.0));
    d.words("on-bath", (76.0, floor - 11.0), "start", 70.0, "pan");
    let salt = &case.job.bath;
    let line = format!(
        "{} of {} {}",
        u.volume(salt.volume.is.si()),
        say::molar(salt.concentration.is.si()),
        salt.stock.name
    );
    d.words("", (WIDTH / 2.0, floor + 20.0), "middle", WIDTH, &line);
}
