//! Cross-checks: what no single key shows to be wrong.

use super::complaint::Ledger;
use super::source::{HIGHEST, Source};
use super::{Job, Piece};
use crate::units::{Quantity, Voltage, parse};

/// Rounding of the last digit is no contradiction.
const SLACK: f64 = 1.0 + 1e-9;

pub fn check(job: &Job, ledger: &Ledger) {
    depth_fits_the_sheet(&job.piece, ledger);
    bare_fits_the_outline(&job.piece, ledger);
    bath_covers_the_sheet(job, ledger);
    voltage_is_safe_to_touch(job, ledger);
}

fn mm(x: f64) -> String {
    let rounded = (x * 1e6).round() / 1e3;
    format!("{rounded} mm")
}

fn depth_fits_the_sheet(p: &Piece, ledger: &Ledger) {
    let (depth, thickness) = (p.depth.is.si(), p.thickness.is.0.si());
    if let Some(floor) = &p.floor {
        if depth + floor.is.si() > thickness * SLACK {
            let text = format!(
                "a depth of {} and a floor of {} do not fit into sheet {} thick; allowed: depth \
                 and floor together at most the thickness",
                mm(depth),
                mm(floor.is.si()),
                mm(thickness)
            );
            ledger.add(&p.depth.place, &p.depth.key, text);
        }
    } else if depth * SLACK >= thickness {
        let text = format!(
            "a depth of {} goes through sheet {} thick; allowed: less than the thickness",
            mm(depth),
            mm(thickness)
        );
        ledger.add(&p.depth.place, &p.depth.key, text);
    }
}

fn bare_fits_the_outline(p: &Piece, ledger: &Ledger) {
    let (bare, outline) = (p.bare_m2(), p.outline_m2());
    if bare > outline * SLACK {
        let text = format!(
            "a bare area of {:.4} cm2 is more than the outline's {:.4} cm2; allowed: at most the \
             outline of one piece",
            bare * 1e4,
            outline * 1e4
        );
        ledger.add(&p.bare.place, &p.bare.key, text);
    }
}

fn bath_covers_the_sheet(job: &Job, ledger: &Ledger) {
    let bath = &job.bath;
    let (gap, thickness) = (bath.gap.is.si(), job.piece.thickness.is.0.si());
    let deep = bath.depth_m();
    if gap + thickness > deep * SLACK {
        let text = format!(
            "at {} over the pan, sheet {} thick is not covered: this volume in this pan is {} deep; \
             allowed: a gap of at most {}, or more bath",
            mm(gap),
            mm(thickness),
            mm(deep),
            mm((deep - thickness).max(0.0))
        );
        ledger.add(&bath.gap.place, &bath.gap.key, text);
    }
}

fn voltage_is_safe_to_touch(job: &Job, ledger: &Ledger) {
    let Some(Source::Pack(pack)) = &job.source else {
        return;
    };
    let volts = f64::from(pack.series.is) * pack.cell.nominal.is.si();
    let highest = parse::<Voltage>(HIGHEST).map_or(f64::INFINITY, Quantity::si);
    if volts > highest {
        let text = format!(
            "{} of {} in series are {volts} V; allowed: {HIGHEST} at most, above which direct \
             current is no longer safe to touch",
            pack.series.is, pack.cell.name
        );
        ledger.add(&pack.series.place, &pack.series.key, text);
    }
}
