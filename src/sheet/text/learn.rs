//! The answer of `learn` on a terminal.

use super::page::Page;
use crate::advice::learn::{Factor, Learning};
use crate::advice::spread::quantile::Quantiles;
use crate::job::log::{BathTrial, CellTrial, Log};
use crate::sheet::toml::NAME;
use crate::sheet::words::learn::sentence;
use crate::units::say::{self, System};

/// The whole page.
pub fn learn(log: &Log, l: &Learning, u: System) -> String {
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
        NAME, NAME
    )
}
