//! When nothing passes: stirring, or the least change of one thing that makes one source pass.
//!
//! Each is solved for: stepped away from the job's value until some source passes, then
//! halved between the last value that fails and the first that passes, to a fiftieth of
//! the change; so a tenth less of it does not do, which is tried against every source.

use super::candidates::{LARGER_SIZES, candidates};
use super::judge::Judged;
use super::judge_all;
use super::supply::supplies;
use crate::advice::AdviceError;
use crate::job::{Bare, Job, Source};
use crate::stock::Stock;
use crate::units::say::{self, System};
use crate::units::{Area, Length, Quantity, Share, Time};

/// A change that would do, as a job file has it.
#[derive(Debug, Clone)]
pub struct Change {
    /// Key of the job.
    pub key: &'static str,
    /// Value as it is, as written in a job.
    pub from: String,
    /// Value that would do.
    pub to: String,
    /// The same in SI or as a count: from, to.
    pub values: (f64, f64),
    /// The source that then passes.
    pub source: Source,
}

/// One thing that may give.
#[derive(Clone, Copy, PartialEq)]
enum Knob {
    Time,
    Gap,
    Cells,
    Bare,
}

/// Solves for each thing that may give; those that help, the least first.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn least_changes(
    job: &Job,
    stock: &Stock,
    failed: &[Judged],
) -> Result<Vec<Change>, AdviceError> {
    debug_assert!(failed.iter().all(|o| !o.feasible()));
    let mut list = Vec::new();
    for (knob, probes) in [
        (Knob::Time, [1.5, 2.0, 4.0, 8.0, 16.0, 32.0].to_vec()),
        (Knob::Gap, [1.15, 1.4, 1.8, 2.5, 4.0, 8.0].to_vec()),
        (Knob::Gap, [0.85, 0.65, 0.45, 0.3, 0.15].to_vec()),
        (Knob::Cells, LARGER_SIZES.iter().map(|n| f64::from(*n)).collect()),
        (Knob::Bare, [0.85, 0.65, 0.5, 0.35, 0.2, 0.1, 0.05].to_vec()),
    ] {
        list.extend(solve(job, stock, knob, &probes)?);
    }
    list.extend(stirred(job, stock)?);
    let size = |c: &Change| (c.values.1 / c.values.0).ln().abs();
    list.sort_by(|a, b| size(a).total_cmp(&size(b)));
    // Of a wider and a narrower gap the lesser change is enough.
    let mut seen = Vec::new();
    list.retain(|c| {
        !seen.contains(&c.key) && {
            seen.push(c.key);
            true
        }
    });
    Ok(list)
}

/// Stirring, where the bath is still: it keeps salt films off, and costs nothing.
fn stirred(job: &Job, stock: &Stock) -> Result<Option<Change>, AdviceError> {
    if job.bath.stirred {
        return Ok(None);
    }
    let mut stirred = job.clone();
    stirred.bath.stirred = true;
    let sizing = super::search(&stirred, stock)?;
    Ok(sizing.chosen().map(|o| Change {
        key: "bath.stirred",
        from: "false".into(),
        to: "true".into(),
        values: (1.0, 1.0), // no amount, so it comes first
        source: o.source.clone(),
    }))
}

impl Knob {
    fn key(self, job: &Job) -> &'static str {
        match self {
            Self::Time => "limits.time",
            Self::Gap => "bath.gap",
            Self::Cells => "limits.cells",
            Self::Bare => match job.piece.bare.is {
                Bare::Share(_) => "piece.exposed",
                Bare::Area(_) => "piece.exposed_area",
            },
        }
    }

    fn value(self, job: &Job) -> f64 {
        match self {
            Self::Time => job.limits.time.si(),
            Self::Gap => job.bath.gap.is.si(),
            Self::Cells => f64::from(job.limits.cells.unwrap_or(super::candidates::DEFAULT_CELLS)),
            Self::Bare => match job.piece.bare.is {
                Bare::Share(share) => share.si(),
                Bare::Area(area) => area.si(),
            },
        }
    }

    /// The job with this value; none when such a job would be refused.
    fn with(self, job: &Job, value: f64) -> Option<Job> {
        let mut changed = job.clone();
        match self {
            Self::Time => {
                changed.limits.time = Time::from_si(value);
                (value <= 360_000.0).then_some(())?;
            }
            Self::Gap => {
                let room = job.bath.depth_m() - job.piece.thickness.is.0.si();
                (value >= 0.5e-3 && value <= room).then_some(())?;
                changed.bath.gap.is = Length::from_si(value);
            }
            Self::Cells => changed.limits.cells = Some(value.round() as u32),
            Self::Bare => {
                changed.piece.bare.is = match job.piece.bare.is {
                    Bare::Share(_) => Bare::Share(Share::from_si(value)),
                    Bare::Area(_) => Bare::Area(Area::from_si(value)),
                };
                (changed.piece.bare_m2() >= 1e-3 * job.piece.outline_m2()).then_some(())?;
            }
        }
        Some(changed)
    }

    /// As a job file has it; six figures, so that the rounding is no change of its own.
    fn written(self, job: &Job, value: f64) -> String {
        match self {
            Self::Time => format!("{} min", say::figures(value / 60.0, 6)),
            Self::Gap => format!("{} mm", say::figures(value * 1e3, 6)),
            Self::Cells => format!("{}", value.round()),
            Self::Bare => match job.piece.bare.is {
                Bare::Share(_) => format!("{} %", say::figures(value * 100.0, 6)),
                Bare::Area(_) => format!("{} cm2", say::figures(value * 1e4, 6)),
            },
        }
    }
}

/// Whether a source passes at a value, and which, out of all or out of some.
fn passing(
    job: &Job,
    stock: &Stock,
    knob: Knob,
    value: f64,
    only: Option<&[Source]>,
) -> Result<Vec<Source>, AdviceError> {
    let Some(changed) = knob.with(job, value) else {
        return Ok(Vec::new());
    };
    let all = candidates(&changed, stock);
    let mut options = judge_all(&changed, stock, only.unwrap_or(&all))?;
    if only.is_none()
        && let Some(advice) = supplies(&changed, stock)?
    {
        options.extend(advice.options);
    }
    Ok(options.into_iter().filter(Judged::feasible).map(|o| o.source).collect())
}

fn solve(
    job: &Job,
    stock: &Stock,
    knob: Knob,
    probes: &[f64],
) -> Result<Option<Change>, AdviceError> {
    let from = knob.value(job);
    let absolute = knob == Knob::Cells;
    let mut fails = from;
    let mut found = None;
    for probe in probes {
        let value = if absolute { *probe } else { from * probe };
        if absolute && value <= from {
            continue;
        }
        let sources = passing(job, stock, knob, value, None)?;
        if !sources.is_empty() {
            found = Some((value, sources));
            break;
        }
        fails = value;
    }
    let Some((mut passes, mut sources)) = found else {
        return Ok(None);
    };
    loop {
        if absolute {
            break; // cells come in whole holders: nothing to halve
        }
        // Halved with the sources that pass at the far end, checked against all of them.
        while (passes - fails).abs() > 0.02 * (passes - from).abs() {
            let middle = 0.5 * (passes + fails);
            let some = passing(job, stock, knob, middle, Some(&sources))?;
            if some.is_empty() { fails = middle } else { (passes, sources) = (middle, some) }
        }
        let tenth_less = from + 0.9 * (passes - from);
        let some = passing(job, stock, knob, tenth_less, None)?;
        if some.is_empty() {
            break;
        }
        (passes, sources, fails) = (tenth_less, some, from);
    }
    let key = knob.key(job);
    let change = |source| Change {
        key,
        from: knob.written(job, from),
        to: knob.written(job, passes),
        values: (from, passes),
        source,
    };
    Ok(sources.into_iter().next().map(change))
}

impl Change {
    /// In a sentence.
    pub fn text(&self, u: System) -> String {
        let (from, to) = self.values;
        let with = super::reasons::source_words(&self.source);
        match self.key {
            "limits.time" => format!(
                "Allow {} instead of {}: {with} then does it.",
                say::time(to),
                say::time(from)
            ),
            "bath.gap" => format!(
                "Set the gap to {} instead of {}: {with} then does it.",
                u.length(to),
                u.length(from)
            ),
            "bath.stirred" => format!("Stir the bath: {with} then does it."),
            "limits.cells" => format!("Allow {to} cells instead of {from}: {with} then does it."),
            _ => format!(
                "Etch it in {} goes, stopping out the rest: {} of what is bare at a time; {with} \
                 then does it.",
                (from / to).ceil(),
                say::share(to / from)
            ),
        }
    }
}
