//! What the spread of the rate comes from, and what to measure next.
//!
//! The rate's logarithm is fitted by a straight line through the draws of the plan (R2 tells
//! how much of it the line explains). An input's share is what knowing it would take away,
//! whatever hangs together with it included: its squared correlation with the rate, which is
//! good to about a hundredth from 2000 draws.

use super::against::Against;
use super::draw::Draw;
use super::quantile::Quantiles;
use super::sample::{self, Inputs, latin_hypercube};
use super::sampling::Sampling;
use crate::advice::error::AdviceError;
use nalgebra::{DMatrix, DVector};

/// Least share of what is not known for which a measurement is worth telling of.
const WORTH: f64 = 0.1;
/// Draws that are enough to say what a reading would give: within a tenth of its span.
const MEASURE_DRAWS: usize = 1000;
/// A reading with ordinary tools: to 5 %.
const MEASURED: f64 = 0.05;
/// Variance that is none, relative to a rate's logarithm.
const NOTHING: f64 = 1e-300;

/// One input's part in what is not known.
#[derive(Debug, Clone, PartialEq)]
pub struct Driver {
    /// Key under `[spread]`.
    pub key: String,
    /// In plain words.
    pub title: String,
    /// Share of the variance of the rate's logarithm.
    pub share: f64,
}

/// What measuring the largest driver would give.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// Its title.
    pub title: String,
    /// Its key.
    pub key: String,
    /// To which spread, as a share.
    pub to: f64,
    /// The time's P10 and P90 then, s.
    pub time_s: Quantiles,
}

/// Drivers, the largest first, and R2 of the straight line behind them.
pub(super) struct Drivers {
    pub list: Vec<Driver>,
    pub r2: f64,
}

/// Drivers of the draws at these points.
pub(super) fn drivers(inputs: &Inputs, points: &[Vec<f64>], draws: &[Draw]) -> Drivers {
    let logarithms: Vec<DVector<f64>> = points.iter().map(|p| inputs.logarithms(p)).collect();
    let rates: Vec<f64> = draws.iter().map(|d| d.ln_rate).collect();
    let (shares, r2) = shares(&logarithms, &rates);
    let row = |(input, share): (&sample::Input, &f64)| Driver {
        key: input.key.clone(),
        title: input.title.clone(),
        share: *share,
    };
    let mut list: Vec<Driver> = inputs.list.iter().zip(&shares).map(row).collect();
    list.sort_by(|a, b| b.share.total_cmp(&a.share));
    Drivers { list, r2 }
}

impl Against<'_> {
    /// The time again with the largest driver that a reading would narrow known to 5 %.
    pub(super) fn measure(
        &self,
        inputs: &Inputs,
        drivers: &[Driver],
        sampling: Sampling,
    ) -> Result<Option<Measure>, AdviceError> {
        let to = sample::sigma(MEASURED);
        let wide = |key: &str| {
            let k = inputs.list.iter().position(|i| i.key == key && i.measurable)?;
            (inputs.covariance()[(k, k)].sqrt() > 1.05 * to).then_some(k)
        };
        let worth = drivers.iter().filter(|d| d.share >= WORTH);
        let Some((driver, k)) = worth.filter_map(|d| Some((d, wide(&d.key)?))).next() else {
            return Ok(None);
        };
        let narrowed = inputs.after_reading(k, to);
        let draws = sampling.draws.div_ceil(2).min(MEASURE_DRAWS);
        let points = latin_hypercube(draws, inputs.list.len(), sampling.seed.wrapping_add(3));
        let draws = self.all(&narrowed, &points)?;
        Ok(Some(Measure {
            title: driver.title.clone(),
            key: driver.key.clone(),
            to: MEASURED,
            time_s: Quantiles::of(draws.iter().map(|d| d.time_s)),
        }))
    }
}

/// Squared correlation of each input with the outcome over a sample, 0..=1, and R2 of the
/// straight line through all of them. Empty where the outcome does not vary.
pub fn shares(inputs: &[DVector<f64>], outcome: &[f64]) -> (Vec<f64>, f64) {
    let k = inputs.first().map_or(0, DVector::len);
    let all = inputs.iter().flat_map(|x| x.iter().copied());
    let x = DMatrix::from_iterator(k, inputs.len(), all);
    let y = DVector::from_column_slice(outcome);
    line(&centred(&x.transpose()), &y.add_scalar(-y.mean()))
}

fn centred(x: &DMatrix<f64>) -> DMatrix<f64> {
    let mut x = x.clone();
    for mut column in x.column_iter_mut() {
        let mean = column.mean();
        column.add_scalar_mut(-mean);
    }
    x
}

/// Shares and R2 of centred inputs (a column each) and outcomes.
fn line(x: &DMatrix<f64>, y: &DVector<f64>) -> (Vec<f64>, f64) {
    let all = y.norm_squared();
    if all <= NOTHING {
        return (Vec::new(), 1.0);
    }
    let along = x.tr_mul(y);
    let share = |k: usize| {
        let own = x.column(k).norm_squared();
        if own > NOTHING { (along[k] * along[k] / own / all).clamp(0.0, 1.0) } else { 0.0 }
    };
    let fitted = x.tr_mul(x).cholesky().map_or(0.0, |c| along.dot(&c.solve(&along)));
    ((0..x.ncols()).map(share).collect(), fitted / all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_a_line_with_inputs_that_hang_together() {
        // y = 2 a + b with a and b of variance 1 and covariance 0.5 (exact four-point
        // sample): var y = 4 + 1 + 2 2 0.5 = 7; cov(a, y) = 2.5, cov(b, y) = 2; squared
        // correlations 6.25/7 and 4/7.
        let (s, c) = (1.5f64.sqrt(), 0.5f64.sqrt());
        let a = DVector::from_vec(vec![s, -s, c, -c]);
        let b = DVector::from_vec(vec![s, -s, -c, c]);
        let x = DMatrix::from_columns(&[a.clone(), b.clone()]);
        let (shares, r2) = line(&x, &(2.0 * a + b));
        assert!((r2 - 1.0).abs() < 1e-12);
        assert!((shares[0] - 6.25 / 7.0).abs() < 1e-12, "{shares:?}");
        assert!((shares[1] - 4.0 / 7.0).abs() < 1e-12, "{shares:?}");
    }
}
