//! Tests of the wall chart, of time against cells, and of alternatives side by side.

use super::*;
use crate::advice::size::chart::{
    Bad, Bar, CellChart, Line, Spot, WallChart, cell_chart, wall_chart,
};
use crate::advice::size::size;
use crate::job::Job;
use crate::sheet::plots::error::Painted;
use crate::sheet::words::size::source_words;
use crate::stock::Named;

const BADS: [Bad; 4] = [Bad::Hot, Bad::Resist, Bad::Empty, Bad::Slow];
pub(super) const ABSURD: [f64; 6] = [f64::NAN, f64::INFINITY, f64::MAX, -1e12, 0.0, 1e-300];

fn pin(stock: &Stock) -> Job {
    let written = Written { text: PIN, name: "pin", ..Written::default() };
    match read(&written, stock, Needs::Source) {
        Ok(Checked::Job(job)) => *job,
        _ => panic!("the job cannot be read"),
    }
}

/// Plots in both systems of units, checks, and gives the metric one.
pub(super) fn both(plot: impl Fn(System) -> Painted<Plot>) -> Plot {
    check_svg(&plot(System::Imperial).unwrap());
    let plot = plot(System::Metric).unwrap();
    check_svg(&plot);
    plot
}

pub(super) fn shown(plot: &Plot) -> Vec<String> {
    let document = Document::parse(&plot.svg).unwrap();
    let texts = document.descendants().filter(|n| n.has_tag_name("text"));
    texts.map(|n| n.text().unwrap_or_default().to_string()).collect()
}

/// Left ends and heights of all strokes of one colour.
fn strokes_of(plot: &Plot, colour: plotters::style::RGBColor) -> usize {
    let hex = format!("#{:02X}{:02X}{:02X}", colour.0, colour.1, colour.2);
    let document = Document::parse(&plot.svg).unwrap();
    document.descendants().filter(|n| n.attribute("stroke") == Some(&hex)).count()
}

#[test]
fn a_job_has_a_wall_chart_for_every_cell() {
    let stock = Stock::builtin().unwrap();
    let job = pin(&stock);
    let tray = stock.holders.iter().find(|h| h.name() == "open tray").unwrap();
    for cell in &stock.cells {
        let chart = wall_chart(&job, &stock, cell, tray).unwrap();
        let plot = both(|system| wall(&chart, &job.title, system));
        assert_eq!(plot.name, "wall-chart");
        let words = shown(&plot).join("|");
        for n in chart.lines.iter().filter(|l| l.spots.iter().any(|s| s.time_s.is_some())) {
            assert!(words.contains(&wall_words::cells(n.cells)), "{} of {words}", n.cells);
        }
        assert!(words.contains("this job: 4 cm²"), "{words}");
        let hot = chart.lines.iter().any(|l| l.spots.iter().any(|s| s.bad == Some(Bad::Hot)));
        assert_eq!(hot, words.contains("cells overtaxed"), "{words}");
        assert_eq!(hot, words.contains("Overtaxed: "), "{words}");
        assert_eq!(hot, strokes_of(&plot, ink::HOT.stroke) > 3);
        assert!(plot.svg.len() < 120_000, "{}", plot.svg.len());
        let said = ["1 cell takes ", "not with 1 to "].iter().any(|s| plot.alt.contains(s));
        assert!(said, "{}", plot.alt);
    }
}

#[test]
fn a_job_has_time_against_cells() {
    let stock = Stock::builtin().unwrap();
    let job = pin(&stock);
    let sizing = size(&job, &stock).unwrap();
    for name in ["LR03", "LR20", "HR6"] {
        let cell = stock.cells.iter().find(|c| c.name() == name).unwrap();
        let chart = cell_chart(&job, &stock, cell, &stock.holders[0], sizing.chosen()).unwrap();
        let plot = both(|system| cells(&chart, &job.title, system));
        let words = shown(&plot);
        for bar in &chart.bars {
            assert!(words.contains(&format!("{} × {}", bar.wiring.0, bar.wiring.1)));
        }
        let taken = words.iter().any(|w| w.contains("take this"));
        assert_eq!(taken, chart.bars.iter().any(|b| b.chosen), "{words:?}");
    }
}

#[test]
fn sources_of_a_job_are_compared() {
    let stock = Stock::builtin().unwrap();
    let job = pin(&stock);
    let sizing = size(&job, &stock).unwrap();
    let runs: Vec<(String, Trace)> = (0..8)
        .map(|n| &sizing.options[n * sizing.options.len() / 8])
        .map(|o| {
            let setup =
                resolve::resolve(&job, &o.case.source, &stock, &Default::default()).unwrap();
            let (_, trace) = trace(&setup, Precision::default(), 61).unwrap();
            (source_words(&o.case.source), trace)
        })
        .collect();
    for many in 1..=runs.len() {
        let of = |(name, trace): &'_ (String, Trace)| (name.clone(), trace.clone());
        let some: Vec<_> = runs[..many].iter().map(of).collect();
        let items: Vec<Compared> =
            some.iter().map(|(name, trace)| Compared { name, trace, target_m: 0.35e-3 }).collect();
        let plot = both(|system| compare(&items, &job.title, system));
        assert_eq!(plot.name, "compare");
        let words = shown(&plot);
        // A name that is too long for its row ends in dots.
        let there = |name: &str| {
            words
                .iter()
                .any(|w| w == name || w.ends_with('…') && name.starts_with(&w[..w.len() - 3]))
        };
        assert!(some.iter().all(|(name, _)| there(name)), "{words:?}");
        assert!(plot.alt.contains("0.35 mm after"), "{}", plot.alt);
    }
}

/// Lines of 1..=8 cells whose spots go bad as `bad` says.
fn lines(
    time: impl Fn(u32, usize) -> Option<f64>,
    bad: impl Fn(u32, usize) -> Option<Bad>,
) -> Vec<Line> {
    let spot = |cells, n: usize| Spot {
        bare_m2: 12e-4 * (n as f64 / 25.0).powi(2),
        time_s: time(cells, n),
        bad: bad(cells, n),
    };
    (1..=8).map(|cells| Line { cells, spots: (1..=25).map(|n| spot(cells, n)).collect() }).collect()
}

fn chart(lines: Vec<Line>) -> WallChart {
    let (cell, holder) = ("LR20".into(), "open tray".into());
    WallChart { cell, holder, depth_m: 0.35e-3, lines, own_bare_m2: 4e-4 }
}

fn wanted(cells: u32, n: usize) -> Option<f64> {
    Some(120.0 * n as f64 / f64::from(cells))
}

#[test]
fn every_reason_has_its_region_and_its_words() {
    for (bad, name, ground) in wall_words::REASONS {
        let half = |_: u32, n: usize| (n > 12).then_some(bad);
        let plot = both(|system| wall(&chart(lines(wanted, half)), "half", system));
        let words = shown(&plot);
        assert_eq!(words.iter().filter(|w| **w == name).count(), 2, "{words:?}");
        assert!(words.iter().any(|w| w.trim() == "does the job"), "{words:?}");
        assert!(strokes_of(&plot, ground.stroke) > 10);
    }
    let alternating = |cells: u32, n: usize| BADS.get((n + cells as usize) % 5).copied();
    both(|system| wall(&chart(lines(wanted, alternating)), "alternating", system));
}

#[test]
fn charts_without_a_time_say_so() {
    let dead = chart(lines(|_, _| None, |_, _| Some(Bad::Slow)));
    let plot = both(|system| wall(&dead, "dead", system));
    assert!(shown(&plot).contains(&"no line reaches the depth".to_string()));
    assert!(plot.alt.contains("not with 1 to 8 cells (too slow)"), "{}", plot.alt);
    both(|system| wall(&chart(Vec::new()), "none", system));
    both(|system| wall(&chart(vec![Line { cells: 1, spots: Vec::new() }]), "none", system));
    let one = chart(lines(|_, n| (n == 7).then_some(600.0), |_, n| (n != 7).then_some(Bad::Hot)));
    both(|system| wall(&one, "one spot", system));
}

#[test]
fn wall_charts_of_any_size_can_be_plotted() {
    for time in [1e-9, 1.0, 360_000.0, 1e12] {
        for area in [1e-9, 1.0, 1e9, 1e25] {
            let mut chart =
                chart(lines(|c, n| wanted(c, n).map(|t| t * time / 100.0), |_, _| None));
            chart.own_bare_m2 *= area;
            for spot in chart.lines.iter_mut().flat_map(|l| &mut l.spots) {
                spot.bare_m2 *= area;
            }
            both(|system| wall(&chart, "any", system));
            chart.lines.truncate(1);
            both(|system| wall(&chart, "a single line", system));
        }
    }
    let same = chart(lines(|_, _| Some(600.0), |_, _| None));
    both(|system| wall(&same, "all the same", system));
    for absurd in ABSURD {
        let time = |c: u32, n: usize| if n == 9 { Some(absurd) } else { wanted(c, n) };
        let mut chart = chart(lines(time, |_, _| None));
        chart.lines[2].spots[4].bare_m2 = absurd;
        both(|system| wall(&chart, "absurd", system));
        (chart.own_bare_m2, chart.depth_m) = (absurd, absurd);
        both(|system| wall(&chart, "absurd", system));
        chart.lines.iter_mut().flat_map(|l| &mut l.spots).for_each(|s| s.time_s = Some(absurd));
        both(|system| wall(&chart, "absurd", system));
    }
}

fn bars(time_s: Option<f64>, hot_spot_k: Option<f64>, feasible: bool) -> CellChart {
    let bar = |(n, wiring): (usize, (u32, u32))| Bar {
        cells: wiring.0 * wiring.1,
        wiring,
        time_s: time_s.map(|t| t * (1.0 + n as f64)),
        hot_spot_k,
        feasible,
        chosen: feasible && n == 2,
    };
    let wirings = [(1, 1), (1, 2), (2, 1), (4, 8), (1000, 4_000_000)];
    let bars = wirings.into_iter().enumerate().map(bar).collect();
    CellChart { cell: "LR6".into(), holder: "closed box".into(), limit_k: 327.15, bars }
}

#[test]
fn cell_charts_of_any_size_can_be_plotted() {
    for time in [None, Some(1.0), Some(900.0), Some(360_000.0), Some(1e-9), Some(1e25)] {
        for hot in [None, Some(300.0), Some(1e9)] {
            for feasible in [true, false] {
                let mut chart = bars(time, hot, feasible);
                both(|system| cells(&chart, "any", system));
                chart.bars.truncate(1);
                chart.limit_k = f64::INFINITY;
                both(|system| cells(&chart, "one", system));
            }
        }
    }
    for absurd in ABSURD {
        let mut chart = bars(Some(absurd), Some(absurd), true);
        both(|system| cells(&chart, "absurd", system));
        chart.limit_k = absurd;
        chart.bars[1].time_s = Some(60.0);
        both(|system| cells(&chart, "absurd", system));
        chart.bars.clear();
        let plot = both(|system| cells(&chart, "none", system));
        assert!(plot.alt.contains("no wiring does the job"), "{}", plot.alt);
    }
}

#[test]
fn runs_of_any_length_and_size_can_be_compared() {
    let empty = Trace::default();
    for end_s in [0.0, 1.0, 119.0, 900.0, 360_000.0, 1e20] {
        for size in [0.0, 1e-9, 0.02, 40.0, 1e25] {
            let traces = [straight(50, end_s, size), straight(1, 0.0, 1.0), straight(2, 60.0, 0.3)];
            let name = "a name that runs on and on, far beyond the edge of any paper there is";
            let of = |trace| Compared { name, trace, target_m: 0.35e-3 };
            let mut items: Vec<Compared> = traces.iter().chain([&empty]).map(of).collect();
            both(|system| compare(&items, "any", system));
            items.truncate(1);
            both(|system| compare(&items, "one", system));
        }
    }
    for absurd in ABSURD {
        let mut trace = straight(50, 600.0, 1.0);
        (trace.t_s[3], trace.current_a[7], trace.depth_m[49]) = (absurd, absurd, absurd);
        both(|s| compare(&[Compared { name: "", trace: &trace, target_m: absurd }], "absurd", s));
        trace.t_s.fill(absurd);
        trace.current_a.fill(absurd);
        both(|s| compare(&[Compared { name: "", trace: &trace, target_m: absurd }], "absurd", s));
    }
}

#[test]
fn what_cannot_be_compared_is_said() {
    let trace = straight(5, 60.0, 1.0);
    let item = Compared { name: "one", trace: &trace, target_m: 1e-4 };
    let why =
        |items: &[Compared]| format!("{:#}", compare(items, "job", System::Metric).unwrap_err());
    assert!(why(&[]).contains("0 alternatives to compare, expected 1 to 8"));
    assert!(why(&[item; 9]).contains("9 alternatives to compare, expected 1 to 8"));
    let mut uneven = trace.clone();
    uneven.depth_m.pop();
    let why = why(&[item, Compared { name: "odd", trace: &uneven, target_m: 1e-4 }]);
    assert!(why.contains("\"odd\"") && why.contains("4 points of depth, expected 5"), "{why}");
}

#[test]
fn names_are_text() {
    let name = "<script>&\"' \u{0}\u{1b}\n\u{202e}\u{ffff} Nadel für März 月";
    let trace = straight(20, 600.0, 1.0);
    let items = [Compared { name, trace: &trace, target_m: 0.35e-3 }];
    let mut wall_of = chart(lines(wanted, |_, _| None));
    (wall_of.cell, wall_of.holder) = (name.into(), name.into());
    let mut cells_of = bars(Some(60.0), Some(300.0), true);
    (cells_of.cell, cells_of.holder) = (name.into(), name.into());
    let plots = [
        both(|system| compare(&items, name, system)),
        both(|system| wall(&wall_of, name, system)),
        both(|system| cells(&cells_of, name, system)),
    ];
    for plot in plots {
        assert!(shown(&plot).iter().any(|t| t.starts_with("<script>&\"' ")));
        assert!(plot.svg.contains("&lt;script&gt;&amp;&quot;"), "{}", plot.svg);
    }
}
