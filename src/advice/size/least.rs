//! When nothing passes: stirring, or the least change of one thing that makes one source pass.
//!
//! Each is solved for: stepped away from the job's value until some source passes, then
//! halved between the last value that fails and the first that passes, to a fiftieth of
//! the change; so a tenth less of it does not do, which is tried against every source. That
//! source just does it in the nominal run, which is to say about every other time: what is said
//! goes on from there to the first value at which most draws do it too, rounded to what a clock
//! or a ruler shows, and it is that value which is checked. For the job's own source the same is
//! solved for where it does the job but is driven hard: what would make it do with room.

use super::candidates::{LARGER_SIZES, candidates};
use super::change::{Change, Goal, Knob};
use super::judge::{Judged, Looked};
use super::search::{first_that_holds, judge_all};
use super::supply::supplies;
use crate::advice::error::AdviceError;
use crate::advice::verdict::Grade;
use crate::job::{Bare, Job, Source};
use crate::stock::Stock;
use crate::units::say;
use crate::units::{Area, Length, MolarConcentration, Quantity, Resistance, Share, Time};

/// Solves for each thing that may give; those that help, the least first.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn least_changes(job: &Job, stock: &Stock) -> Result<Vec<Change>, AdviceError> {
    let mut list = Vec::new();
    let all = Search { job, stock, goal: Goal::Done, among: None };
    for (knob, probes) in knobs().into_iter().filter(|(knob, _)| *knob != Knob::Resistor) {
        list.extend(all.solve(knob, &probes)?);
    }
    list.extend(stirred(job, stock)?);
    Ok(in_order(list))
}

/// What would make one source fit, each alone: stirring, gap and strength, which cost next to
/// nothing, then a resistor in its lead and fewer square centimetres at a time; the least first.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn fitting_changes(
    job: &Job,
    stock: &Stock,
    own: &Source,
    goal: Goal,
) -> Result<Vec<Change>, AdviceError> {
    let among = Search { job, stock, goal, among: Some(std::slice::from_ref(own)) };
    let mut list = Vec::new();
    let fitting = |knob: Knob| knob.free() || matches!(knob, Knob::Resistor | Knob::Bare);
    for (knob, probes) in knobs().into_iter().filter(|(knob, _)| fitting(*knob)) {
        list.extend(among.solve(knob, &probes)?);
    }
    if !job.bath.stirred {
        let held = among.that_holds(Knob::Stirring, 1.0, std::slice::from_ref(own))?;
        list.extend(held.map(|passed| stirring(job, passed.source, goal)));
    }
    Ok(in_order(list))
}

/// Share of the draws in which what is advised may still fail: under a half by about the standard
/// error of the draws that it is tried with.
const SELDOM: f64 = 0.45;
/// Draws of what is advised: it is held against a plan's.
const ADVISED: Looked = Looked { near: 128, far: 32, seed: 1 };

impl Goal {
    fn met(self, judged: &Judged) -> bool {
        let room = || judged.verdict().grade == Grade::Does;
        let seldom = judged.chances.as_ref().is_none_or(|c| c.firm <= SELDOM);
        judged.feasible() && seldom && (self == Self::Done || room())
    }
}

/// What is searched: the job, what is to be met, and among which sources; none for all.
#[derive(Clone, Copy)]
struct Search<'a> {
    job: &'a Job,
    stock: &'a Stock,
    goal: Goal,
    among: Option<&'a [Source]>,
}

/// What is solved for, and the values tried on the way, as shares of the job's, as counts or as
/// ohms.
fn knobs() -> [(Knob, Vec<f64>); 7] {
    [
        (Knob::Time, [1.5, 2.0, 4.0, 8.0, 16.0, 32.0].to_vec()),
        (Knob::Gap, [1.15, 1.4, 1.8, 2.5, 4.0, 8.0].to_vec()),
        (Knob::Gap, [0.85, 0.65, 0.45, 0.3, 0.15, 0.08, 0.04, 0.02].to_vec()),
        (Knob::Strength, [1.2, 1.5, 2.0, 3.0, 5.0, 8.0].to_vec()),
        (Knob::Cells, LARGER_SIZES.iter().map(|n| f64::from(*n)).collect()),
        (Knob::Bare, [0.85, 0.65, 0.5, 0.35, 0.2, 0.1, 0.05].to_vec()),
        (
            Knob::Resistor,
            [0.1, 0.2, 0.4, 0.7, 1.0, 1.5, 2.0, 3.0, 5.0, 8.0, 13.0, 20.0, 50.0, 100.0].to_vec(),
        ),
    ]
}

/// What costs nothing first, and the least change; one of each key.
fn in_order(mut list: Vec<Change>) -> Vec<Change> {
    let size = |c: &Change| libm::log(c.values.1 / c.values.0).abs();
    let costs = |c: &Change| match c.knob {
        Knob::Resistor => 1,
        knob if knob.free() => 0,
        _ => 2,
    };
    list.sort_by(|a, b| costs(a).cmp(&costs(b)).then(size(a).total_cmp(&size(b))));
    // Of a wider and a narrower gap the lesser change is enough.
    let mut seen = Vec::new();
    list.retain(|c| {
        !seen.contains(&c.key) && {
            seen.push(c.key);
            true
        }
    });
    list
}

/// Stirring, where the bath is still: it keeps salt films off, and costs nothing.
fn stirred(job: &Job, stock: &Stock) -> Result<Option<Change>, AdviceError> {
    if job.bath.stirred {
        return Ok(None);
    }
    let mut stirred = job.clone();
    stirred.bath.stirred = true;
    let found = first_that_holds(&stirred, stock)?;
    Ok(found.map(|o| stirring(job, o.case.source, Goal::Done)))
}

fn stirring(job: &Job, source: Source, goal: Goal) -> Change {
    Change {
        knob: Knob::Stirring,
        key: Knob::Stirring.key(job),
        from: "false".into(),
        to: "true".into(),
        values: (1.0, 1.0), // no amount, so it comes first
        source,
        resistor_w: None,
        goal,
    }
}

impl Knob {
    fn key(self, job: &Job) -> &'static str {
        match self {
            Self::Stirring => "bath.stirred",
            Self::Time => "limits.time",
            Self::Gap => "bath.gap",
            Self::Strength => "bath.concentration",
            Self::Cells => "limits.cells",
            Self::Resistor => "source.resistor",
            Self::Bare => match job.piece.bare.is {
                Bare::Share(_) => "piece.exposed",
                Bare::Area(_) => "piece.exposed_area",
            },
        }
    }

    fn value(self, job: &Job) -> f64 {
        match self {
            Self::Stirring => f64::from(job.bath.stirred),
            Self::Time => job.limits.time.si(),
            Self::Gap => job.bath.gap.is.si(),
            Self::Strength => job.bath.concentration.is.si(),
            Self::Cells => f64::from(job.limits.cells.unwrap_or(super::candidates::DEFAULT_CELLS)),
            Self::Resistor => job.source.as_ref().map_or(0.0, |own| own.resistor().si()),
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
            Self::Stirring => changed.bath.stirred = value > 0.0,
            Self::Time => {
                changed.limits.time = Time::from_si(value);
                changed.limits.time_asked = true;
                (value <= 360_000.0).then_some(())?;
            }
            Self::Gap => {
                let room = job.bath.depth_m() - job.piece.thickness.is.0.si();
                (value >= LEAST_GAP_M && value <= room).then_some(())?;
                changed.bath.gap.is = Length::from_si(value);
            }
            Self::Strength => {
                // A reading of its own says nothing of a stronger bath.
                let b = &job.bath;
                let known = value <= b.stock.concentration_max.is.si() && b.reading.is_none();
                known.then_some(())?;
                changed.bath.concentration.is = MolarConcentration::from_si(value);
            }
            Self::Cells => changed.limits.cells = Some(value.round() as u32),
            // Of the source, not of the job: see `on`.
            Self::Resistor => {}
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

    /// Sources as they are with this value: a resistor is the source's own.
    fn on(self, sources: &[Source], value: f64) -> Vec<Source> {
        let with = |source: &Source| match self {
            Self::Resistor => source.clone().with_resistor(Resistance::from_si(value)),
            _ => source.clone(),
        };
        sources.iter().map(with).collect()
    }

    /// As a job file has it; six figures, so that the rounding is no change of its own.
    fn written(self, job: &Job, value: f64) -> String {
        match self {
            Self::Stirring => (value > 0.0).to_string(),
            Self::Time => format!("{} min", say::figures(value / 60.0, 6)),
            Self::Gap => format!("{} mm", say::figures(value * 1e3, 6)),
            Self::Strength => format!("{} mol/L", say::figures(value * 1e-3, 6)),
            Self::Cells => format!("{}", value.round()),
            Self::Resistor => format!("{} ohm", say::figures(value, 6)),
            Self::Bare => match job.piece.bare.is {
                Bare::Share(_) => format!("{} %", say::figures(value * 100.0, 6)),
                Bare::Area(_) => format!("{} cm2", say::figures(value * 1e4, 6)),
            },
        }
    }

    /// Steps in which a value of about this much is said and set, the coarsest first: minutes
    /// as the page tells time, half millimetres on a ruler, whole per cents of a face.
    fn steps(self, job: &Job, value: f64) -> [f64; 2] {
        match self {
            Self::Stirring | Self::Cells => [1.0; 2],
            Self::Time => match value {
                s if s < 100.0 => [5.0, 1.0],
                s if s < 9.5 * 60.0 => [30.0; 2],
                s if s < 99.0 * 60.0 => [60.0; 2],
                _ => [300.0; 2],
            },
            Self::Gap => [5e-4, 1e-4],
            Self::Strength => [50.0, 10.0],
            Self::Resistor if value < 1.0 => [0.01; 2],
            Self::Resistor if value < 10.0 => [0.1; 2],
            Self::Resistor => [1.0; 2],
            Self::Bare => match job.piece.bare.is {
                Bare::Share(_) => [0.01, 0.001],
                Bare::Area(_) => [1e-5, 1e-6],
            },
        }
    }
}

/// Least gap that is advised, m: in a narrower one the metal that grows from the pan soon shorts
/// it (judgement).
const LEAST_GAP_M: f64 = 2e-3;
/// A share by which the page's three figures may miss a value.
const FIGURES: f64 = 3e-3;

/// Values that are tried beyond the solved one, and how much further each is than the last.
const BEYOND: i32 = 16;
const FURTHER: f64 = 0.03;

/// Sources that are drawn at most at one value: those that are soonest done.
const DRAWN: usize = 6;

/// A source that passes, and its current at the start, A.
struct Passed {
    source: Source,
    start_a: f64,
}

impl Search<'_> {
    /// Whether a source passes at a value, and which.
    fn passing(&self, knob: Knob, value: f64) -> Result<Vec<Source>, AdviceError> {
        let Some(changed) = knob.with(self.job, value) else {
            return Ok(Vec::new());
        };
        let list = match self.among {
            Some(some) => knob.on(some, value),
            None => candidates(&changed, self.stock),
        };
        let mut options = judge_all(&changed, self.stock, &list)?;
        if self.among.is_none()
            && let Some(supply) = supplies(&changed, self.stock)?
        {
            options.extend(supply.options);
        }
        let met = options.into_iter().filter(|o| self.goal.met(o));
        Ok(met.map(|o| o.case.source).collect())
    }

    /// Of sources that pass at a value the soonest done that does it in most draws too.
    fn that_holds(
        &self,
        knob: Knob,
        value: f64,
        sources: &[Source],
    ) -> Result<Option<Passed>, AdviceError> {
        let Some(changed) = knob.with(self.job, value) else {
            return Ok(None);
        };
        let mut options = judge_all(&changed, self.stock, &knob.on(sources, value))?;
        options.retain(|o| self.goal.met(o));
        options.sort_by(|a, b| a.elapsed_s().total_cmp(&b.elapsed_s()));
        for mut option in options.into_iter().take(DRAWN) {
            option.draw(ADVISED)?;
            if self.goal.met(&option) {
                let start_a = option.case.run.start_current_a;
                return Ok(Some(Passed { source: option.case.source, start_a }));
            }
        }
        Ok(None)
    }

    /// The nearest value beyond the solved one that is said as it is, and at which a source does
    /// it, draws and all; none where the room in which it does is narrower than any step.
    fn sayable(
        &self,
        knob: Knob,
        (up, solved): (bool, f64),
    ) -> Result<Option<(f64, Passed)>, AdviceError> {
        for step in knob.steps(self.job, solved) {
            let mut last = None;
            for n in 0..BEYOND {
                let further = solved * libm::pow(1.0 + FURTHER, f64::from(if up { n } else { -n }));
                let whole = further / step;
                let value = step * if up { whole.ceil() } else { whole.floor() };
                if last.replace(value) == Some(value) {
                    continue; // rounded to the same
                }
                let sources = self.passing(knob, value)?;
                if sources.is_empty() {
                    break;
                }
                let near = value - if up { FIGURES } else { -FIGURES } * value;
                let as_said = || Search { among: Some(&sources), ..*self }.passing(knob, near);
                if knob == Knob::Gap && as_said()?.is_empty() {
                    continue;
                }
                if let Some(passed) = self.that_holds(knob, value, &sources)? {
                    return Ok(Some((value, passed)));
                }
            }
        }
        Ok(None)
    }

    /// The least change of one thing that does.
    fn solve(&self, knob: Knob, probes: &[f64]) -> Result<Option<Change>, AdviceError> {
        let from = knob.value(self.job);
        let counts = knob == Knob::Cells;
        let absolute = counts || knob == Knob::Resistor;
        // What passes as it is fails in its draws.
        let at_once = self.passing(knob, from)?;
        let mut found = Some((from, at_once)).filter(|(_, sources)| !sources.is_empty());
        let mut fails = from;
        let up = probes.first().is_some_and(|probe| absolute || *probe > 1.0);
        for probe in probes.iter().filter(|_| found.is_none()) {
            let value = if absolute { *probe } else { from * probe };
            if absolute && value <= from {
                continue;
            }
            let sources = self.passing(knob, value)?;
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
            if counts || passes == from {
                break; // cells come in whole holders: nothing to halve
            }
            // Halved with the sources that pass at the far end, checked against all of them.
            while (passes - fails).abs() > 0.02 * (passes - from).abs() {
                let middle = 0.5 * (passes + fails);
                let some = Search { among: Some(&sources), ..*self }.passing(knob, middle)?;
                if some.is_empty() { fails = middle } else { (passes, sources) = (middle, some) }
            }
            let tenth_less = from + 0.9 * (passes - from);
            let some = self.passing(knob, tenth_less)?;
            if some.is_empty() {
                break;
            }
            (passes, sources, fails) = (tenth_less, some, from);
        }
        let held = if counts {
            self.more_cells(knob, (passes, &sources), probes)?
        } else {
            self.sayable(knob, (up, passes.max(LEAST_OHM)))?
        };
        Ok(held.map(|(value, passed)| Change {
            knob,
            key: knob.key(self.job),
            from: knob.written(self.job, from),
            to: knob.written(self.job, value),
            values: (from, value),
            resistor_w: (knob == Knob::Resistor).then(|| passed.start_a.powi(2) * value),
            source: passed.source,
            goal: self.goal,
        }))
    }

    /// The fewest cells, from those that pass on, with which most draws do it.
    fn more_cells(
        &self,
        knob: Knob,
        (passes, sources): (f64, &[Source]),
        probes: &[f64],
    ) -> Result<Option<(f64, Passed)>, AdviceError> {
        if let Some(passed) = self.that_holds(knob, passes, sources)? {
            return Ok(Some((passes, passed)));
        }
        for value in probes.iter().filter(|value| **value > passes) {
            let sources = self.passing(knob, *value)?;
            if let Some(passed) = self.that_holds(knob, *value, &sources)? {
                return Ok(Some((*value, passed)));
            }
        }
        Ok(None)
    }
}

/// Where what passes as it is fails in its draws, a resistor is begun with, ohm; far under any
/// other knob's value.
const LEAST_OHM: f64 = 1e-9;
