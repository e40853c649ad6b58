//! The shortest time of whole minutes that does: how long to rest.

use std::ops::RangeInclusive;

/// Longest rest between two pieces that is tried, min (judgement: nobody waits longer for cells
/// to cool).
pub const LONGEST_REST_MIN: i64 = 240;

/// The shortest of whole `minutes` that holds, in s, with what came of it; none where not even
/// the longest does. What holds for some time is taken to hold for any longer one: the longest
/// is tried first, and the shortest found by halving.
///
/// # Errors
/// Those of `tried`.
pub fn shortest<T, E>(
    minutes: RangeInclusive<i64>,
    mut tried: impl FnMut(f64) -> Result<Option<T>, E>,
) -> Result<Option<(f64, T)>, E> {
    let seconds = |minutes: i64| minutes as f64 * 60.0;
    let (mut low, mut high) = minutes.into_inner();
    if low > high {
        return Ok(None);
    }
    let Some(mut best) = tried(seconds(high))? else {
        return Ok(None);
    };
    while low < high {
        let middle = low + (high - low - 1) / 2;
        match tried(seconds(middle))? {
            Some(found) => (high, best) = (middle, found),
            None => low = middle + 1,
        }
    }
    Ok(Some((seconds(high), best)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shortest_that_holds_and_none_beyond_the_longest() {
        // Against counting up from the shortest.
        for need in 0..=25i64 {
            let mut order = Vec::new();
            let found = shortest(3..=20, |s| {
                order.push(s);
                Ok::<_, ()>((s >= need as f64 * 60.0).then_some(s))
            });
            let counted = (3..=20).find(|m| *m >= need).map(|m| m as f64 * 60.0);
            assert_eq!(found, Ok(counted.map(|s| (s, s))), "{need}");
            assert_eq!(order[0], 1200.0);
        }
        assert_eq!(shortest(RangeInclusive::new(4, 3), |_| Ok::<_, ()>(Some(()))), Ok(None));
        assert_eq!(shortest(0..=3, |_| Err::<Option<()>, _>("fault")), Err("fault"));
    }
}
