//! Readings against what a right set-up and what each fault would show.

use super::expect::{Expected, noise, noise_of, of_meters, scale, unscale};
use super::fault::Fault;
use super::meter::ALIKE;
use crate::advice::error::AdviceError;
use crate::advice::reads::Taken;
use crate::advice::spread::quantile::TENTH;
use crate::advice::spread::sample::Inputs;
use crate::job::Until;
use crate::job::log::{Reading, What};
use crate::stock::Stock;
use crate::units::Quantity;
use nalgebra::DVector;

/// A fault that the readings fit better than the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspect {
    /// The fault.
    pub fault: Fault,
    /// How many times as likely as that nothing is wrong, faults being rare.
    pub odds: f64,
    /// Faults that these readings do not tell from it, the nearest first.
    pub like: Vec<Fault>,
    /// Whether hardly anything flows: the joint is none, or a lead is off.
    pub open: bool,
    /// When it was first seen, s, where what was read before was right.
    pub since_s: Option<f64>,
}

/// A reading, and what it was expected to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Against {
    /// What was read.
    pub reading: Reading,
    /// What eight right set-ups in ten would have shown: the middle and the ends.
    pub expected: (f64, f64, f64),
}

/// What the readings say of the set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// The likeliest fault, where one is likelier than none.
    pub suspect: Option<Suspect>,
    /// How far the readings are off what is right, in standard deviations, and the most that is
    /// still believed where nothing fits.
    pub off: (f64, f64),
    /// Every reading beside what it was expected to be.
    pub against: Vec<Against>,
    /// Whether an ammeter showed more than the source gives through the leads alone.
    pub beyond: bool,
}

/// How likely a fault is before anything is read, over nothing being wrong (judgement).
const RARE: f64 = 0.02;
/// Readings that lie further off than one right set-up in a thousand, and no fault explains, are
/// read again: standard deviations for one reading, rising with their number.
const ASTRAY: f64 = 3.3;
/// Share of the current under which nothing flows, as far as anybody cares.
const NOTHING: f64 = 0.02;
/// What a shorted source may give over what is worked out, before a reading is not believed.
const SHORTED: f64 = 1.5;
/// Odds beyond which they are only said to be large.
const LARGE: f64 = 1e6;

/// Compares.
///
/// # Errors
/// When a run cannot be worked out.
pub fn compare(
    taken: &Taken,
    stock: &Stock,
    inputs: &Inputs,
    sds: &[f64],
) -> Result<Compared, AdviceError> {
    let all = Bench { taken, stock, inputs, sds };
    let right = Expected::of(taken, stock, inputs, None)?;
    let against = |(n, reading): (usize, &Reading)| {
        let sd = right.covariance[(n, n)].max(0.0).sqrt();
        let at = |z: f64| unscale(reading.what, right.mean[n] + z * sd);
        Against { reading: reading.clone(), expected: (at(0.0), at(-TENTH), at(TENTH)) }
    };
    let against: Vec<Against> = taken.readings.iter().enumerate().map(against).collect();
    let shorted = Expected::of(taken, stock, inputs, Some(Fault::Touching))?;
    let beyond =
        taken.readings.iter().zip(&shorted.values).any(|(reading, most)| {
            reading.what == What::Amps && reading.value.abs() > SHORTED * most
        });
    // How warm a cell is hangs on the room and on where it is touched: no fault is read off it.
    let told = |r: &Reading| r.what != What::CellTemperature;
    let (mut suspect, mut off) = all.of(&told)?;
    if !taken.readings.iter().all(told) {
        off = all.of(&|_| true)?.1;
    }
    let last = taken.readings.last().map_or(0.0, |r| r.at_s);
    let earlier = |r: &Reading| told(r) && r.at_s < last;
    if suspect.is_none() && off.0 > off.1 && taken.readings.iter().any(earlier) {
        // What went wrong on the way is seen in the last readings alone.
        suspect = all.of(&|r: &Reading| told(r) && r.at_s == last)?.0;
        suspect.iter_mut().for_each(|s| s.since_s = Some(last));
    }
    if let Some(open) = open(&against, last) {
        suspect = Some(open);
    }
    let beyond = beyond && with_first_source(taken);
    Ok(Compared { suspect: suspect.filter(|_| !beyond), off, against, beyond })
}

/// Whether all was read with the first of several sources: faults are put into that one alone.
fn with_first_source(taken: &Taken) -> bool {
    let until = taken.job.stages.first().and_then(|stage| stage.until.as_ref());
    let last = taken.readings.last().map_or(0.0, |r| r.at_s);
    match until.map(|at| at.is) {
        None => true,
        Some(Until::Time(time)) => last <= time.si(),
        Some(Until::Depth(_)) => false,
    }
}

/// A circuit that is open at the last reading.
fn open(against: &[Against], last: f64) -> Option<Suspect> {
    let amps = |a: &&Against| a.reading.what == What::Amps;
    let nothing = |a: &&Against| a.reading.value.abs() < NOTHING * a.expected.0;
    against.iter().find(|a| amps(a) && nothing(a) && a.reading.at_s == last)?;
    let before = against.iter().any(|a| amps(&a) && a.reading.at_s < last && !nothing(&a));
    Some(Suspect {
        fault: Fault::Joint,
        odds: LARGE,
        like: Vec::new(),
        open: true,
        since_s: before.then_some(last),
    })
}

struct Bench<'a> {
    taken: &'a Taken<'a>,
    stock: &'a Stock,
    inputs: &'a Inputs,
    sds: &'a [f64],
}

impl Bench<'_> {
    /// Of some of the readings: the likeliest fault where one is likelier than none, and how far they
    /// are off what is right.
    fn of(
        &self,
        heeded: &dyn Fn(&Reading) -> bool,
    ) -> Result<(Option<Suspect>, (f64, f64)), AdviceError> {
        let (readings, sds): (Vec<Reading>, Vec<f64>) = self
            .taken
            .readings
            .iter()
            .zip(self.sds)
            .filter(|(r, _)| heeded(r))
            .map(|(r, sd)| (r.clone(), *sd))
            .unzip();
        let most = ASTRAY + (readings.len() as f64).sqrt() - 1.0;
        if readings.is_empty() {
            return Ok((None, (0.0, most)));
        }
        let taken = Taken { readings: &readings, ..*self.taken };
        let read =
            DVector::from_iterator(readings.len(), readings.iter().map(|r| scale(r.what, r.value)));
        let noise = noise(&readings, &sds);
        let right = Expected::of(&taken, self.stock, self.inputs, None)?;
        let nowhere = (f64::NEG_INFINITY, f64::INFINITY);
        let (fits, off) = right.likelihood(&read, &noise).unwrap_or(nowhere);
        let mut faults: Vec<(Fault, Expected, f64)> = Vec::new();
        let may = |f: &Fault| f.befalls(taken.job, taken.source) && with_first_source(&taken);
        for fault in Fault::ALL.into_iter().filter(may) {
            let expected = Expected::of(&taken, self.stock, self.inputs, Some(fault))?;
            // What the meter does not see of a small reading it does of the fault's.
            let meters = of_meters(&readings, &taken.accuracies);
            let noise = noise.zip_map(&noise_of(&readings, &expected.values, &meters), f64::max);
            let (likely, away) = expected.likelihood(&read, &noise).unwrap_or(nowhere);
            // One that the readings are as far from is no explanation.
            if away <= most {
                faults.push((fault, expected, likely));
            }
        }
        let best = faults.iter().max_by(|a, b| a.2.total_cmp(&b.2));
        let suspect = best.and_then(|(fault, expected, likely)| {
            let odds = (RARE * libm::exp((likely - fits).min(50.0))).min(LARGE);
            let others = faults.iter().filter(|(other, ..)| other != fault);
            let mut like: Vec<(f64, Fault)> =
                others.map(|(other, there, _)| (expected.apart(there, &noise), *other)).collect();
            like.retain(|(apart, _)| *apart < ALIKE);
            like.sort_by(|a, b| a.0.total_cmp(&b.0));
            let like = like.into_iter().map(|(_, other)| other).collect();
            (odds > 1.0).then_some(Suspect {
                fault: *fault,
                odds,
                like,
                open: false,
                since_s: None,
            })
        });
        Ok((suspect, (off, most)))
    }
}
