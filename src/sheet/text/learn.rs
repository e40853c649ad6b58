//! The answer of `learn`: text and JSON.

use super::page::Page;
use crate::advice::learn::{Factor, Learning, Outlier, Why};
use crate::advice::spread::quantile::Quantiles;
use crate::job::log::{BathTrial, CellTrial, Log, What};
use crate::sheet::toml::learn as profile;
use crate::units::say::{self, System};
use serde_json::{Value, json};

/// JSON of the answer.
pub fn to_json(log: &Log, l: &Learning, u: System) -> Value {
    let runs: Vec<Value> = log
        .runs
        .iter()
        .enumerate()
        .map(|(n, run)| {
            let left_out = l.outliers.iter().filter(|o| o.run == n).count();
            json!({
                "name": run.name,
                "date": run.date.map(|d| d.to_string()),
                "job": run.file,
                "readings": run.readings.len(),
                "left_out": left_out,
            })
        })
        .collect();
    let (shift, width) = l.off();
    let quantiles = |q: &Quantiles| json!({ "p10": q.p10, "p50": q.p50, "p90": q.p90 });
    json!({
        "schema": "restbite.learn/1",
        "title": log.title,
        "runs": runs,
        "factors": l.bath_resistance.iter().chain(&l.factors).map(factor).collect::<Vec<_>>(),
        "outliers": l.outliers.iter().map(|o| outlier(log, o, u)).collect::<Vec<_>>(),
        "readings_used": l.used,
        "scatter": l.scatter,
        "check": {
            "draws": l.check.draws,
            "effective": l.check.effective,
            "largest_shift": shift,
            "largest_width_error": width,
        },
        "next": l.next.as_ref().map(|n| json!({
            "title": n.title,
            "before_s": quantiles(&n.before_s),
            "after_s": quantiles(&n.after_s),
        })),
        "cell_tests": log.cell_trials.iter().map(cell_test).collect::<Vec<_>>(),
        "bath_tests": log.bath_trials.iter().map(bath_test).collect::<Vec<_>>(),
    })
}

fn factor(f: &Factor) -> Value {
    json!({
        "name": f.parameter.key,
        "of": Some(&f.parameter.of).filter(|of| !of.is_empty()),
        "title": f.parameter.title,
        "value": f.value,
        "low80": f.low80,
        "high80": f.high80,
        "prior_sd": f.parameter.prior_sd,
        "ln_sd": f.ln_sd,
    })
}

fn outlier(log: &Log, o: &Outlier, u: System) -> Value {
    let (expected, deviations) = match o.why {
        Why::Off { expected, deviations } => (Some(expected), Some(deviations)),
        _ => (None, None),
    };
    json!({
        "run": log.runs[o.run].name,
        "at_s": o.at_s,
        "reading": o.what.key(),
        "read": o.read,
        "expected": expected,
        "deviations": deviations,
        "questioned": !matches!(o.why, Why::Off { .. }),
        "text": sentence(log, o, u),
    })
}

fn cell_test(t: &CellTrial) -> Value {
    json!({ "cell": t.cell, "resistance_ohm": t.ohm, "stock_ohm": t.stock_ohm })
}

fn bath_test(t: &BathTrial) -> Value {
    json!({
        "electrolyte": t.electrolyte,
        "kappa25_s_per_m": t.kappa25,
        "stock_kappa25_s_per_m": t.stock_kappa25,
        "two_currents": t.two,
    })
}

/// The page.
pub fn to_text(log: &Log, l: &Learning, u: System) -> String {
    let mut page = Page::default();
    page.title(&log.title);
    page.lines(&summary(log, l));
    page.blank();
    let rows: Vec<Vec<String>> = l.bath_resistance.iter().chain(&l.factors).map(row).collect();
    page.table(&["This bench, to what is usual", "times", "8 in 10", "before"], &rows);
    page.blank();
    if let Some(n) = &l.next {
        let span = |q: &Quantiles| match (q.p10, q.p90) {
            (Some(a), Some(b)) => format!("{} to {}", say::moment(a), say::moment(b)),
            (Some(a), None) => format!("{} or more, or never", say::moment(a)),
            _ => "hardly ever".into(),
        };
        let text = format!(
            "{} again would come to depth in {}, eight times in ten; before these runs the \
             answer was {}.",
            n.title,
            span(&n.after_s),
            span(&n.before_s)
        );
        page.row("Next", &text);
    }
    for o in &l.outliers {
        page.row("Left out", &sentence(log, o, u));
    }
    for t in &log.cell_trials {
        page.row("Cell", &cell_sentence(t));
    }
    for t in &log.bath_trials {
        page.row("Bath", &bath_sentence(t));
    }
    page.row("Checked", &checked(l));
    page.row("Keep it", &keep());
    page.text
}

fn summary(log: &Log, l: &Learning) -> String {
    let dates: Vec<String> =
        log.runs.iter().filter_map(|r| r.date).map(|d| d.to_string()).collect();
    let when = match (dates.iter().min(), dates.iter().max()) {
        (Some(first), Some(last)) if first == last => format!(" of {first}"),
        (Some(first), Some(last)) => format!(" of {first} to {last}"),
        _ => String::new(),
    };
    let runs = match log.runs.len() {
        1 => "one run".to_string(),
        n => format!("{n} runs"),
    };
    let used = match l.used {
        1 => "one reading".to_string(),
        n => format!("{n} readings"),
    };
    format!("Learned from {runs}{when}, {used} used, {} left out.", l.outliers.len())
}

fn row(f: &Factor) -> Vec<String> {
    let name = match f.parameter.of.as_str() {
        "" => f.parameter.title.clone(),
        of => format!("{}, {of}", f.parameter.title),
    };
    let prior = f.parameter.prior_sd;
    let name = textwrap::wrap(&name, 44).first().map_or(name.clone(), ToString::to_string);
    let two = |x: f64| format!("{x:.2}");
    vec![
        name,
        two(f.value),
        format!("{} to {}", two(f.low80), two(f.high80)),
        format!("+-{}", say::share(prior)),
    ]
}

/// An outlier in words: what was read, what was to be expected, how far off.
fn sentence(log: &Log, o: &Outlier, u: System) -> String {
    let value = |x: f64| said(o.what, x, u);
    let head = format!(
        "{} of \"{}\" at {}, read as {}",
        name(o.what),
        log.runs[o.run].name,
        say::moment(o.at_s),
        value(o.read)
    );
    match o.why {
        Why::Off { expected, deviations } => format!(
            "{head}: everything else makes it {}, {} standard deviations away.",
            value(expected),
            say::figures(deviations, 2)
        ),
        Why::OverFaraday(times) => format!(
            "{head}: {} times what the charge measured can dissolve (Faraday). Was it weighed \
             wet before or without the resist after, or is a current missing?",
            say::figures(times, 3)
        ),
        Why::OverThickness(sheet) => {
            format!("{head}: deeper than the sheet is thick, {}.", value(sheet))
        }
        Why::UnderAir(air) => format!("{head}: colder than the air about it, {}.", value(air)),
    }
}

fn name(what: What) -> &'static str {
    match what {
        What::SourceVolts => "Volts at the source",
        What::BathVolts => "Volts across the bath",
        What::Amps => "Amps",
        What::Depth => "Depth",
        What::WeightLoss => "Weight loss",
        What::CellTemperature => "Cell temperature",
    }
}

fn said(what: What, x: f64, u: System) -> String {
    match what {
        What::SourceVolts | What::BathVolts => say::voltage(x),
        What::Amps => say::current_to(x, 3),
        What::Depth => u.depth(x),
        What::WeightLoss => say::mass(x),
        What::CellTemperature => u.temperature(x),
    }
}

fn cell_sentence(t: &CellTrial) -> String {
    format!(
        "{} under two loads: {}, where stock has {} ({:.2} times).",
        t.cell,
        say::resistance(t.ohm),
        say::resistance(t.stock_ohm),
        t.ohm / t.stock_ohm
    )
}

fn bath_sentence(t: &BathTrial) -> String {
    let siemens = |k: f64| format!("{} mS/cm", say::figures(10.0 * k, 3));
    let stock = t.stock_kappa25.map(|k| format!(", where stock has {}", siemens(k)));
    let one = if t.two {
        ""
    } else {
        " From one current only, what the electrodes take counts as bath: take it as the least \
         it can be. It was not used for the factors."
    };
    format!(
        "{} between two plates: {} at 25 degC{}.{one}",
        t.electrolyte,
        siemens(t.kappa25),
        stock.unwrap_or_default()
    )
}

fn checked(l: &Learning) -> String {
    let (shift, width) = l.off();
    let scatter = if l.scatter > 1.0 {
        format!(
            " The readings scatter {} times as far as the meters should: the factors are that \
             much less sure, and it is taken into account.",
            say::figures(l.scatter, 2)
        )
    } else {
        String::new()
    };
    let poor = if l.check.effective < 0.1 * l.check.draws as f64 || shift > 0.5 || width > 0.3 {
        " That is far: take the spans above as rough, and log another run."
    } else {
        ""
    };
    format!(
        "{} draws of everything that fits these readings (worth {}) lie within {} of a standard \
         deviation of the factors above, and their widths within {}.{poor}{scatter}",
        l.check.draws,
        say::figures(l.check.effective, 2),
        say::figures(shift, 1),
        say::share(width),
    )
}

fn keep() -> String {
    format!(
        "--out FOLDER writes {}; a job beside it uses it with profile = \"{}\" at its top.",
        profile::NAME,
        profile::NAME
    )
}
