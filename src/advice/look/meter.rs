//! What the ammeter shows a minute after switching on, of set-ups that are right and of those in
//! which one thing is wrong.

use super::expect::{Expected, noise, of_meters};
use super::fault::Fault;
use crate::advice::case::Case;
use crate::advice::error::AdviceError;
use crate::advice::reads::Taken;
use crate::advice::spread::Metered;
use crate::advice::spread::sample::Inputs;
use crate::job::log::{Accuracies, Reading, What};
use nalgebra::{DMatrix, DVector};

/// Faults that lie closer than this are mistaken for one another in one of fifty; standard
/// deviations.
pub(super) const ALIKE: f64 = 4.2;
/// A fault that lies closer than this to what is right is overlooked as often, for faults are
/// rare.
pub(super) const LIKE_RIGHT: f64 = 5.2;

/// What the meters show.
#[derive(Debug, Clone, PartialEq)]
pub struct Meter {
    /// Of set-ups that are right.
    pub right: Metered,
    /// What each fault would show.
    pub faults: Vec<Shown>,
}

/// What one fault shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// The fault.
    pub fault: Fault,
    /// Current, A; against the usual way where negative.
    pub current_a: f64,
    /// Voltage from sheet to pan, V.
    pub bath_v: f64,
    /// Faults that the ammeter does not tell from it.
    pub like: Vec<Fault>,
    /// Faults that ammeter and voltmeter together do not.
    pub like_by_both: Vec<Fault>,
    /// Whether the ammeter tells it from what is right, and both meters do.
    pub told: (bool, bool),
}

/// What the meters show, set-ups that are right as `right` has them.
///
/// # Errors
/// When a run cannot be worked out.
pub fn meter(case: &Case, right: Metered) -> Result<Meter, AdviceError> {
    let at_s = right.at_s;
    let reading = |what| Reading { at_s, what, value: 0.0 };
    let readings = [reading(What::Amps), reading(What::BathVolts)];
    let accuracies = Accuracies::default();
    let (job, source) = (case.job, &case.source);
    let taken = Taken { job, source, readings: &readings, accuracies };
    let inputs = Inputs::of(job, source);
    let expected = |fault| Expected::of(&taken, case.stock, &inputs, fault);
    let fits = expected(None)?;
    let mut list = Vec::new();
    for fault in Fault::ALL.into_iter().filter(|fault| fault.befalls(job, source)) {
        list.push((fault, expected(Some(fault))?));
    }
    // Of two readings the sharper meter's error says whether they differ.
    let apart = |a: &Expected, b: &Expected| {
        let read = |k: usize| if a.values[k].abs() < b.values[k].abs() { b } else { a }.values[k];
        let read: Vec<Reading> =
            readings.iter().enumerate().map(|(k, r)| Reading { value: read(k), ..*r }).collect();
        let noise = noise(&read, &of_meters(&read, &accuracies));
        (first(a).apart(&first(b), &noise.rows(0, 1).into_owned()), a.apart(b, &noise))
    };
    let shown = |(fault, here): &(Fault, Expected)| {
        let others = list.iter().filter(|(other, _)| other != fault);
        let near: Vec<(Fault, (f64, f64))> =
            others.map(|(other, there)| (*other, apart(here, there))).collect();
        let alike = |which: &dyn Fn(&(f64, f64)) -> f64| -> Vec<Fault> {
            near.iter().filter(|(_, d)| which(d) < ALIKE).map(|(other, _)| *other).collect()
        };
        let of_right = apart(here, &fits);
        Shown {
            fault: *fault,
            current_a: here.values[0],
            bath_v: here.values[1],
            like: alike(&|d| d.0),
            like_by_both: alike(&|d| d.1),
            told: (of_right.0 >= LIKE_RIGHT, of_right.1 >= LIKE_RIGHT),
        }
    };
    let faults = list.iter().map(shown).collect();
    Ok(Meter { right, faults })
}

/// The first reading alone.
fn first(of: &Expected) -> Expected {
    Expected {
        values: of.values[..1].to_vec(),
        mean: DVector::from_element(1, of.mean[0]),
        covariance: DMatrix::from_element(1, 1, of.covariance[(0, 0)]),
    }
}
