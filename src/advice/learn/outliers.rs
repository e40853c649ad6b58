//! Readings that do not fit: those that cannot be, questioned before anything is fitted, and
//! those that stand far off the bench that all the others speak of.

use super::evidence::{Evidence, taken};
use super::fit::{self, Fit};
use crate::advice::error::AdviceError;
use crate::job::log::{LogRun, What};
use crate::job::resolve::{Factors, resolve};
use crate::laws::constants::FARADAY;
use crate::run::Setup;
use nalgebra::DVector;
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// A reading that was left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlier {
    /// Place of its run in the log.
    pub run: usize,
    /// When, s.
    pub at_s: f64,
    /// Of what.
    pub what: What,
    /// What was read, SI.
    pub read: f64,
    /// Why it was left out.
    pub why: Why,
}

/// Why a reading was left out.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Why {
    /// It stands off what the other readings make of the bench.
    Off {
        /// What they make it, SI.
        expected: f64,
        /// How many standard deviations it is off.
        deviations: f64,
    },
    /// More metal lost than the charge that was measured can dissolve: this many times.
    OverFaraday(f64),
    /// Deeper than the sheet is thick, m.
    OverThickness(f64),
    /// A cell colder than the air about it, K.
    UnderAir(f64),
}

/// Standard deviations beyond which a reading counts as an outlier: one in 16,000 honest ones.
const FAR: f64 = 4.0;
/// Largest share of the readings that are left out as outliers.
const MOST: f64 = 0.2;
/// Weight loss over Faraday's law with the charge measured that is questioned: charge from a
/// few readings of the current is not better than that.
const OVER_FARADAY: f64 = 1.1;
/// Normal's standard deviation over the median absolute deviation.
const MAD: f64 = 1.4826;
/// Chance of so much scatter from good meters under which it is believed.
const UNLIKELY: f64 = 0.05;

/// Fits, leaving out what cannot be and what does not fit, until nothing more is.
///
/// # Errors
/// As [`fit::fit`].
pub fn without(evidence: &mut Evidence) -> Result<(Fit, Vec<Outlier>), AdviceError> {
    let mut outliers = questioned(evidence)?;
    for o in &outliers {
        leave_out(evidence, o.run, o.at_s, o.what);
    }
    let most = (MOST * evidence.count() as f64).floor() as usize;
    let mut left_out = Vec::new();
    let mut fit = fit::fit(evidence, &DVector::zeros(evidence.parameters.list.len()))?;
    while left_out.len() < most {
        let Some((run, k)) = furthest(evidence, &fit) else {
            break;
        };
        evidence.used[run][k] = false;
        left_out.push((run, k));
        fit = fit::fit(evidence, &fit.z)?;
    }
    evidence.scatter = scatter(&fit);
    if evidence.scatter > 1.0 {
        fit = fit::fit(evidence, &fit.z)?;
    }
    outliers.extend(named(evidence, &fit, &left_out)?);
    outliers.sort_by(|a, b| a.run.cmp(&b.run).then(a.at_s.total_cmp(&b.at_s)));
    Ok((fit, outliers))
}

fn leave_out(evidence: &mut Evidence, run: usize, at_s: f64, what: What) {
    let readings = &evidence.log.runs[run].readings;
    for (used, r) in evidence.used[run].iter_mut().zip(readings) {
        *used = *used && !(r.at_s == at_s && r.what == what);
    }
}

/// The reading furthest off, if one is far enough off both by the meters and by how the
/// other readings scatter.
fn furthest(evidence: &Evidence, fit: &Fit) -> Option<(usize, usize)> {
    let places = evidence.places();
    let off: Vec<f64> = fit::standardised(fit).iter().take(places.len()).map(|m| m.abs()).collect();
    let mut sorted = off.clone();
    sorted.sort_by(f64::total_cmp);
    let scale = (MAD * sorted.get(sorted.len() / 2).copied().unwrap_or(0.0)).max(1.0);
    let (at, far) = off.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
    (*far > FAR * scale).then(|| places[at])
}

/// How many times as far as the meters the readings scatter (Birge's ratio), where that is
/// no mere chance; 1 otherwise.
fn scatter(fit: &Fit) -> f64 {
    let freedom = fit::freedom(fit);
    let square = fit.misfits.norm_squared();
    let Ok(chi) = ChiSquared::new(freedom.max(1.0)) else {
        return 1.0;
    };
    let by_chance = freedom < 1.0 || 1.0 - chi.cdf(square) > UNLIKELY;
    if by_chance { 1.0 } else { (square / freedom).sqrt().max(1.0) }
}

/// Outliers with what the others make of them.
fn named(
    evidence: &Evidence,
    fit: &Fit,
    left_out: &[(usize, usize)],
) -> Result<Vec<Outlier>, AdviceError> {
    let theta = &evidence.whiten * &fit.z;
    let mut list = Vec::new();
    for (n, k) in left_out {
        let run = &evidence.log.runs[*n];
        let factors = evidence.parameters.factors(*n, &theta);
        let expected = taken(run).expected(evidence.stock, &factors, 0.0)?[*k];
        let r = &run.readings[*k];
        let deviations = (r.value - expected).abs() / evidence.sds[*n][*k];
        let why = Why::Off { expected, deviations };
        list.push(Outlier { run: *n, at_s: r.at_s, what: r.what, read: r.value, why });
    }
    Ok(list)
}

/// Readings that cannot be.
fn questioned(evidence: &Evidence) -> Result<Vec<Outlier>, AdviceError> {
    let mut list = Vec::new();
    for (n, run) in evidence.log.runs.iter().enumerate() {
        let setup = resolve(&run.job, &run.source, evidence.stock, &Factors::default())?;
        for r in &run.readings {
            let why = match r.what {
                What::WeightLoss => over_faraday(run, &setup, r.at_s, r.value),
                What::Depth => {
                    let thick = setup.piece.thickness + 2.0 * run.accuracies.depth.sd(r.value);
                    (r.value > thick).then_some(Why::OverThickness(setup.piece.thickness))
                }
                What::CellTemperature => {
                    let air = setup.ambient_k;
                    let cold = air - 3.0 * run.accuracies.temperature.sd(r.value);
                    (r.value < cold).then_some(Why::UnderAir(air))
                }
                _ => None,
            };
            let (at_s, what, read) = (r.at_s, r.what, r.value);
            list.extend(why.map(|why| Outlier { run: n, at_s, what, read, why }));
        }
    }
    Ok(list)
}

/// Weight lost over what the charge measured until then can dissolve, where that is over 110 %.
fn over_faraday(run: &LogRun, setup: &Setup, at_s: f64, lost: f64) -> Option<Why> {
    let charge = charge_measured(run, at_s)?;
    let most = setup.piece.equivalent_weight * charge / FARADAY;
    let times = (lost - 2.0 * run.accuracies.weight_loss.sd(lost)) / most;
    (times > OVER_FARADAY).then(|| Why::OverFaraday(lost / most))
}

/// Charge in C from the readings of the current, straight between them and level before the
/// first and after the last; none without one.
fn charge_measured(run: &LogRun, until_s: f64) -> Option<f64> {
    let read = run.readings.iter().filter(|r| r.what == What::Amps && r.at_s <= until_s);
    let mut points: Vec<(f64, f64)> = read.map(|r| (r.at_s, r.value)).collect();
    let (first, last) = (*points.first()?, *points.last()?);
    points.insert(0, (0.0, first.1));
    points.push((until_s, last.1));
    Some(points.windows(2).map(|w| 0.5 * (w[0].1 + w[1].1) * (w[1].0 - w[0].0)).sum())
}
