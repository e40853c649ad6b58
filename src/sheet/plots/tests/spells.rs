//! Tests of the plot of on and off over time.

use super::charts::{ABSURD, both, shown};
use super::*;
use crate::advice;
use crate::advice::spell::{Spell, spell as follow};
use crate::units::Quantity;

const LIMITS: SpellLimits = SpellLimits { hot_spot_k: 327.15, surface_k: 321.15 };
/// Four C cells on a deep etch: warm enough to want rests.
const WARM: [&str; 4] =
    ["source.cell=LR14", "source.series=4", "piece.depth=0.5 mm", "limits.time=3 h"];

fn plotted(list: &Spell, limits: SpellLimits) -> Plot {
    both(|system| Ok(spell(list, "any", limits, system)?.unwrap()))
}

/// Follows the pin's spell with settings over it.
fn of_pin(sets: &[&str]) -> (Spell, Plot) {
    let stock = Stock::builtin().unwrap();
    let sets: Vec<String> = sets.iter().map(ToString::to_string).collect();
    let written = Written { text: PIN, name: "pin", sets: &sets, ..Written::default() };
    let Ok(Checked::Job(job)) = read(&written, &stock, Needs::Source) else {
        panic!("the job cannot be read");
    };
    let rested = advice::rested(&job, &stock).unwrap();
    let rests = rested.rests.as_ref().unwrap();
    let list = follow(&rested.case.setup, rests, job.session.bench_time.si()).unwrap();
    let limits = SpellLimits::from(rests.limits);
    let plot = both(|system| Ok(spell(&list, &job.title, limits, system)?.unwrap()));
    (list, plot)
}

#[test]
fn pieces_with_rests_between() {
    let (list, plot) = of_pin(&WARM);
    assert_eq!(plot.name, "rest");
    assert_eq!(list.pieces, list.on.len());
    let words = shown(&plot);
    for word in ["cell limit 54 °C", "touch limit 48 °C", "hot spot", "surface", "on"] {
        assert!(words.iter().any(|w| w == word), "{word} in {words:?}");
    }
    let said = format!("on {} times", list.on.len());
    assert!(plot.alt.contains(&said) && plot.alt.contains("sags to"), "{}", plot.alt);
}

#[test]
fn one_piece_with_its_cycle_and_longer_rests() {
    let sets = [&WARM[..], &["limits.cell_temperature=36 degC"]].concat();
    let (list, plot) = of_pin(&sets);
    assert!(list.on.len() > 3 && list.pieces == 1, "{:?}", list.on);
    assert!(shown(&plot).contains(&"cell limit 36 °C".to_string()));
    assert!(plot.alt.contains("1 piece comes to depth"), "{}", plot.alt);
    // The word stands where there is room: in each panel for each of three rests.
    let (_, plot) = of_pin(&["session.bench_time=40 min"]);
    let rests = shown(&plot).iter().filter(|w| *w == "rest").count();
    assert_eq!(rests, 6, "{:?}", shown(&plot));
}

/// `n` samples over `end_s`, on for two thirds of each of `times` parts.
fn made(n: usize, end_s: f64, times: usize, size: f64) -> Spell {
    let along = |from: f64, to: f64| -> Vec<f64> {
        (0..n).map(|k| from + (to - from) * k as f64 / (n.max(2) - 1) as f64).collect()
    };
    let part = end_s / times.max(1) as f64;
    Spell {
        t_s: along(0.0, end_s),
        source_v: along(6.0 * size, 4.0 * size),
        hot_spot_k: along(293.15, 326.0),
        surface_k: along(293.15, 324.0),
        available: along(1.0, 0.1),
        on: (0..times).map(|k| (part * k as f64, part * (k as f64 + 0.66))).collect(),
        pieces: times,
    }
}

#[test]
fn spells_of_any_length_and_size_can_be_plotted() {
    for end_s in [0.0, 1e-6, 0.3, 119.0, 6000.0, 5.1 * 3600.0, 1e9, 1e20] {
        for size in [0.0, 1e-9, 1.0, 3e9, 1e25] {
            for (points, times) in [(2, 0), (2, 1), (50, 3), (200, 400)] {
                plotted(&made(points, end_s, times, size), LIMITS);
            }
        }
    }
    let close = SpellLimits { hot_spot_k: 324.5, surface_k: 324.4 };
    plotted(&made(200, 6000.0, 3, 1.0), close);
    plotted(&made(200, 6000.0, 3, 1.0), SpellLimits { hot_spot_k: 324.0, surface_k: 324.0 });
}

#[test]
fn absurd_spells_can_be_plotted() {
    for absurd in ABSURD {
        let mut list = made(50, 6000.0, 3, 1.0);
        (list.t_s[3], list.source_v[7], list.hot_spot_k[49]) = (absurd, absurd, absurd);
        (list.surface_k[0], list.on[1].1) = (absurd, absurd);
        plotted(&list, LIMITS);
        plotted(&list, SpellLimits { hot_spot_k: absurd, surface_k: absurd });
        for all in [&mut list.t_s, &mut list.source_v, &mut list.hot_spot_k] {
            all.fill(absurd);
        }
        list.on = vec![(absurd, absurd), (600.0, 60.0), (-1e9, 1e9)];
        plotted(&list, LIMITS);
    }
}

#[test]
fn there_is_no_plot_of_hardly_any_spell() {
    let tried = |list: &Spell| spell(list, "", LIMITS, System::Metric);
    assert_eq!(tried(&Spell::default()).unwrap(), None);
    assert_eq!(tried(&made(1, 60.0, 1, 1.0)).unwrap(), None);
    let mut uneven = made(5, 60.0, 1, 1.0);
    uneven.surface_k.pop();
    let why = tried(&uneven).unwrap_err().to_string();
    assert!(why.contains("4 points of cell surface, expected 5"), "{why}");
    let title = "<script>&\"' \u{0}\u{1b}\n\u{202e}\u{ffff} Nadel für März 月";
    let list = made(50, 6000.0, 3, 1.0);
    let plot = both(|system| Ok(spell(&list, title, LIMITS, system)?.unwrap()));
    assert!(plot.svg.contains("&lt;script&gt;&amp;&quot;"), "{}", plot.svg);
}
