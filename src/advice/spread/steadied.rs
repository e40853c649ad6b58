//! Quantiles of draws, steadied by what is known of their inputs.
//!
//! An outcome hangs mostly on one mixture of the inputs, that of the straight line through it. The
//! inputs being jointly normal, the mixture t is normal and the rest of a draw has nothing to do
//! with it. So t need not be drawn: each draw stands for all values of t, its outcome moved along
//! the curve that all draws follow over t, and the share of outcomes under q is the mean over the
//! draws of how probable such a t is. (Conditioning, the oldest way to less variance in simulation:
//! Hammersley and Handscomb, Monte Carlo Methods, 1964, chapter 5. What is left out is that the
//! curve's scatter may differ from one t to the next; `tests/spread.rs` holds the quantiles against
//! 100,000 plain draws.)

use super::line::Line;
use super::quantile::Quantiles;
use nalgebra::{DMatrix, DVector, Matrix4, RowVector4, Vector4};
use statrs::distribution::{ContinuousCDF, Normal};

/// Draws for each input that are enough for a line.
const ENOUGH: usize = 8;
/// Least R2 of a line that the mixture is taken from.
const TELLS: f64 = 0.8;
/// How far from its middle the mixture is followed, standard deviations.
const FAR: f64 = 5.0;
/// Standard errors by which the draws themselves may gainsay a quantile.
const GAINSAID: f64 = 3.0;
/// To which share of a standard deviation a quantile is solved.
const SOLVED: f64 = 1e-6;
/// To which the mixture is solved: Newton's last step squares it.
const EXACT: f64 = 1e-7;

/// Quantiles of an outcome over a sample of inputs whose logarithms have that covariance; plain
/// ones where not every draw has an end, or no mixture tells most of it.
pub fn steadied(
    inputs: &[DVector<f64>],
    covariance: &DMatrix<f64>,
    outcome: impl Iterator<Item = f64>,
) -> Quantiles {
    let outcome: Vec<f64> = outcome.collect();
    Mixture::of(inputs, covariance, &outcome)
        .and_then(|mixture| mixture.borne_out(&mixture.quantiles(covariance)?))
        .unwrap_or_else(|| Quantiles::of(outcome.iter().copied()))
}

/// What an outcome hangs on mostly, and how.
pub struct Mixture {
    by: DVector<f64>,
    /// Its standard deviation in the sample's inputs.
    sd: f64,
    curve: Curve,
    /// Logarithms of the outcome, and what of them lies beside the curve.
    y: Vec<f64>,
    rest: Vec<f64>,
}

impl Mixture {
    /// That of an outcome over a sample of inputs whose logarithms have that covariance; none where
    /// not every draw has an end, or no mixture tells most of it.
    pub fn of(inputs: &[DVector<f64>], covariance: &DMatrix<f64>, outcome: &[f64]) -> Option<Self> {
        let usable = |value: &f64| value.is_finite() && *value > 0.0;
        if inputs.len() < ENOUGH * covariance.nrows() || !outcome.iter().all(usable) {
            return None;
        }
        let y: Vec<f64> = outcome.iter().map(|value| libm::log(*value)).collect();
        let line = Line::through(inputs, &y);
        let by = line.by.filter(|_| line.r2 > TELLS)?;
        let sd = by.dot(&(covariance * &by)).sqrt();
        let t: Vec<f64> = inputs.iter().map(|x| by.dot(x) / sd).collect();
        let curve = Curve::through(&t, &y)?;
        let rest = t.iter().zip(&y).map(|(t, y)| y - curve.at(*t)).collect();
        Some(Self { by, sd, curve, y, rest })
    }

    /// Quantiles of the outcome were the inputs spread so, as wide as in the sample or less.
    pub fn quantiles(&self, covariance: &DMatrix<f64>) -> Option<Quantiles> {
        let narrower = self.by.dot(&(covariance * &self.by)).sqrt() / self.sd;
        let q = |share: f64| self.quantile(share, narrower).map(libm::exp);
        Some(Quantiles { p10: Some(q(0.1)?), p50: Some(q(0.5)?), p90: Some(q(0.9)?) })
    }

    /// Quantiles that the draws themselves do not gainsay.
    fn borne_out(&self, quantiles: &Quantiles) -> Option<Quantiles> {
        let n = self.y.len() as f64;
        let holds = |value: Option<f64>, share: f64| {
            let value = value.map_or(f64::NAN, libm::log);
            let under = self.y.iter().filter(|y| **y <= value).count() as f64 / n;
            (under - share).abs() <= GAINSAID * (share * (1.0 - share) / n).sqrt()
        };
        let Quantiles { p10, p50, p90 } = *quantiles;
        (holds(p10, 0.1) && holds(p50, 0.5) && holds(p90, 0.9)).then_some(*quantiles)
    }

    /// Logarithm that a share of all lie under: of the curve over a normal as `narrower` as that
    /// in the sample, and the rest by itself.
    fn quantile(&self, share: f64, narrower: f64) -> Option<f64> {
        let under = |value: f64| {
            let one = |rest: &f64| share_under(self.curve.where_it_is(value - rest) / narrower);
            self.rest.iter().map(one).sum::<f64>() / self.rest.len() as f64
        };
        // From where the curve alone has it; the secant meets so smooth a function in a few steps.
        let start = Normal::standard().inverse_cdf(share);
        let slope = narrower * self.curve.slope(narrower * start);
        let mut a = self.curve.at(narrower * start);
        let mut fa = under(a) - share;
        let mut b = a - fa / density(start) * slope;
        for _ in 0..20 {
            let fb = under(b) - share;
            if (b - a).abs() <= SOLVED * slope || fb == fa {
                return Some(b).filter(|b| b.is_finite());
            }
            let next = b - fb * (b - a) / (fb - fa);
            (a, fa, b) = (b, fb, next);
        }
        None
    }
}

/// Share of a standard normal under a value; by `libm`, the same everywhere.
fn share_under(t: f64) -> f64 {
    0.5 * libm::erfc(-t * std::f64::consts::FRAC_1_SQRT_2)
}

/// Of a standard normal.
fn density(t: f64) -> f64 {
    libm::exp(-0.5 * t * t) / std::f64::consts::TAU.sqrt()
}

/// A cubic that rises.
struct Curve {
    terms: Vector4<f64>,
}

impl Curve {
    /// By least squares; none that does not rise all the way.
    fn through(t: &[f64], y: &[f64]) -> Option<Self> {
        let (mut square, mut right) = (Matrix4::zeros(), Vector4::zeros());
        for (t, y) in t.iter().zip(y) {
            let row = powers(*t).transpose();
            square += row * row.transpose();
            right += row * *y;
        }
        let curve = Self { terms: square.cholesky()?.solve(&right) };
        // A parabola is least at its end or its turn.
        let [_, _, c, d] = curve.terms.into();
        let turn = if d != 0.0 { (-c / (3.0 * d)).clamp(-FAR, FAR) } else { 0.0 };
        [-FAR, turn, FAR].iter().all(|t| curve.slope(*t) > 0.0).then_some(curve)
    }

    fn at(&self, t: f64) -> f64 {
        (powers(t) * self.terms)[0]
    }

    fn slope(&self, t: f64) -> f64 {
        let [_, b, c, d] = self.terms.into();
        b + t * (2.0 * c + t * 3.0 * d)
    }

    /// Where it takes a value; at an end of what is followed where it lies beyond.
    fn where_it_is(&self, value: f64) -> f64 {
        let (mut low, mut high, mut t) = (-FAR, FAR, 0.0);
        for _ in 0..60 {
            let off = self.at(t) - value;
            let next = t - off / self.slope(t);
            if (next - t).abs() < EXACT {
                return next.clamp(-FAR, FAR);
            }
            if off > 0.0 {
                high = t
            } else {
                low = t
            }
            let inside = next > low && next < high;
            t = if inside { next } else { 0.5 * (low + high) };
            if high - low < EXACT {
                break;
            }
        }
        t
    }
}

fn powers(t: f64) -> RowVector4<f64> {
    RowVector4::new(1.0, t, t * t, t * t * t)
}

#[cfg(test)]
mod tests {
    use super::super::quantile::TENTH;
    use super::*;

    /// Even quantiles of a standard normal.
    fn normals(n: u32) -> Vec<f64> {
        let at = |k: u32| Normal::standard().inverse_cdf((f64::from(k) + 0.5) / f64::from(n));
        (0..n).map(at).collect()
    }

    #[test]
    fn a_straight_outcome_has_its_own_quantiles_whatever_was_drawn() {
        // ln y = 1 + 0.3 x, x normal of variance 4: quantiles exp(1 + 0.6 z), from a sample that
        // is wider than it should be by a tenth.
        let inputs: Vec<_> =
            normals(400).iter().map(|z| DVector::from_element(1, 2.2 * z)).collect();
        let covariance = DMatrix::from_element(1, 1, 4.0);
        let y = |x: &DVector<f64>| (1.0 + 0.3 * x[0]).exp();
        let q = steadied(&inputs, &covariance, inputs.iter().map(y));
        for (got, z) in [(q.p10, -TENTH), (q.p50, 0.0), (q.p90, TENTH)] {
            assert!((got.unwrap() / (1.0 + 0.6 * z).exp() - 1.0).abs() < 1e-5, "{got:?}");
        }
        let ends = inputs.iter().map(|x| if x[0] > 6.0 { f64::INFINITY } else { y(x) });
        let plain = Quantiles::of(ends.clone());
        assert_eq!(steadied(&inputs, &covariance, ends), plain, "some have no end");
        let few = &inputs[..ENOUGH - 1];
        assert_eq!(steadied(few, &covariance, few.iter().map(y)), Quantiles::of(few.iter().map(y)));
    }

    #[test]
    fn a_bent_outcome_with_a_second_input() {
        // ln y = a + 0.1 a^2 + 0.2 b over every pair of 60 even quantiles of each: plain quantiles
        // of those pairs are good to a hundredth of a standard deviation.
        let z = normals(60);
        let pairs = z.iter().flat_map(|a| z.iter().map(|b| (*a, *b)));
        let inputs: Vec<_> = pairs.map(|(a, b)| DVector::from_vec(vec![a, b])).collect();
        let y = |x: &DVector<f64>| (x[0] + 0.1 * x[0] * x[0] + 0.2 * x[1]).exp();
        let plain = Quantiles::of(inputs.iter().map(y));
        let q = steadied(&inputs, &DMatrix::identity(2, 2), inputs.iter().map(y));
        for (got, want) in [(q.p10, plain.p10), (q.p50, plain.p50), (q.p90, plain.p90)] {
            assert!((got.unwrap() / want.unwrap()).ln().abs() < 0.01, "{got:?} {want:?}");
        }
    }

    #[test]
    fn what_no_line_tells_stays_as_drawn() {
        let inputs: Vec<_> = normals(400).iter().map(|z| DVector::from_element(1, *z)).collect();
        let y = |x: &DVector<f64>| (x[0] * x[0]).exp();
        let plain = Quantiles::of(inputs.iter().map(y));
        assert_eq!(steadied(&inputs, &DMatrix::identity(1, 1), inputs.iter().map(y)), plain);
    }
}
