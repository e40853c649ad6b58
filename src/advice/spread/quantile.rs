//! Quantiles of draws, some of which may not have finished.

/// Standard deviations from the middle of a normal to its tenth.
pub const TENTH: f64 = 1.281_551_565_544_600_4;

/// P10, P50 and P90; none where so many draws do not finish that the quantile lies among
/// them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantiles {
    /// One in ten is below.
    pub p10: Option<f64>,
    /// Half are.
    pub p50: Option<f64>,
    /// Nine in ten are.
    pub p90: Option<f64>,
}

/// A chance with its own sampling error (one standard deviation).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// Share of draws.
    pub share: f64,
    /// Its standard error.
    pub error: f64,
}

/// Quantile `q` of values sorted ascending, linear between order statistics (Hyndman and
/// Fan 1996, type 7); none when it is not finite.
pub fn quantile(sorted: &[f64], q: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let at = q * last as f64;
    let (low, share) = (at.floor() as usize, at.fract());
    let value = if share == 0.0 {
        sorted[low]
    } else {
        sorted[low] + share * (sorted[low + 1] - sorted[low])
    };
    Some(value).filter(|v| v.is_finite())
}

/// Quantile `q` of values in any order, all of them finite, without sorting them all; zero of
/// none.
pub fn between(values: &mut [f64], q: f64) -> f64 {
    let Some(last) = values.len().checked_sub(1) else {
        return 0.0;
    };
    let at = q * last as f64;
    let (_, low, over) = values.select_nth_unstable_by(at.floor() as usize, f64::total_cmp);
    let next = over.iter().copied().min_by(f64::total_cmp).unwrap_or(*low);
    *low + at.fract() * (next - *low)
}

/// P10, P50 and P90 of whole numbers; none where it lies among those that were not counted
/// to their end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counts {
    /// Nine in ten come to at least that.
    pub p10: Option<usize>,
    /// Half do.
    pub p50: Option<usize>,
    /// One in ten does.
    pub p90: Option<usize>,
}

impl Counts {
    /// Of counts of which those without an end are none. A quantile is the least count that
    /// at least that share of all do not pass (the inverse of the distribution function:
    /// Hyndman and Fan 1996, type 1), so that it stays a whole number.
    pub fn of(mut counts: Vec<Option<usize>>) -> Self {
        counts.sort_by_key(|c| c.unwrap_or(usize::MAX));
        let q = |tenths: usize| {
            let rank = (tenths * counts.len()).div_ceil(10).max(1);
            counts.get(rank - 1).copied().flatten()
        };
        Self { p10: q(1), p50: q(5), p90: q(9) }
    }
}

impl Quantiles {
    /// Of values of which those that do not finish are infinite.
    pub fn of(values: impl Iterator<Item = f64>) -> Self {
        let mut sorted: Vec<f64> = values.collect();
        sorted.sort_by(f64::total_cmp);
        let q = |q| quantile(&sorted, q);
        Self { p10: q(0.1), p50: q(0.5), p90: q(0.9) }
    }
}

impl Chance {
    /// Of how often something holds; the error is a binomial's, which for a Latin
    /// hypercube is on the safe side.
    pub fn of(holds: impl Iterator<Item = bool>) -> Self {
        let (mut yes, mut n) = (0.0, 0.0);
        for one in holds {
            yes += f64::from(u8::from(one));
            n += 1.0;
        }
        if n == 0.0 {
            return Self { share: 0.0, error: 0.0 };
        }
        let share = yes / n;
        Self { share, error: (share * (1.0 - share) / n).sqrt() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_of_a_row() {
        // Type 7 by hand: 0..=10, tenths are whole order statistics.
        let q = Quantiles::of((0..=10).map(f64::from));
        assert_eq!((q.p10, q.p50, q.p90), (Some(1.0), Some(5.0), Some(9.0)));
        let q = Quantiles::of([1.0, 2.0, 3.0, f64::INFINITY].into_iter());
        assert_eq!(q.p50, Some(2.5));
        assert_eq!(q.p90, None, "among those that do not finish");
        assert_eq!(Quantiles::of(std::iter::empty()).p50, None);
    }

    #[test]
    fn quantiles_without_sorting() {
        let row: Vec<f64> = (0..57).map(|k| f64::from(k * 23 % 57)).collect();
        let sorted = Quantiles::of(row.iter().copied());
        for (q, want) in [(0.1, sorted.p10), (0.5, sorted.p50), (0.9, sorted.p90)] {
            assert_eq!(Some(between(&mut row.clone(), q)), want);
        }
        assert_eq!(between(&mut [], 0.5), 0.0);
        assert_eq!(between(&mut [7.0], 0.9), 7.0);
    }

    #[test]
    fn counts_stay_whole() {
        // Type 1 by hand: of ten values the first, the fifth and the ninth; of eleven the
        // second, the sixth and the tenth.
        let c = Counts::of((0..10).rev().map(Some).collect());
        assert_eq!((c.p10, c.p50, c.p90), (Some(0), Some(4), Some(8)));
        let c = Counts::of((0..11).map(Some).collect());
        assert_eq!((c.p10, c.p50, c.p90), (Some(1), Some(5), Some(9)));
        let c = Counts::of(vec![None, Some(2), Some(3), None]);
        assert_eq!((c.p10, c.p50, c.p90), (Some(2), Some(3), None), "among those without end");
        assert_eq!(Counts::of(Vec::new()).p50, None);
    }

    #[test]
    fn chances_carry_their_error() {
        let c = Chance::of((0..100).map(|k| k < 20));
        assert_eq!(c.share, 0.2);
        assert!((c.error - 0.04).abs() < 1e-12);
    }
}
