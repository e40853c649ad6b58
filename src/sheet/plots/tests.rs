//! Tests of the plots: of the runs of three jobs, and of runs that are hardly any.

mod bands;
mod charts;
mod spells;

use super::*;
use crate::job::{Bytes, Checked, Files, Needs, Written, read, resolve};
use crate::run::{Precision, Source, Trace, trace};
use crate::stock::Stock;
use crate::units::say::System;
use roxmltree::{Document, Node};

const PIN: &str = include_str!("../../../data-demo/fern-pin.toml");
const DIAL: &str = include_str!("../../../data-demo/moon-dial.toml");
const SUNDIAL: &str = include_str!("../../../data-demo/sundial.toml");

fn view<'a>(title: &'a str, trace: &'a Trace, looks_s: &'a [f64]) -> View<'a> {
    View {
        changes_s: &[],
        title,
        trace,
        bands: None,
        target_m: 0.35e-3,
        floor_depth_m: Some(0.7e-3),
        thickness_m: 1.2e-3,
        hot_limit_k: Some(327.15),
        touch_limit_k: Some(321.15),
        resist_limit_k: Some(318.15),
        looks_s: looks_s.to_vec(),
        system: System::Metric,
    }
}

/// Plots a job's run in both systems of units and checks what must hold of any plot.
fn of_job(text: &str) -> Vec<Plot> {
    let stock = Stock::builtin().unwrap();
    let written = Written { text, name: "job", ..Written::default() };
    let Ok(Checked::Job(job)) = read(&written, &stock, Needs::Source) else {
        panic!("the job cannot be read");
    };
    let source = job.source.as_ref().unwrap();
    let setup = resolve::resolve(&job, source, &stock, &Default::default()).unwrap();
    let (run, trace) = trace(&setup, Precision::default(), 121).unwrap();
    let looks = [run.time_s / 3.0, run.time_s / 1.5];
    let mut view = View {
        target_m: setup.piece.depth,
        floor_depth_m: setup.piece.floor.map(|floor| setup.piece.thickness - floor),
        thickness_m: setup.piece.thickness,
        hot_limit_k: match &setup.source {
            Source::Pack(pack) => Some(pack.temperature_limit_k),
            _ => None,
        },
        ..view(&job.title, &trace, &looks)
    };
    let metric = checked(&view);
    view.system = System::Imperial;
    checked(&view);
    metric
}

fn checked(view: &View) -> Vec<Plot> {
    let list = plots(view).unwrap();
    for plot in &list {
        check_svg(plot);
    }
    list
}

/// Left, top, right and bottom of a text in units, and its words.
fn words_of(text: Node) -> ([f64; 4], String) {
    let number = |name: &str| text.attribute(name).unwrap().parse::<f64>().unwrap();
    let size = number("font-size") / canvas::FINE;
    assert!(size >= TEXT - 1e-6, "{size} in {text:?}");
    assert_eq!(text.attribute("font-family"), Some("sans-serif"));
    let (x, y) = (number("x") / canvas::FINE, number("y") / canvas::FINE);
    let words = text.text().unwrap_or_default().to_string();
    // Fonts run a little narrower than what the layout reckons with.
    let wide = 0.95 * labels::width(&words, size);
    let left = match text.attribute("text-anchor").unwrap() {
        "start" => x,
        "middle" => x - wide / 2.0,
        _ => x - wide,
    };
    ([left, y - 0.4 * size, left + wide, y + 0.4 * size], words)
}

fn check_svg(plot: &Plot) {
    for bad in ["NaN", "inf", "<script"] {
        let at = plot.svg.find(bad).map(|at| plot.svg[at.saturating_sub(90)..].lines().next());
        assert!(at.is_none(), "{bad} in {}: {at:?}", plot.name);
    }
    let document = Document::parse(&plot.svg).unwrap();
    let root = document.root_element();
    let sides: Vec<f64> =
        root.attribute("viewBox").unwrap().split(' ').map(|s| s.parse().unwrap()).collect();
    assert_eq!(sides[2], WIDTH * canvas::FINE);
    assert_eq!((root.attribute("width"), root.attribute("role")), (Some("100%"), Some("img")));
    let said = |name: &str| root.children().find(|n| n.has_tag_name(name)).and_then(|n| n.text());
    assert!(said("title").is_some());
    assert_eq!(said("desc"), Some(plot.alt.as_str()));
    assert!(plot.alt.ends_with('.') && plot.alt.starts_with("The "), "{}", plot.alt);
    let (width, height) = (sides[2] / canvas::FINE, sides[3] / canvas::FINE);
    let mut taken: Vec<([f64; 4], String)> = Vec::new();
    for node in document.descendants() {
        if node.attribute("stroke").is_some_and(|stroke| stroke != "none") {
            let stroke: f64 = node.attribute("stroke-width").unwrap().parse().unwrap();
            assert!(stroke >= 2.5 * canvas::FINE, "{stroke} in {}", plot.name);
        }
        if !node.has_tag_name("text") {
            continue;
        }
        let (b, words) = words_of(node);
        let inside = b[0] >= 0.0 && b[1] >= 0.0 && b[2] <= width && b[3] <= height;
        assert!(inside, "{words:?} is cut at {b:?} in {}", plot.name);
        for (t, other) in &taken {
            let apart = b[2] <= t[0] || t[2] <= b[0] || b[3] <= t[1] || t[3] <= b[1];
            assert!(apart, "{words:?} {b:?} over {other:?} {t:?} in {}", plot.name);
        }
        taken.push((b, words));
    }
}

fn names(list: &[Plot]) -> Vec<&str> {
    list.iter().map(|plot| plot.name).collect()
}

#[test]
fn cells_have_four_plots() {
    let list = of_job(PIN);
    assert_eq!(names(&list), ["sag", "depth", "heat", "charge"]);
    assert!(list[1].alt.contains("target is 0.35 mm"), "{}", list[1].alt);
    assert!(list[2].svg.contains("resist limit 45 °C"), "{}", list[2].svg);
}

#[test]
fn supply_and_adapter_have_three() {
    for text in [DIAL, SUNDIAL] {
        let list = of_job(text);
        assert_eq!(names(&list), ["sag", "depth", "heat"]);
        assert!(!list[2].svg.contains("touch limit"));
    }
}

/// `n` points over `end_s` with everything as a line from start to end.
fn straight(n: usize, end_s: f64, size: f64) -> Trace {
    let along = |from: f64, to: f64| -> Vec<f64> {
        (0..n).map(|k| from + (to - from) * k as f64 / (n.max(2) - 1) as f64).collect()
    };
    Trace {
        t_s: along(0.0, end_s),
        current_a: along(size, 0.5 * size),
        source_v: along(5.9 * size, 5.5 * size),
        bath_v: along(5.88 * size, 5.48 * size),
        depth_m: along(0.0, 0.34e-3),
        charge_depth_m: along(0.0, 0.36e-3),
        pan_load: along(0.3, 0.2),
        face_mol_per_m3: along(1500.0, 1400.0),
        charge_c: along(0.0, 1.0),
        hot_spot_k: Some(along(293.15, 326.0)),
        surface_k: Some(along(293.15, 325.0)),
        bath_k: along(293.15, 324.0),
        available: Some(along(1.0, 0.02)),
        total: Some(along(1.0, 0.03)),
    }
}

#[test]
fn curves_that_end_together_stay_legible() {
    let trace = straight(200, 1200.0, 1.0);
    let crowd = [300.0, 310.0, 320.0, 900.0, 1190.0, 5000.0, -1.0, f64::NAN];
    let mut view = view("crowded", &trace, &crowd);
    (view.floor_depth_m, view.thickness_m) = (Some(0.36e-3), 0.5e-3);
    checked(&view);
    let same = Some(327.15);
    (view.hot_limit_k, view.touch_limit_k, view.resist_limit_k) = (same, same, same);
    checked(&view);
}

#[test]
fn runs_of_any_length_and_size_can_be_plotted() {
    for end_s in [0.0, 1e-6, 0.3, 119.0, 121.0, 5.0 * 3600.0, 5.1 * 3600.0, 1e9, 1e20] {
        for size in [0.0, 1e-9, 0.02, 1.0, 40.0, 3e9, 1e25] {
            for points in [1, 2, 50] {
                let trace = straight(points, end_s, size);
                checked(&view("any", &trace, &[0.0, 0.5 * end_s, end_s]));
            }
        }
    }
}

#[test]
fn steady_runs_and_absurd_numbers_can_be_plotted() {
    let mut trace = straight(50, 600.0, 1.0);
    for list in [&mut trace.current_a, &mut trace.source_v, &mut trace.bath_v, &mut trace.depth_m] {
        list.fill(0.0);
    }
    trace.bath_k.fill(293.15);
    checked(&view("steady", &trace, &[]));
    for absurd in [f64::NAN, f64::INFINITY, f64::MAX, -1e12] {
        trace.current_a[7] = absurd;
        trace.source_v.fill(absurd);
        trace.depth_m[49] = absurd;
        trace.bath_k[0] = absurd;
        let looks = [absurd];
        let mut view = view("absurd", &trace, &looks);
        checked(&view);
        (view.target_m, view.thickness_m, view.floor_depth_m) = (absurd, absurd, Some(absurd));
        view.hot_limit_k = Some(absurd);
        checked(&view);
    }
}

/// The last look is at the run's end, which machines tell apart in the last bit.
#[test]
fn a_look_at_the_end_is_drawn_whichever_way_the_end_was_rounded() {
    let trace = straight(50, 600.0, 1.0);
    let end = trace.t_s[49];
    let plotted = |look: f64| depth::plot(&view("end", &trace, &[300.0, look])).unwrap();
    let exact = plotted(end);
    assert!(exact.alt.contains("look at 5 min and 10 min"), "{}", exact.alt);
    for look in [end.next_down(), end.next_up()] {
        let plot = plotted(look);
        assert_eq!((&plot.svg, &plot.alt), (&exact.svg, &exact.alt), "{look}");
    }
    assert_ne!(plotted(end + 1.0).svg, exact.svg, "after the end nobody looks");
}

#[test]
fn titles_are_text() {
    let trace = straight(20, 600.0, 1.0);
    let title = "<script>&\"' \u{0}\u{1b}\n\u{ffff} Nadel für März 月";
    for plot in checked(&view(title, &trace, &[])) {
        let document = Document::parse(&plot.svg).unwrap();
        let shown = document.descendants().filter(|n| n.has_tag_name("text"));
        assert!(shown.filter_map(|n| n.text()).any(|t| t.starts_with("<script>&\"' ")));
        assert!(plot.svg.contains("&lt;script&gt;&amp;&quot;"), "{}", plot.svg);
    }
    checked(&view(&"long ".repeat(100), &trace, &[]));
    checked(&view("", &trace, &[]));
}

#[test]
fn what_cannot_be_plotted_is_said() {
    let nothing = Trace::default();
    let why = plots(&view("nothing", &nothing, &[])).unwrap_err().to_string();
    assert!(why.contains("0 points to plot"), "{why}");
    let mut uneven = straight(5, 60.0, 1.0);
    uneven.bath_v.pop();
    let why = plots(&view("uneven", &uneven, &[])).unwrap_err().to_string();
    assert!(why.contains("4 points of bath voltage, expected 5"), "{why}");
}

/// The time line of the demo day, with more pieces and other names.
#[test]
fn time_lines_of_days() {
    let stock = Stock::builtin().unwrap();
    let demo = include_str!("../../../data-demo/day.toml");
    let long = "a very long name \u{1f41f} & <b> that does not fit beside anything at all, \
                however wide the paper";
    for (from, to) in [
        ("count = 2", "count = 1"),
        ("count = 2", "count = 12"),
        ("name = \"three D cells\"", &format!("name = \"{long}\"")),
        ("name = \"Sundial\"", &format!("name = \"{long}\"")),
        ("start = \"9:00\"", "start = \"23:50\"\n# "),
        ("charges = 2", "charge_left = \"14 %\"\ncharges = 2"),
    ] {
        let mut text = demo.replace(from, to);
        if from.starts_with("start") {
            text = text
                .replace("[[break]]", "[nobreak]")
                .replace("from =", "# ")
                .replace("to =", "# ");
            text = text.replace("[nobreak]", "");
        }
        let open = |path: &std::path::Path| {
            let job: Box<dyn Bytes> = Box::new(std::io::Cursor::new(std::fs::read(path)?));
            Ok(job)
        };
        let folder = std::path::Path::new("data-demo");
        let files = Files { folder, open: &open, ..Files::default() };
        let written = Written { text: &text, name: "day", files, sets: &[] };
        let day = match crate::job::read_day(&written, &stock) {
            Ok(crate::job::CheckedDay::Day(day)) => day,
            other => panic!("{other:?}"),
        };
        let plan = crate::advice::day::day(&day, &stock).unwrap();
        assert!(plan.done(), "{to}: {:?}", plan.stuck);
        check_svg(&timeline(&day, &plan).unwrap());
    }
}
