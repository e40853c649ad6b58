//! Samples of the uncertain inputs, as factors on a job: points of a scrambled Sobol sequence.
//!
//! Sobol, USSR Comput. Math. Math. Phys. 1967, 7, 86, scrambled as Owen (1995) did: each point is
//! even in its cube, all together fill it more evenly than chance would, so that a quarter of the
//! draws gives a quantile as well (`tests/spread.rs` shows it). Each factor is log-normal with
//! median 1, and by itself before anything is learned.

use super::quantile::Quantiles;
use super::steadied::steadied;
use crate::job::resolve::Factors;
use crate::job::scope::there;
use crate::job::{Job, Source, Spread};
use nalgebra::{DMatrix, DVector};
use statrs::distribution::{ContinuousCDF, Normal};

/// Standard deviation of a factor's logarithm, from the spread as a share of the median:
/// a log-normal's is sqrt(w (w - 1)) with w = exp(sigma^2).
pub fn sigma(sd: f64) -> f64 {
    libm::log(0.5 * (1.0 + (1.0 + 4.0 * sd * sd).sqrt())).sqrt()
}

/// Points after which a sequence is begun anew with another seed: as long as the package's are.
const LONGEST: usize = 1 << 16;
/// From one seed to the next: 2^32 over the golden section, so that neighbours' seeds are not met.
const NEXT_SEED: u32 = 0x9E37_79B9;
/// Half of the last digit of a coordinate, so that none is 0.
const HALF_DIGIT: f64 = 1.0 / (1u64 << 25) as f64;

/// Points in the unit cube, `n` of `dimensions` coordinates each in (0, 1); those of a smaller `n`
/// are the first of a greater.
pub fn points(n: usize, dimensions: usize, seed: u64) -> Vec<Vec<f64>> {
    let folded = (seed ^ (seed >> 32)) as u32;
    let point = |k: usize| {
        let seed = folded.wrapping_add((k / LONGEST) as u32 * NEXT_SEED);
        let along = |d: usize| sobol_burley::sample((k % LONGEST) as u32, d as u32, seed);
        (0..dimensions).map(|d| f64::from(along(d)) + HALF_DIGIT).collect()
    };
    (0..n).map(point).collect()
}

/// One uncertain input.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// Key, as under `[spread]`.
    pub key: String,
    /// In plain words.
    pub title: String,
    /// Whether a bench can measure it.
    pub measurable: bool,
    /// Whether it was learned from runs, or is what is usual.
    pub learned: bool,
}

/// The uncertain inputs of a job, their logarithms jointly normal about those of the job as
/// the bench knows it.
#[derive(Debug, Clone, PartialEq)]
pub struct Inputs {
    /// What they are.
    pub list: Vec<Input>,
    covariance: DMatrix<f64>,
    /// Its Cholesky factor.
    lower: DMatrix<f64>,
}

impl Inputs {
    /// The inputs of a job that have a spread at all: learned where its profile knows them,
    /// otherwise what is usual or what the job says.
    pub fn of(job: &Job, source: &Source) -> Self {
        let known = |key: &str| Factors::default().named(key).is_some() && there(key, job, source);
        let rows = || job.spread.0.iter().filter(|s| s.sd > 0.0 && known(&s.key));
        let profile = job.profile.as_ref();
        let place = |row: &Spread| {
            profile.filter(|_| !row.own).and_then(|p| p.index(&row.key, job, source))
        };
        let learned: Vec<Option<usize>> = rows().map(place).collect();
        let input = |(row, at): (&Spread, &Option<usize>)| Input {
            key: row.key.clone(),
            title: row.title.clone(),
            measurable: row.measurable,
            learned: at.is_some(),
        };
        let list: Vec<Input> = rows().zip(&learned).map(input).collect();
        let prior = prior(&rows().map(|s| s.sd).collect::<Vec<_>>());
        let covariance = DMatrix::from_fn(list.len(), list.len(), |i, j| {
            match (learned[i], learned[j], profile) {
                (Some(a), Some(b), Some(profile)) => profile.covariance[(a, b)],
                (None, None, _) => prior[(i, j)],
                _ => 0.0,
            }
        });
        Self::new(list, covariance)
    }

    /// Of a covariance of the logarithms. One that no Cholesky factor has (a hair's breadth
    /// from singular) loses its correlations.
    pub fn new(list: Vec<Input>, covariance: DMatrix<f64>) -> Self {
        let lower = covariance.clone().cholesky().map(|c| c.unpack());
        let lower = lower.unwrap_or_else(|| {
            DMatrix::from_diagonal(&covariance.diagonal().map(|v| v.max(0.0).sqrt()))
        });
        Self { list, covariance, lower }
    }

    /// Cholesky factor of the covariance of the logarithms: they are it times independent standard
    /// normals.
    pub fn lower(&self) -> &DMatrix<f64> {
        &self.lower
    }

    /// Covariance of the logarithms.
    pub fn covariance(&self) -> &DMatrix<f64> {
        &self.covariance
    }

    /// Whether any was learned; then they hang together.
    pub fn learned(&self) -> bool {
        self.list.iter().any(|input| input.learned)
    }

    /// Logarithms of the factors of `n` draws.
    pub fn sample(&self, n: usize, seed: u64) -> Vec<DVector<f64>> {
        points(n, self.list.len(), seed).iter().map(|point| self.logarithms(point)).collect()
    }

    /// P10, P50 and P90 of what came of a sample of these inputs.
    pub fn quantiles(
        &self,
        sample: &[DVector<f64>],
        outcome: impl Iterator<Item = f64>,
    ) -> Quantiles {
        steadied(sample, &self.covariance, outcome)
    }

    /// Logarithms of the factors at one point of the unit cube.
    pub fn logarithms(&self, point: &[f64]) -> DVector<f64> {
        let normal = Normal::standard();
        let z = DVector::from_iterator(point.len(), point.iter().map(|u| normal.inverse_cdf(*u)));
        &self.lower * z
    }

    /// Factors of these logarithms.
    pub fn factors(&self, logarithms: &DVector<f64>) -> Factors {
        let mut factors = Factors::default();
        for (input, x) in self.list.iter().zip(logarithms.iter()) {
            if let Some(factor) = factors.named(&input.key) {
                *factor = libm::exp(*x);
            }
        }
        factors
    }

    /// The inputs after input `k` has been read with an error of sigma `to`: what hangs
    /// together with it narrows too (conditional covariance of a joint normal).
    pub fn after_reading(&self, k: usize, to: f64) -> Self {
        let column = self.covariance.column(k).into_owned();
        let seen = column[k] + to * to;
        let covariance = &self.covariance - &column * column.transpose() / seen;
        Self::new(self.list.clone(), covariance)
    }
}

/// Covariance of the logarithms of inputs of these spreads before anything is learned: none
/// between them.
pub fn prior(spreads: &[f64]) -> DMatrix<f64> {
    DMatrix::from_diagonal(&DVector::from_iterator(
        spreads.len(),
        spreads.iter().map(|sd| sigma(*sd).powi(2)),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_stratum_once() {
        // A Sobol sequence's first 2^k points stand one in each of 2^k equal strata of every
        // coordinate (Sobol 1967), and scrambling keeps that (Owen 1995).
        for seed in [1, 7, u64::MAX] {
            let points = points(64, 25, seed);
            for d in 0..25 {
                let mut strata: Vec<usize> =
                    points.iter().map(|p| (p[d] * 64.0) as usize).collect();
                strata.sort_unstable();
                assert_eq!(strata, (0..64).collect::<Vec<_>>());
            }
        }
        assert_eq!(points(50, 3, 7), points(60, 3, 7)[..50], "a seed gives one sample only");
        assert_ne!(points(50, 3, 7), points(50, 3, 8));
    }

    #[test]
    fn long_samples_do_not_come_round_again() {
        let points = points(LONGEST + 100, 2, 1);
        assert_ne!(points[LONGEST..], points[..100]);
        assert!(points.iter().flatten().all(|u| *u > 0.0 && *u < 1.0));
    }

    #[test]
    fn factors_have_the_spread_asked_for() {
        let sd = 0.25;
        let gap =
            Input { key: "gap".into(), title: "gap".into(), measurable: true, learned: false };
        let inputs = Inputs::new(vec![gap], prior(&[sd]));
        let factors: Vec<f64> =
            inputs.sample(20_000, 1).iter().map(|x| inputs.factors(x).gap).collect();
        let n = factors.len() as f64;
        let mean = factors.iter().sum::<f64>() / n;
        let var = factors.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / n;
        assert!((var.sqrt() / sd - 1.0).abs() < 0.01, "{}", var.sqrt());
        let mut sorted = factors.clone();
        sorted.sort_by(f64::total_cmp);
        assert!((sorted[10_000] - 1.0).abs() < 0.001);
    }

    #[test]
    fn a_reading_narrows_what_hangs_together() {
        // A joint normal by hand: variances 0.04 and 0.01, correlation 0.5; the first read
        // with an error of 0.1: 0.04 0.01 / 0.05 = 0.008; the second 0.01 - 0.01^2 / 0.05.
        let input = |key: &str| Input {
            key: key.into(),
            title: key.into(),
            measurable: true,
            learned: true,
        };
        let both = DMatrix::from_row_slice(2, 2, &[0.04, 0.01, 0.01, 0.01]);
        let inputs = Inputs::new(vec![input("gap"), input("conductivity")], both);
        let after = inputs.after_reading(0, 0.1);
        assert!((after.covariance()[(0, 0)] - 0.008).abs() < 1e-12);
        assert!((after.covariance()[(1, 1)] - 0.008).abs() < 1e-12);
        assert!((after.covariance()[(0, 1)] - 0.002).abs() < 1e-12);
    }

    #[test]
    fn draws_hang_together_as_their_covariance_says() {
        let input = |key: &str| Input {
            key: key.into(),
            title: key.into(),
            measurable: true,
            learned: true,
        };
        let both = DMatrix::from_row_slice(2, 2, &[0.04, -0.01, -0.01, 0.01]);
        let inputs = Inputs::new(vec![input("cell_resistance"), input("capacity")], both);
        let draws = inputs.sample(20_000, 1);
        let moment = |i: usize, j: usize| {
            draws.iter().map(|d| d[i] * d[j]).sum::<f64>() / draws.len() as f64
        };
        let r = moment(0, 1) / (moment(0, 0) * moment(1, 1)).sqrt();
        assert!((r + 0.5).abs() < 0.02, "{r}");
    }
}
