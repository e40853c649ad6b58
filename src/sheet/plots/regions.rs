//! The lines of the wall chart on paper, and the regions between them: one for each reason
//! why it does not go well there.
//!
//! Between neighbouring lines a region spans from a stretch of one to the like stretch of the
//! other; where the other has none, to the point between its neighbours. Where a line has no
//! time its region follows the course that it had; no line is painted there.

use super::hatch::holds;
use super::labels::Words;
use super::panel::Panel;
use super::scale::plottable;
use super::sizes::At;
use crate::advice::size::chart::{Bad, Line, Spot};

/// A time beyond every axis, s.
const NEVER_S: f64 = 1e29;
/// Exponent of time over area where there is but one time.
const USUAL: f64 = 0.5;

/// How many of the twelve points of a region's name may lie outside, and how bad each is.
const SPARE: usize = 3;
pub const OUTSIDE: usize = 80;

/// One point of a line.
#[derive(Debug, Clone, Copy)]
struct Node {
    at: At,
    bad: Option<Bad>,
    timed: bool,
}

/// A line on paper.
pub struct Path {
    /// Cells in series.
    pub cells: u32,
    nodes: Vec<Node>,
}

/// A part of a line all of which goes well, or badly for one reason.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// Why it goes badly.
    pub bad: Option<Bad>,
    /// On paper.
    pub points: Vec<At>,
}

impl Path {
    /// Of a line's spots, from an area on.
    pub fn of(line: &Line, least_m2: f64, panel: &Panel) -> Self {
        let sound = |x: f64| x > 0.0 && plottable(x);
        let spots: Vec<_> =
            line.spots.iter().filter(|s| sound(s.bare_m2) && s.bare_m2 >= least_m2).collect();
        let known: Vec<(f64, f64)> = spots
            .iter()
            .filter_map(|s| {
                Some((libm::log(s.bare_m2), libm::log(s.time_s.filter(|t| sound(*t))?)))
            })
            .collect();
        let node = |spot: &&Spot| {
            let timed = spot.time_s.filter(|t| sound(*t));
            let time_s = timed.unwrap_or_else(|| course(&known, libm::log(spot.bare_m2)));
            Node { at: panel.at(spot.bare_m2, time_s), bad: spot.bad, timed: timed.is_some() }
        };
        Self { cells: line.cells, nodes: spots.iter().map(node).collect() }
    }

    /// Where its last time lies.
    pub fn end(&self) -> Option<At> {
        self.nodes.iter().rfind(|n| n.timed).map(|n| n.at)
    }

    /// The parts that have a time.
    pub fn timed(&self) -> Vec<Stretch> {
        self.nodes.split(|n| !n.timed).flat_map(stretches).collect()
    }
}

/// Time in s where none was reached, on from those that were: `known` holds logarithms of
/// area and time.
fn course(known: &[(f64, f64)], area: f64) -> f64 {
    let after = known.partition_point(|k| k.0 < area);
    let pair = match known {
        [] => return NEVER_S,
        [_] => None,
        _ => {
            let first = after.saturating_sub(1).min(known.len() - 2);
            Some((known[first], known[first + 1]))
        }
    };
    let slope = pair.map_or(USUAL, |(a, b)| (b.1 - a.1) / (b.0 - a.0));
    let slope = if slope.is_finite() { slope.clamp(0.0, 1.5) } else { USUAL };
    let from = known[after.saturating_sub(1)];
    libm::exp(from.1 + slope * (area - from.0)).clamp(f64::MIN_POSITIVE, NEVER_S)
}

/// Nodes in a row, parted half way where the reason changes.
fn stretches(nodes: &[Node]) -> Vec<Stretch> {
    let mut list: Vec<Stretch> = Vec::new();
    let mut before: Option<At> = None;
    for node in nodes {
        let middle = before.map(|b| ((b.0 + node.at.0) / 2.0, (b.1 + node.at.1) / 2.0));
        before = Some(node.at);
        match list.last_mut() {
            Some(last) if last.bad == node.bad => last.points.push(node.at),
            last => {
                if let (Some(last), Some(middle)) = (last, middle) {
                    last.points.push(middle);
                }
                let points = middle.into_iter().chain([node.at]).collect();
                list.push(Stretch { bad: node.bad, points });
            }
        }
    }
    list
}

/// The areas between lines, each with why it is bad there, if it is.
pub fn areas(paths: &[Path]) -> Vec<(Option<Bad>, Vec<At>)> {
    let all: Vec<Vec<Stretch>> = paths.iter().map(|p| stretches(&p.nodes)).collect();
    all.windows(2).flat_map(|pair| between(&pair[0], &pair[1])).collect()
}

/// The areas between two lines.
fn between(upper: &[Stretch], lower: &[Stretch]) -> Vec<(Option<Bad>, Vec<At>)> {
    let like = alike(upper, lower);
    let mut list = Vec::new();
    let (mut i, mut j) = (0, 0);
    while i < upper.len() || j < lower.len() {
        let both = i < upper.len() && j < lower.len() && upper[i].bad == lower[j].bad;
        if both {
            list.push(area(&upper[i], &upper[i].points, &lower[j].points));
            (i, j) = (i + 1, j + 1);
        } else if j == lower.len() || (i < upper.len() && like[i + 1][j] >= like[i][j + 1]) {
            list.push(area(&upper[i], &upper[i].points, &start(lower, j)));
            i += 1;
        } else {
            list.push(area(&lower[j], &start(upper, i), &lower[j].points));
            j += 1;
        }
    }
    list
}

fn area(of: &Stretch, there: &[At], back: &[At]) -> (Option<Bad>, Vec<At>) {
    (of.bad, there.iter().chain(back.iter().rev()).copied().collect())
}

/// Where stretch `n` starts, or where the last one ends; nowhere on a line without any.
fn start(list: &[Stretch], n: usize) -> Vec<At> {
    let at = match list.get(n) {
        Some(stretch) => stretch.points.first(),
        None => list.last().and_then(|stretch| stretch.points.last()),
    };
    at.copied().into_iter().collect()
}

/// How many stretches from `[i]` and `[j]` on are alike, in their order, at most.
fn alike(a: &[Stretch], b: &[Stretch]) -> Vec<Vec<usize>> {
    let mut like = vec![vec![0; b.len() + 1]; a.len() + 1];
    for i in (0..a.len()).rev() {
        for j in (0..b.len()).rev() {
            like[i][j] = if a[i].bad == b[j].bad {
                like[i + 1][j + 1] + 1
            } else {
                like[i + 1][j].max(like[i][j + 1])
            };
        }
    }
    like
}

/// Where lines of words lie within areas of a panel, and how far from the middle of all such places.
pub fn places_within(f: &Words, areas: &[Vec<At>], lines: &[String]) -> Vec<(At, usize)> {
    let steps = |from: f64, to: f64, step: f64| {
        (0..).map(move |n| from + step * f64::from(n)).take_while(move |x| *x < to)
    };
    // How many of twelve points of the words lie outside; a few may.
    let outside = |at: &At| {
        let w = Words::block(*at, lines);
        let across = [0.04, 0.35, 0.65, 0.96].map(|part| w.left + part * (w.right - w.left));
        let down = [0.06, 0.5, 0.94].map(|part| w.top + part * (w.bottom - w.top));
        let all = across.iter().flat_map(|x| down.map(|y| (*x, y)));
        all.filter(|p| !areas.iter().any(|a| holds(a, *p))).take(SPARE + 1).count()
    };
    let across = || steps(f.left + 6.0, f.right, 9.0);
    let all = steps(f.top + 20.0, f.bottom, 6.0).flat_map(|y| across().map(move |x| (x, y)));
    let places: Vec<(At, usize)> =
        all.map(|at| (at, outside(&at))).filter(|(_, out)| *out <= SPARE).collect();
    let middle =
        |of: fn(&At) -> f64| places.iter().map(|(at, _)| of(at)).sum::<f64>() / places.len() as f64;
    let (x, y) = (middle(|at| at.0), middle(|at| at.1));
    let far = |at: &At| (libm::hypot(at.0 - x, at.1 - y) / 12.0) as usize;
    places.iter().map(|(at, out)| (*at, far(at) + OUTSIDE * out)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn nodes(height: f64, bads: &[Option<Bad>]) -> Vec<Node> {
        let node = |(n, bad): (usize, &Option<Bad>)| Node {
            at: (10.0 * n as f64, height),
            bad: *bad,
            timed: true,
        };
        bads.iter().enumerate().map(node).collect()
    }

    #[test]
    fn stretches_meet_half_way() {
        let list = stretches(&nodes(0.0, &[Some(Bad::Resist), None, None]));
        assert_eq!(list[0].points, [(0.0, 0.0), (5.0, 0.0)]);
        assert_eq!(list[1].points, [(5.0, 0.0), (10.0, 0.0), (20.0, 0.0)]);
    }

    #[test]
    fn regions_end_in_a_point_where_the_next_line_has_none() {
        let (resist, hot) = (Some(Bad::Resist), Some(Bad::Hot));
        let upper = stretches(&nodes(0.0, &[resist, None, hot]));
        let lower = stretches(&nodes(40.0, &[resist, hot, hot]));
        let list = between(&upper, &lower);
        assert_eq!(list.iter().map(|a| a.0).collect::<Vec<_>>(), [resist, None, hot]);
        assert_eq!(list[1].1, [(5.0, 0.0), (10.0, 0.0), (15.0, 0.0), (5.0, 40.0)]);
        assert_eq!(between(&upper, &[]).len(), 3);
        assert!(between(&[], &[]).is_empty());
    }

    #[test]
    fn courses_go_on() {
        let known = [(0.0, 1.0), (1.0, 1.5), (2.0, 2.0)];
        assert!((course(&known, 3.0).ln() - 2.5).abs() < 1e-9);
        assert!((course(&known, -1.0).ln() - 0.5).abs() < 1e-9);
        assert!((course(&known, 0.5).ln() - 1.25).abs() < 1e-9);
        assert!((course(&known[..1], 2.0).ln() - 2.0).abs() < 1e-9);
        assert_eq!(course(&[], 2.0), NEVER_S);
    }
}
