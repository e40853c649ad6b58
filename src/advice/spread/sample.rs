//! Latin hypercube samples of the uncertain inputs, as factors on a job.
//!
//! McKay, Beckman and Conover, Technometrics 1979, 21, 239: each input's range is cut into
//! as many equally likely strata as there are draws, and each stratum is drawn from once.
//! Each factor is log-normal with median 1. Cells of one kind that hold less also resist
//! more: their capacity and resistance are correlated (judgement: -0.5).

use crate::job::Spreads;
use crate::job::resolve::Factors;
use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use statrs::distribution::{ContinuousCDF, Normal};

/// Correlation of the logarithms of a cell's capacity and resistance.
pub const CELL_CORRELATION: f64 = -0.5;

/// Standard deviation of a factor's logarithm, from the spread as a share of the median:
/// a log-normal's is sqrt(w (w - 1)) with w = exp(sigma^2).
pub fn sigma(sd: f64) -> f64 {
    (0.5 * (1.0 + (1.0 + 4.0 * sd * sd).sqrt())).ln().sqrt()
}

/// Points in the unit cube, `n` of `dimensions` coordinates each in (0, 1).
pub fn latin_hypercube(n: usize, dimensions: usize, seed: u64) -> Vec<Vec<f64>> {
    let mut random = Pcg64::seed_from_u64(seed);
    let mut points = vec![vec![0.0; dimensions]; n];
    let mut strata: Vec<usize> = (0..n).collect();
    for d in 0..dimensions {
        strata.shuffle(&mut random);
        for (point, stratum) in points.iter_mut().zip(&strata) {
            let within: f64 = random.random_range(1e-9..1.0);
            point[d] = (*stratum as f64 + within) / n as f64;
        }
    }
    points
}

/// Turns points of the unit cube into factors.
#[derive(Debug, Clone)]
pub struct Inputs {
    /// Key, plain words and sigma of each uncertain input.
    pub list: Vec<(String, String, f64)>,
}

impl Inputs {
    /// The inputs of a job that have a spread at all.
    pub fn of(spreads: &Spreads) -> Self {
        let known = |key: &str| Factors::default().named(key).is_some();
        let rows = spreads.0.iter().filter(|s| s.sd > 0.0 && known(&s.key));
        Self { list: rows.map(|s| (s.key.clone(), s.title.clone(), sigma(s.sd))).collect() }
    }

    /// Factors at one point of the unit cube.
    pub fn factors(&self, point: &[f64]) -> Factors {
        let normal = Normal::standard();
        let z: Vec<f64> = point.iter().map(|u| normal.inverse_cdf(*u)).collect();
        let index = |key: &str| self.list.iter().position(|(k, _, _)| k == key);
        let resistance = index("cell_resistance").map(|k| z[k]);
        let mut factors = Factors::default();
        for ((key, _, sigma), own) in self.list.iter().zip(&z) {
            let z = match (key.as_str(), resistance) {
                ("capacity", Some(r)) => {
                    let rho = CELL_CORRELATION;
                    rho * r + (1.0 - rho * rho).sqrt() * own
                }
                _ => *own,
            };
            if let Some(factor) = factors.named(key) {
                *factor = (sigma * z).exp();
            }
        }
        factors
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_stratum_once() {
        let points = latin_hypercube(50, 3, 7);
        for d in 0..3 {
            let mut strata: Vec<usize> = points.iter().map(|p| (p[d] * 50.0) as usize).collect();
            strata.sort_unstable();
            assert_eq!(strata, (0..50).collect::<Vec<_>>());
        }
        assert_eq!(points, latin_hypercube(50, 3, 7), "a seed gives one sample only");
        assert_ne!(points, latin_hypercube(50, 3, 8));
    }

    #[test]
    fn factors_have_the_spread_asked_for() {
        let sd = 0.25;
        let inputs = Inputs { list: vec![("gap".into(), "gap".into(), sigma(sd))] };
        let factors: Vec<f64> =
            latin_hypercube(20_000, 1, 1).iter().map(|p| inputs.factors(p).gap).collect();
        let n = factors.len() as f64;
        let mean = factors.iter().sum::<f64>() / n;
        let var = factors.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / n;
        assert!((var.sqrt() / sd - 1.0).abs() < 0.01, "{}", var.sqrt());
        let mut sorted = factors.clone();
        sorted.sort_by(f64::total_cmp);
        assert!((sorted[10_000] - 1.0).abs() < 0.001);
    }
}
