//! Numbers for the wall charts: minutes to depth against bare area for one kind of cell,
//! and time against the number of cells.

use super::candidates::{HOLDER_SIZES, pack};
use super::judge::Judged;
use super::search::judge_all;
use crate::advice::case::Case;
use crate::advice::error::AdviceError;
use crate::advice::held::held;
use crate::advice::limit::Limit;
use crate::job::{Bare, Job, Source};
use crate::run::Stop;
use crate::stock::{Cell, Holder, Stock};
use crate::units::{Area, Outline, Quantity};

/// Why a point of the chart is no good; the first that holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Bad {
    /// Cells run too hot, inside or to the touch, or give more than they bear.
    Hot,
    /// The user's limit of current density is passed.
    Resist,
    /// The pack goes empty.
    Empty,
    /// Out of time, or no current at all.
    Slow,
}

/// One area for one number of cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Bare area of one piece, m2.
    pub bare_m2: f64,
    /// Time to depth where it is reached, s.
    pub time_s: Option<f64>,
    /// Why it is no good.
    pub bad: Option<Bad>,
}

/// One number of cells in series.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Cells in series.
    pub cells: u32,
    /// From the smallest area to the largest.
    pub spots: Vec<Spot>,
}

/// Minutes to depth against bare area.
#[derive(Debug, Clone, PartialEq)]
pub struct WallChart {
    /// Cell.
    pub cell: String,
    /// Holder.
    pub holder: String,
    /// Depth that is etched, m.
    pub depth_m: f64,
    /// One line for each number of cells.
    pub lines: Vec<Line>,
    /// The job's own bare area of one piece, m2.
    pub own_bare_m2: f64,
}

/// One number of cells on the second chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Cells in all.
    pub cells: u32,
    /// In series and in parallel.
    pub wiring: (u32, u32),
    /// Time to depth, rests and all, where it is reached, s.
    pub time_s: Option<f64>,
    /// Hottest spot of the run, K.
    pub hot_spot_k: Option<f64>,
    /// Whether it does the job.
    pub feasible: bool,
    /// Whether it is the one to take.
    pub chosen: bool,
}

/// Time against the number of cells.
#[derive(Debug, Clone, PartialEq)]
pub struct CellChart {
    /// Cell.
    pub cell: String,
    /// Holder.
    pub holder: String,
    /// Hot spot that a cell bears, K.
    pub limit_k: f64,
    /// One for each wiring that was tried, by cells and then by cells in series.
    pub bars: Vec<Bar>,
}

/// Areas on the wall chart, as shares of the largest: closer together where it is small.
const AREAS: usize = 25;
/// Largest area on the chart over the job's own.
const LARGEST: f64 = 3.0;
/// Series on the wall chart.
pub const MOST_IN_SERIES: u32 = 8;

/// Works the wall chart out; the outline grows and shrinks with the bare area, its share
/// and its gap staying what they are.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn wall_chart(
    job: &Job,
    stock: &Stock,
    cell: &Cell,
    holder: &Holder,
) -> Result<WallChart, AdviceError> {
    let own = job.piece.bare_m2();
    let mut lines = Vec::new();
    for series in 1..=MOST_IN_SERIES {
        let source = pack(cell, series, 1, holder);
        let at = |factor: f64| spot(&scaled(job, factor), &source, stock, own * factor);
        let mut spots = Vec::new();
        // The job's own area among the others, so that the chart says of it what `size` says.
        let even = (1..=AREAS).map(|k| LARGEST * (k as f64 / AREAS as f64).powi(2));
        let mut factors: Vec<f64> = even.chain([1.0]).collect();
        factors.sort_by(f64::total_cmp);
        factors.dedup();
        for factor in factors {
            let next = at(factor)?;
            if let Some(last) = spots.last().copied().filter(|last: &Spot| last.bad != next.bad) {
                spots.extend(turning(last, next, own, &at)?);
            }
            spots.push(next);
        }
        lines.push(Line { cells: series, spots });
    }
    Ok(WallChart {
        cell: cell.name.clone(),
        holder: holder.name.clone(),
        depth_m: job.piece.depth.is.si(),
        lines,
        own_bare_m2: own,
    })
}

/// The two sides of the turning point between two spots that differ, by halving.
fn turning(
    mut low: Spot,
    mut high: Spot,
    own: f64,
    at: &impl Fn(f64) -> Result<Spot, AdviceError>,
) -> Result<[Spot; 2], AdviceError> {
    for _ in 0..7 {
        let middle = at(0.5 * (low.bare_m2 + high.bare_m2) / own)?;
        if middle.bad == low.bad { low = middle } else { high = middle }
    }
    Ok([low, high])
}

/// The job with outline and bare area times `factor`.
fn scaled(job: &Job, factor: f64) -> Job {
    let mut job = job.clone();
    let side = factor.sqrt();
    job.piece.outline.is = match job.piece.outline.is {
        Outline::Rectangle(a, b) => Outline::Rectangle(a * side, b * side),
        Outline::Disc(d) => Outline::Disc(d * side),
        Outline::Area(area) => Outline::Area(area * factor),
    };
    if let Bare::Area(area) = job.piece.bare.is {
        job.piece.bare.is = Bare::Area(Area::from_si(area.si() * factor));
    }
    job
}

fn spot(job: &Job, source: &Source, stock: &Stock, bare_m2: f64) -> Result<Spot, AdviceError> {
    let case = Case::of(job, source, stock)?;
    let broken = |limits: &[Limit]| {
        held(&case, None).iter().any(|row| row.broken && limits.contains(&row.limit))
    };
    let bad = if broken(&[Limit::Hot, Limit::OwnTouch, Limit::CellCurrent]) {
        Some(Bad::Hot)
    } else if broken(&[Limit::OwnDensity]) {
        Some(Bad::Resist)
    } else {
        match case.run.stop {
            Stop::Depth => None,
            Stop::Empty => Some(Bad::Empty),
            _ => Some(Bad::Slow),
        }
    };
    let time_s = (case.run.stop == Stop::Depth).then_some(case.run.time_s);
    Ok(Spot { bare_m2, time_s, bad })
}

/// Works the second chart out from the options of one kind of cell in one holder.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn cell_chart(
    job: &Job,
    stock: &Stock,
    cell: &Cell,
    holder: &Holder,
    chosen: Option<&Judged>,
) -> Result<CellChart, AdviceError> {
    let mut sources = Vec::new();
    for total in HOLDER_SIZES {
        for parallel in (1..=total).rev().filter(|p| total % p == 0) {
            sources.push(pack(cell, total / parallel, parallel, holder));
        }
    }
    let judged = judge_all(job, stock, &sources)?;
    let bars = judged.iter().map(|o| Bar {
        cells: o.cells(),
        wiring: match &o.case.source {
            Source::Pack(p) => (p.series.is, p.parallel),
            _ => (0, 0),
        },
        time_s: match (&o.rest, o.case.run.stop) {
            (Some(rest), _) => Some(rest.elapsed_s),
            (None, Stop::Depth) => Some(o.case.run.time_s),
            _ => None,
        },
        hot_spot_k: o.case.run.peak_hot_spot_k,
        feasible: o.feasible(),
        chosen: chosen.is_some_and(|c| c.case.source.wired_as(&o.case.source)),
    });
    let limit_k = judged
        .first()
        .and_then(|o| o.case.setup.source.pack())
        .map_or(f64::INFINITY, |p| p.temperature_limit_k);
    let (cell, holder) = (cell.name.clone(), holder.name.clone());
    Ok(CellChart { cell, holder, limit_k, bars: bars.collect() })
}
