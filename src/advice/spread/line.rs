//! A straight line through the outcome of draws: what each input has to do with it.

use nalgebra::{DMatrix, DVector};

/// Variance that is none, relative to an outcome's logarithm.
const NOTHING: f64 = 1e-300;

/// A straight line through an outcome over a sample of inputs.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Squared correlation of each input with the outcome, 0..=1; empty where it does not vary.
    pub shares: Vec<f64>,
    /// How much of the outcome's variance the line explains, 0..=1.
    pub r2: f64,
    /// What it rises by with each input; none where no line can be told.
    pub by: Option<DVector<f64>>,
}

impl Line {
    /// The line of least squares.
    pub fn through(inputs: &[DVector<f64>], outcome: &[f64]) -> Self {
        let k = inputs.first().map_or(0, DVector::len);
        // A draw a row. Products go by columns, one after the other: the package's own for wide
        // matrices differs by the machine in its last digit.
        let mut x = DMatrix::from_fn(inputs.len(), k, |n, k| inputs[n][k]);
        for mut column in x.column_iter_mut() {
            let mean = column.mean();
            column.add_scalar_mut(-mean);
        }
        let y = DVector::from_column_slice(outcome);
        let y = y.add_scalar(-y.mean());
        let all = y.norm_squared();
        if all <= NOTHING {
            return Self { shares: Vec::new(), r2: 1.0, by: None };
        }
        let along = x.tr_mul(&y);
        let share = |k: usize| {
            let own = x.column(k).norm_squared();
            if own > NOTHING { (along[k] * along[k] / own / all).clamp(0.0, 1.0) } else { 0.0 }
        };
        let by = x.tr_mul(&x).cholesky().map(|c| c.solve(&along));
        let r2 = by.as_ref().map_or(0.0, |by| along.dot(by)) / all;
        Self { shares: (0..k).map(share).collect(), r2, by }
    }
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
        let (a, b) = ([s, -s, c, -c], [s, -s, -c, c]);
        let inputs: Vec<_> = a.iter().zip(b).map(|(a, b)| DVector::from_vec(vec![*a, b])).collect();
        let y: Vec<f64> = a.iter().zip(b).map(|(a, b)| 2.0 * a + b + 7.0).collect();
        let line = Line::through(&inputs, &y);
        assert!((line.r2 - 1.0).abs() < 1e-12);
        assert!((line.shares[0] - 6.25 / 7.0).abs() < 1e-12, "{:?}", line.shares);
        assert!((line.shares[1] - 4.0 / 7.0).abs() < 1e-12, "{:?}", line.shares);
        let by = line.by.unwrap();
        assert!((by[0] - 2.0).abs() + (by[1] - 1.0).abs() < 1e-12);
    }
}
