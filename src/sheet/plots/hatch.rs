//! Hatching: parallel strokes that fill areas, and tell them apart where colour does not.

use super::canvas::Canvas;
use super::ink::{Ground, Hatch};
use super::sizes::{At, THIN};
use crate::sheet::plots::error::Painted;
use std::collections::BTreeMap;

/// Strokes this near to each other on one line are painted as one.
const JOINED: f64 = 1.5;
/// Shorter strokes are left out.
const SHORTEST: f64 = 2.0;

/// Tints areas.
pub fn tint(canvas: &Canvas, areas: &[Vec<At>], ground: &Ground) -> Painted<()> {
    areas.iter().try_for_each(|area| canvas.area(area, ground.tint))
}

/// Hatches areas; strokes run on from one to the next.
pub fn hatch(canvas: &Canvas, areas: &[Vec<At>], ground: &Ground) -> Painted<()> {
    strokes(areas, ground.hatch)
        .iter()
        .try_for_each(|stroke| canvas.line(stroke, THIN, ground.stroke, &[]))
}

/// The strokes that fill areas.
fn strokes(areas: &[Vec<At>], hatch: Hatch) -> Vec<[At; 2]> {
    let along = hatch.along;
    let over = (-along.1, along.0);
    let mut lines: BTreeMap<i64, Vec<(f64, f64)>> = BTreeMap::new();
    for area in areas {
        let turned: Vec<At> = area.iter().map(|p| (dot(*p, along), dot(*p, over))).collect();
        let heights = turned.iter().map(|p| p.1);
        let low = heights.clone().fold(f64::INFINITY, f64::min);
        let high = heights.fold(f64::NEG_INFINITY, f64::max);
        let first = (low / hatch.apart).ceil() as i64;
        let last = (high / hatch.apart).floor() as i64;
        for n in first..=last {
            lines.entry(n).or_default().extend(inside(&turned, n as f64 * hatch.apart));
        }
    }
    let mut list = Vec::new();
    for (n, parts) in lines {
        let height = n as f64 * hatch.apart;
        let back = |x: f64| (x * along.0 + height * over.0, x * along.1 + height * over.1);
        list.extend(joined(parts).into_iter().map(|(a, b)| [back(a), back(b)]));
    }
    list
}

fn dot(a: At, b: At) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

/// From where to where a level line runs inside an area.
fn inside(area: &[At], height: f64) -> Vec<(f64, f64)> {
    let next = area.iter().cycle().skip(1);
    let crossing = |(a, b): (&At, &At)| {
        let crosses = (a.1 <= height) != (b.1 <= height);
        crosses.then(|| a.0 + (height - a.1) / (b.1 - a.1) * (b.0 - a.0))
    };
    let mut crossings: Vec<f64> = area.iter().zip(next).filter_map(crossing).collect();
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Whether a point lies in an area.
pub fn holds(area: &[At], p: At) -> bool {
    inside(area, p.1).iter().any(|(from, to)| (*from..=*to).contains(&p.0))
}

/// Strokes on one line, joined where they touch.
fn joined(mut parts: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    parts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut list: Vec<(f64, f64)> = Vec::new();
    for part in parts {
        match list.last_mut() {
            Some(last) if part.0 <= last.1 + JOINED => last.1 = last.1.max(part.1),
            _ => list.push(part),
        }
    }
    list.retain(|(from, to)| to - from >= SHORTEST);
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    const LEVEL: Hatch = Hatch { along: (1.0, 0.0), apart: 10.0 };

    fn square(left: f64) -> Vec<At> {
        vec![(left, 5.0), (left + 50.0, 5.0), (left + 50.0, 35.0), (left, 35.0)]
    }

    #[test]
    fn strokes_fill_an_area_and_run_on() {
        let alone = strokes(&[square(0.0)], LEVEL);
        assert_eq!(alone.len(), 3);
        assert_eq!(alone[0], [(0.0, 10.0), (50.0, 10.0)]);
        let beside = strokes(&[square(0.0), square(50.0)], LEVEL);
        assert_eq!(beside[2], [(0.0, 30.0), (100.0, 30.0)]);
        assert_eq!(strokes(&[square(0.0), square(90.0)], LEVEL).len(), 6);
    }

    #[test]
    fn nothing_is_filled_with_nothing() {
        assert!(strokes(&[], LEVEL).is_empty());
        assert!(strokes(&[vec![], vec![(1.0, 1.0)], vec![(0.0, 0.0); 4]], LEVEL).is_empty());
    }

    #[test]
    fn points_lie_in_or_out() {
        assert!(holds(&square(0.0), (20.0, 20.0)));
        assert!(!holds(&square(0.0), (60.0, 20.0)) && !holds(&square(0.0), (20.0, 40.0)));
    }
}
