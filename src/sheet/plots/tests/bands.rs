//! Tests of the bands behind the curves.

use super::charts::{ABSURD, both, shown};
use super::*;
use crate::advice::spread::bands::{Band, Bands};

/// A band of a tenth to either side.
fn around(list: &[f64]) -> Band {
    let times = |f: f64| list.iter().map(|x| f * x).collect();
    Band { low: times(0.9), high: times(1.1) }
}

fn bands(trace: &Trace) -> Bands {
    Bands {
        t_s: trace.t_s.clone(),
        depth_m: around(&trace.depth_m),
        current_a: around(&trace.current_a),
        hot_spot_k: trace.hot_spot_k.as_deref().map(around),
    }
}

fn fills(plot: &Plot, colour: plotters::style::RGBColor) -> Vec<String> {
    let hex = format!("#{:02X}{:02X}{:02X}", colour.0, colour.1, colour.2);
    let document = Document::parse(&plot.svg).unwrap();
    let filled = document.descendants().filter(|n| n.attribute("fill") == Some(&hex));
    filled.filter_map(|n| n.attribute("points").map(String::from)).collect()
}

#[test]
fn bands_stand_behind_three_plots_with_a_key() {
    let trace = straight(50, 900.0, 1.0);
    let bands = bands(&trace);
    for (n, key) in
        ["current: 8 in 10 lie within", "8 in 10 lie within", "hot spot: 8 in 10 lie within"]
            .into_iter()
            .enumerate()
    {
        let plot = |system, bands| {
            let view = View { bands, system, ..view("band", &trace, &[300.0]) };
            Ok(plots(&view)?.swap_remove(n))
        };
        let with = both(|system| plot(system, Some(&bands)));
        let without = both(|system| plot(system, None));
        assert!(shown(&with).iter().any(|w| w == key), "{:?}", shown(&with));
        assert!(!shown(&without).iter().any(|w| w.contains("8 in 10")));
        assert_eq!((fills(&with, ink::BAND).len(), fills(&without, ink::BAND).len()), (1, 0));
        assert!(with.alt.contains("eight times in ten"), "{}", with.alt);
        assert!(!without.alt.contains("eight times in ten"));
    }
}

#[test]
fn the_fast_case_is_the_deep_edge() {
    let trace = straight(50, 900.0, 1.0);
    let bands = bands(&trace);
    let view = View { bands: Some(&bands), ..view("fast", &trace, &[]) };
    let depth = plots(&view).unwrap().swap_remove(1);
    assert!(shown(&depth).iter().any(|w| w.starts_with("fast case")));
    // The lowest point of the area is the deepest: 1.1 times the end's depth, which stands
    // between nought and the target as 1.1 * 0.34 to 0.35.
    let area = fills(&depth, ink::BAND).remove(0);
    let ys = area.split(' ').filter_map(|p| p.split_once(',')).map(|(_, y)| y.parse().unwrap());
    let ys: Vec<f64> = ys.collect();
    let (top, bottom) =
        (ys.iter().copied().fold(f64::INFINITY, f64::min), ys.iter().copied().fold(0.0, f64::max));
    let document = Document::parse(&depth.svg).unwrap();
    let target = document.descendants().filter(|n| n.has_tag_name("polyline")).filter_map(|n| {
        let colour = ink::RUST.line;
        let hex = format!("#{:02X}{:02X}{:02X}", colour.0, colour.1, colour.2);
        (n.attribute("stroke") == Some(&hex)).then(|| n.attribute("points").unwrap_or_default())
    });
    let target: f64 =
        target.filter_map(|p| p.split(' ').next()?.split_once(',')?.1.parse().ok()).next().unwrap();
    let share = (bottom - top) / (target - top);
    assert!((share / (1.1 * 0.34 / 0.35) - 1.0).abs() < 0.01, "{share}");
}

#[test]
fn bands_of_any_size_can_be_plotted() {
    for end_s in [0.0, 1e-6, 121.0, 1e20] {
        for points in [1, 2, 50] {
            let trace = straight(points, end_s, 0.4);
            let bands = bands(&trace);
            checked(&View { bands: Some(&bands), ..view("any", &trace, &[0.5 * end_s]) });
        }
    }
    let trace = straight(50, 600.0, 1.0);
    for absurd in ABSURD {
        let mut bands = bands(&trace);
        for band in [&mut bands.depth_m, &mut bands.current_a] {
            (band.low[7], band.high[49]) = (absurd, absurd);
        }
        checked(&View { bands: Some(&bands), ..view("absurd", &trace, &[60.0]) });
        bands.t_s.fill(absurd);
        bands.depth_m.high.fill(absurd);
        checked(&View { bands: Some(&bands), ..view("absurd", &trace, &[60.0]) });
    }
    let mut uneven = bands(&trace);
    uneven.current_a.low.pop();
    let uneven = View { bands: Some(&uneven), ..view("uneven", &trace, &[]) };
    let why = plots(&uneven).unwrap_err().to_string();
    assert!(why.contains("49 points of an edge, expected 50"), "{why}");
}
