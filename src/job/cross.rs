//! Cross-checks: what no single key shows to be wrong.

use super::bath::{Bath, Hung, least_gap_m};
use super::draft::Draft;
use super::layout::{self, sides};
use super::piece::Piece;
use super::source::{HIGHEST, Source};
use super::stage::{Stage, Until};
use crate::reader::Ledger;
use crate::units::say::figures;
use crate::units::{Quantity, Voltage, parse};

/// Rounding of the last digit is no contradiction.
const SLACK: f64 = 1.0 + 1e-9;

/// Checks what could be read, so that a slip elsewhere hides no contradiction.
pub fn check(draft: &Draft, ledger: &Ledger) {
    let (piece, bath) = (draft.piece.piece.as_ref(), draft.bath.as_ref());
    if let Some(piece) = piece {
        depth_fits_the_sheet(piece, ledger);
        bare_fits_the_outline(piece, ledger);
    }
    if let (Some(piece), Some(bath)) = (piece, bath) {
        bath_covers_the_sheet(piece, bath, ledger);
        sheet_lies_in_the_pan(piece, bath, ledger);
    }
    voltage_is_safe_to_touch(draft.source.as_ref(), ledger);
    for stage in draft.stages.iter().skip(1) {
        voltage_is_safe_to_touch(Some(&stage.source), ledger);
    }
    if let Some(piece) = piece {
        stages_go_deeper(piece, &draft.stages, ledger);
    }
}

fn mm(x: f64) -> String {
    format!("{} mm", figures((x * 1e6).round() / 1e3, 4))
}

fn cm2(m2: f64) -> String {
    format!("{} cm2", figures(m2 * 1e4, 4))
}

fn depth_fits_the_sheet(p: &Piece, ledger: &Ledger) {
    let (depth, thickness) = (p.depth.is.si(), p.thickness.is.0.si());
    let sheet = mm(thickness);
    if depth * SLACK >= thickness {
        let text = format!(
            "a depth of {} goes through sheet {sheet} thick; allowed: less than the thickness",
            mm(depth)
        );
        ledger.add(&p.depth.place, &p.depth.key, text);
        return;
    }
    if let Some(begun) = p.begun.as_ref().filter(|begun| begun.is.si() * SLACK >= depth) {
        let text = format!(
            "a piece {} deep already has its depth of {}; allowed: less than the depth",
            mm(begun.is.si()),
            mm(depth)
        );
        ledger.add(&begun.place, &begun.key, text);
    }
    let Some(floor) = &p.floor else {
        return;
    };
    if floor.is.si() >= thickness * SLACK {
        let text = format!(
            "a floor of {} is more than sheet {sheet} thick; allowed: depth and floor together at \
             most the thickness",
            mm(floor.is.si())
        );
        ledger.add(&floor.place, &floor.key, text);
    } else if depth + floor.is.si() > thickness * SLACK {
        let text = format!(
            "a depth of {} and a floor of {} do not fit into sheet {sheet} thick; allowed: depth \
             and floor together at most the thickness",
            mm(depth),
            mm(floor.is.si())
        );
        ledger.add(&p.depth.place, &p.depth.key, text);
    }
}

/// A stage that ends at a depth ends at a greater one than those before it, and under the piece's.
fn stages_go_deeper(p: &Piece, stages: &[Stage], ledger: &Ledger) {
    let mut before = p.begun.as_ref().map_or(0.0, |begun| begun.is.si());
    for stage in stages {
        let Some((at, depth)) = stage.until.as_ref().and_then(|at| match at.is {
            Until::Depth(depth) => Some((at, depth.si())),
            Until::Time(_) => None,
        }) else {
            continue;
        };
        if depth <= before * SLACK || depth * SLACK >= p.depth.is.si() {
            let text = format!(
                "{} is not between {} and the depth of {}; allowed: a stage that ends deeper than \
                 those before it and not so deep as the piece",
                mm(depth),
                mm(before),
                mm(p.depth.is.si())
            );
            ledger.add(&at.place, &at.key, text);
        }
        before = before.max(depth);
    }
}

fn bare_fits_the_outline(p: &Piece, ledger: &Ledger) {
    let (bare, outline) = (p.bare_m2(), p.outline_m2());
    if bare > outline * SLACK {
        let text = format!(
            "a bare area of {} is more than the outline's {}; allowed: at most the outline of one \
             piece",
            cm2(bare),
            cm2(outline)
        );
        ledger.add(&p.bare.place, &p.bare.key, text);
    }
}

/// One sheet, laid along the pan; whether several fit side by side is left to a finding.
fn sheet_lies_in_the_pan(p: &Piece, bath: &Bath, ledger: &Ledger) {
    let (Some(sheet), Some(pan)) = (sides(&p.outline.is), sides(&bath.pan.is)) else {
        return;
    };
    if bath.hung != Hung::FaceDown {
        return upright_fits(p, bath, (sheet, pan), ledger);
    }
    if sheet.0 > pan.0 * SLACK || sheet.1 > pan.1 * SLACK {
        let text = format!(
            "a sheet of {} by {} does not lie in a pan of {} by {}; allowed: a sheet no longer and \
             no wider than the pan",
            mm(sheet.0),
            mm(sheet.1),
            mm(pan.0),
            mm(pan.1)
        );
        ledger.add(&p.outline.place, &p.outline.key, text);
        return;
    }
    let between = bath.gap.is.si();
    let grid = layout::most(sheet, pan, between);
    if p.count.is <= grid.count().max(1) {
        return;
    }
    let room = layout::pan_for(sheet, p.count.is, between);
    let text = format!(
        "{} pieces of {} by {} do not lie side by side in a pan of {} by {} with the gap, {}, between \
         them: {} do, {} by {}; allowed: fewer, or a pan such as {} by {}",
        p.count.is,
        mm(sheet.0),
        mm(sheet.1),
        mm(pan.0),
        mm(pan.1),
        mm(between),
        grid.count(),
        grid.columns,
        grid.rows,
        mm(room.0),
        mm(room.1)
    );
    ledger.add(&p.count.place, &p.count.key, text);
}

/// A sheet that hangs upright: covered, and with room for the gap on every face.
fn upright_fits(p: &Piece, bath: &Bath, (sheet, pan): ((f64, f64), (f64, f64)), ledger: &Ledger) {
    let deep = bath.depth_m();
    if sheet.1 > deep * SLACK {
        let text = format!(
            "a sheet of {} by {} is not covered upright: this volume in this pan is {} deep; allowed: \
             at least {} mL of bath",
            mm(sheet.0),
            mm(sheet.1),
            mm(deep),
            (sheet.1 * bath.pan.is.area_m2() * 1e6).ceil()
        );
        ledger.add(&bath.volume.place, &bath.volume.key, text);
    }
    if let Hung::Upright { plate, .. } = &bath.hung
        && let Some(sides) = sides(&plate.is)
        && (sides.1 > deep * SLACK || sides.0 > pan.0 * SLACK)
    {
        let text = format!(
            "{} by {} of a plate are not in a bath {} deep and {} long; allowed: the part that is in it",
            mm(sides.0),
            mm(sides.1),
            mm(deep),
            mm(pan.0)
        );
        ledger.add(&plate.place, &plate.key, text);
    }
    let faces = f64::from(bath.hung.faces());
    let thick = f64::from(p.count.is) * (faces * bath.gap.is.si() + p.thickness.is.0.si());
    if thick > pan.0 * SLACK {
        let text = format!(
            "{} on every face and the sheets themselves take {}, and the pan is {} long; allowed: a \
             gap at which they fit",
            mm(bath.gap.is.si()),
            mm(thick),
            mm(pan.0)
        );
        ledger.add(&bath.gap.place, &bath.gap.key, text);
    }
    if faces > 1.0 {
        let (depth, floor) = (p.depth.is.si(), p.floor.as_ref().map_or(0.0, |f| f.is.si()));
        if 2.0 * depth + floor > p.thickness.is.0.si() * SLACK {
            let text = format!(
                "{} from either side and a floor of {} do not fit into sheet {} thick; allowed: both \
                 depths and the floor together at most the thickness",
                mm(depth),
                mm(floor),
                mm(p.thickness.is.0.si())
            );
            ledger.add(&p.depth.place, &p.depth.key, text);
        }
    }
}

fn bath_covers_the_sheet(p: &Piece, bath: &Bath, ledger: &Ledger) {
    if bath.hung != Hung::FaceDown {
        return;
    }
    let (gap, thickness) = (bath.gap.is.si(), p.thickness.is.0.si());
    let deep = bath.depth_m();
    if gap + thickness <= deep * SLACK {
        return;
    }
    // Rounded to the safe side: what is offered is not refused in turn.
    let highest = ((deep - thickness) * 1e4).floor() * 1e-4;
    let least = ((gap + thickness) * bath.pan.is.area_m2() * 1e6).ceil();
    let lower = if highest < least_gap_m() {
        String::new()
    } else {
        format!("a gap of at most {}, or ", mm(highest))
    };
    let text = format!(
        "at {} over the pan, sheet {} thick is not covered: this volume in this pan is {} deep; \
         allowed: {lower}at least {least} mL of bath",
        mm(gap),
        mm(thickness),
        mm(deep)
    );
    ledger.add(&bath.gap.place, &bath.gap.key, text);
}

fn voltage_is_safe_to_touch(source: Option<&Source>, ledger: &Ledger) {
    let Some(Source::Pack(pack)) = source else {
        return;
    };
    let each = pack.cell.nominal.is.si();
    let volts = f64::from(pack.series.is) * each;
    let highest = parse::<Voltage>(HIGHEST).map_or(f64::INFINITY, Quantity::si);
    if volts > highest * SLACK {
        let text = format!(
            "{} of {} in series are {} V; allowed: at most {} in series, as more than {HIGHEST} \
             direct is no longer safe to touch",
            pack.series.is,
            pack.cell.name,
            figures(volts, 4),
            (highest / each * SLACK).floor()
        );
        ledger.add(&pack.series.place, &pack.series.key, text);
    }
}
