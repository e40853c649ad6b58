//! What the wall chart says: its sentence, its note, and names of its regions.

use super::ink::{Ground, HOT, LATE, LIFTED, SPENT};
use super::scale::plottable;
use super::words::{brief, joined};
use crate::advice::size::chart::{Bad, Line, Spot, WallChart};
use crate::units::say::{self, System};

/// All reasons why a spot is bad, with their names and grounds.
pub const REASONS: [(Bad, &str, Ground); 4] = [
    (Bad::Hot, "cells overtaxed", HOT),
    (Bad::Resist, "over your limit", LIFTED),
    (Bad::Empty, "pack goes empty", SPENT),
    (Bad::Slow, "too slow", LATE),
];

/// "1 cell", "4 cells".
pub fn cells(n: u32) -> String {
    if n == 1 { "1 cell".into() } else { format!("{n} cells") }
}

/// An area, with a power of ten when it would be long.
pub fn area(m2: f64, system: System) -> String {
    let said = system.area(m2);
    if said.len() > 12 { brief(said, m2, "m2") } else { said }
}

/// What is held fixed.
pub fn note(chart: &WallChart, system: System) -> String {
    let mut text = format!(
        "For fresh {} cells in series, {}, and a depth of {}; bath, gap and leads as in the job. \
         The sheet grows and shrinks with its bare area.",
        chart.cell,
        chart.holder,
        brief(system.depth(chart.depth_m), chart.depth_m, "m"),
    );
    if chart.lines.iter().any(|l| l.spots.iter().any(|s| s.bad == Some(Bad::Hot))) {
        text += " Overtaxed: too hot, or over the current they bear.";
    }
    text
}

/// The chart in one sentence.
pub fn alt(chart: &WallChart, system: System) -> String {
    let mut parts: Vec<String> = Vec::new();
    for alike in chart.lines.chunk_by(|a, b| of_line(a, system) == of_line(b, system)) {
        let (Some(first), Some(last)) = (alike.first(), alike.last()) else { continue };
        let verb = if alike.len() == 1 && first.cells == 1 { "takes" } else { "take" };
        let who = if alike.len() == 1 {
            cells(first.cells)
        } else {
            format!("{} to {}", first.cells, cells(last.cells))
        };
        parts.push(match of_line(first, system) {
            Ok(times) => format!("{who} {verb} {times}"),
            Err(why) => format!("not with {who}{why}"),
        });
    }
    if parts.is_empty() {
        parts.push("there is no line".into());
    }
    let own = match chart.own_bare_m2 {
        own if plottable(own) => format!("; the job's own bare area is {}", area(own, system)),
        _ => String::new(),
    };
    format!(
        "The chart gives the time to {} of depth against bare area for {} cells in series, {}: {}{own}.",
        brief(system.depth(chart.depth_m), chart.depth_m, "m"),
        chart.cell,
        chart.holder,
        parts.join("; "),
    )
}

/// How long it takes where it goes well, or why it goes well nowhere.
fn of_line(line: &Line, system: System) -> Result<String, String> {
    let timed = |s: &Spot| s.time_s.is_some_and(|t| t > 0.0 && plottable(t));
    let sound = |s: &&Spot| s.bad.is_none() && timed(s) && plottable(s.bare_m2);
    let good: Vec<&Spot> = line.spots.iter().filter(sound).collect();
    let (Some(first), Some(last)) = (good.first(), good.last()) else {
        let met = REASONS.iter().filter(|(bad, ..)| line.spots.iter().any(|s| s.bad == Some(*bad)));
        let why: Vec<String> = met.map(|(_, name, _)| name.to_string()).collect();
        return Err(if why.is_empty() { String::new() } else { format!(" ({})", joined(&why)) });
    };
    let time = |spot: &Spot| say::time(spot.time_s.unwrap_or_default());
    let (from, to) = (area(first.bare_m2, system), area(last.bare_m2, system));
    if good.len() == 1 {
        return Ok(format!("{} for {from}", time(first)));
    }
    Ok(format!("{} to {} for {from} to {to}", time(first), time(last)))
}
