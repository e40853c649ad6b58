//! Quantiles of draws that weigh differently.

use super::quantile::Quantiles;

/// P10, P50, P90 of values and their weights; none of what is infinite.
pub fn quantiles(values: impl Iterator<Item = (f64, f64)>) -> Quantiles {
    let mut sorted: Vec<(f64, f64)> = values.filter(|(_, weight)| *weight > 0.0).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let at = |q| Some(of_sorted(&sorted, q)).filter(|value: &f64| value.is_finite());
    Quantiles { p10: at(0.1), p50: at(0.5), p90: at(0.9) }
}

/// The quantile `q` of values in order, each with its weight: straight between the middles of
/// their weights.
fn of_sorted(sorted: &[(f64, f64)], q: f64) -> f64 {
    let sum: f64 = sorted.iter().map(|(_, weight)| weight).sum();
    let (mut before, mut last) = (0.0, None::<(f64, f64)>);
    for (value, weight) in sorted {
        let middle = (before + 0.5 * weight) / sum;
        if middle >= q {
            return match last {
                Some((at, low)) if middle > at && low < *value && value.is_finite() => {
                    low + (value - low) * (q - at) / (middle - at)
                }
                _ => *value,
            };
        }
        last = Some((middle, *value));
        before += weight;
    }
    last.map_or(f64::NAN, |(_, value)| value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_count() {
        // Of eleven alike the second, sixth and tenth, as the middles of their weights lie at
        // (k + 1/2)/11: by hand 0.6, 5 and 9.4.
        let q = quantiles((0..11).map(|k| (f64::from(k), 1.0)));
        assert!((q.p10.unwrap() - 0.6).abs() < 1e-12 && (q.p50.unwrap() - 5.0).abs() < 1e-12);
        assert!((q.p90.unwrap() - 9.4).abs() < 1e-12);
        // What weighs nothing is not there; what weighs all is everywhere.
        let q = quantiles([(1.0, 0.0), (2.0, 1.0), (3.0, 0.0)].into_iter());
        assert_eq!((q.p10, q.p50, q.p90), (Some(2.0), Some(2.0), Some(2.0)));
        let q = quantiles([(1.0, 0.6), (f64::INFINITY, 0.4)].into_iter());
        assert_eq!((q.p10, q.p90), (Some(1.0), None));
    }
}
