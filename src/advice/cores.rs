//! Work on many things at once, on all cores.
//!
//! What the cores are is not known here: whoever starts the program hands in, once, how a
//! piece of work is run on all of them. Until then there is one, which does everything in turn.

use super::progress;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};
use std::sync::{Mutex, OnceLock, PoisonError};

/// Runs a piece of work on each core, on at most so many of them, all at once, and returns when
/// all are done. To run it once does too.
pub type Cores = fn(at_most: usize, work: &(dyn Fn() + Sync));

static CORES: OnceLock<Cores> = OnceLock::new();

/// Has work shared out among `cores` from now on; the first who says so is heeded.
pub fn share_among(cores: Cores) {
    CORES.get_or_init(|| cores);
}

/// `work` on every item, in the items' order; the first failure in that order, if any.
///
/// # Errors
/// Those of `work`.
pub fn on_all_cores<T: Sync, R: Send, E: Send>(
    items: &[T],
    work: impl Fn(&T) -> Result<R, E> + Sync,
) -> Result<Vec<R>, E> {
    progress::announce(items.len());
    let (next, results) = (AtomicUsize::new(0), Mutex::new(Vec::with_capacity(items.len())));
    // Each core takes the next item that nobody has taken, so that long ones are shared out.
    let one_after_the_other = || {
        loop {
            let n = next.fetch_add(1, Relaxed);
            let Some(item) = items.get(n) else {
                return;
            };
            let result = work(item);
            progress::done();
            if result.is_err() {
                // All items before it are taken, so none of them can fail unseen.
                next.store(items.len(), Relaxed);
            }
            results.lock().unwrap_or_else(PoisonError::into_inner).push((n, result));
        }
    };
    match CORES.get() {
        Some(cores) => cores(items.len(), &one_after_the_other),
        None => one_after_the_other(),
    }
    let mut results = results.into_inner().unwrap_or_else(PoisonError::into_inner);
    results.sort_by_key(|(n, _)| *n);
    results.into_iter().map(|(_, result)| result).collect()
}

/// Two things that have nothing to do with each other, at once where there are cores.
///
/// # Errors
/// The first one's, or else the second one's.
pub fn both<A: Send, B: Send, E: Send>(
    first: impl Fn() -> Result<A, E> + Sync,
    second: impl Fn() -> Result<B, E> + Sync,
) -> Result<(A, B), E> {
    enum Either<A, B> {
        First(A),
        Second(B),
    }
    let one = |is_first: &bool| {
        Ok(if *is_first { Either::First(first()?) } else { Either::Second(second()?) })
    };
    let mut list = on_all_cores(&[true, false], one)?.into_iter();
    match (list.next(), list.next()) {
        (Some(Either::First(a)), Some(Either::Second(b))) => Ok((a, b)),
        _ => Ok((first()?, second()?)), // never: they come in order
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_at_once_come_back_each_in_its_place() {
        assert_eq!(both(|| Ok::<_, ()>(1), || Ok("b")), Ok((1, "b")));
        assert_eq!(both(|| Err::<u8, _>(7), || Ok(2)), Err(7));
        assert_eq!(both(|| Ok(1), || Err::<u8, _>(8)), Err(8));
    }

    #[test]
    fn in_order_and_the_failure_comes_through() {
        let items: Vec<u32> = (0..1000).collect();
        let twice = || on_all_cores(&items, |n| Ok::<_, ()>(2 * n)).unwrap();
        let failed = || on_all_cores(&items, |n| if *n > 500 { Err(*n) } else { Ok(()) });
        let holds = || {
            assert!(twice().iter().zip(&items).all(|(a, b)| *a == 2 * b));
            assert_eq!(failed(), Err(501));
            assert_eq!(on_all_cores(&[], |n: &u32| Ok::<_, ()>(*n)), Ok(vec![]));
        };
        holds();
        share_among(|at_most, work| {
            std::thread::scope(|scope| (0..at_most.min(4)).for_each(|_| drop(scope.spawn(work))));
        });
        holds();
    }
}
