//! What to watch, how sure it all is, and the plots.

use super::mark::Markup;
use crate::advice::{Level, Plan};
use crate::sheet::plots::Plot;
use crate::sheet::words::findings::word;
use crate::sheet::words::{plan as words, spread};
use crate::units::say::System;

/// Findings, warmth, what holds the current back, cautions.
pub fn watch(m: &mut Markup, plan: &Plan, u: System) {
    m.part("watch", "Watch", |m| {
        m.open("ul", &[("class", "findings")]);
        for finding in plan.findings.iter().filter(|f| f.level() != Level::Stop) {
            let (class, label) = match finding.level() {
                Level::Note => ("note", "Note"),
                _ => ("caution", "Caution"),
            };
            item(m, class, label, &word(finding, u));
        }
        item(m, "", "Warmth", &words::warmth(plan.case(), u));
        if let Some(held) = words::held_back(plan) {
            item(m, "", "Held back", &held);
        }
        m.close();
        m.open("div", &[("class", "kept")]);
        m.leaf("h3", &[], "Cautions");
        m.open("ul", &[("class", "cautions")]);
        for caution in &plan.cautions {
            m.said("li", &[], caution);
        }
        m.close();
        m.close();
    });
}

fn item(m: &mut Markup, class: &str, label: &str, text: &str) {
    let class = [("class", class)];
    m.open("li", if class[0].1.is_empty() { &[] } else { &class });
    m.leaf("strong", &[], &format!("{label} "));
    m.prose(text);
    m.close();
}

/// The spread, and what to measure next.
pub fn how_sure(m: &mut Markup, plan: &Plan, u: System) {
    let Some(spread) = &plan.spread else {
        return;
    };
    m.part("sure", "How sure", |m| m.said("p", &[], &spread::sentence(plan.case(), spread, u)));
}

/// The plots.
pub fn over_time(m: &mut Markup, plots: &[Plot]) {
    if plots.is_empty() {
        return;
    }
    m.part("plots", "Over time", |m| {
        m.open("div", &[("class", "grid")]);
        for plot in plots {
            m.open("figure", &[("class", "plot")]);
            m.trusted(&lean(&plot.svg));
            m.close();
        }
        m.close();
    });
}

/// A plot without what the page says already or goes without saying. No user's
/// text is touched: in that, quotation marks are escaped.
fn lean(svg: &str) -> String {
    svg.replace(" opacity=\"1\"", "").replace(" font-family=\"sans-serif\"", "")
}
