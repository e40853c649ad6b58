//! Work on many things at once, on all cores.

use super::progress;
use std::thread;

/// `work` on every item, in the items' order; the first failure, if any.
///
/// # Errors
/// Those of `work`.
pub fn on_all_cores<T: Sync, R: Send, E: Send>(
    items: &[T],
    work: impl Fn(&T) -> Result<R, E> + Sync,
) -> Result<Vec<R>, E> {
    let cores = thread::available_parallelism().map_or(1, usize::from).min(items.len().max(1));
    progress::announce(items.len());
    // Every so many items each, so that neighbours that take long are shared out.
    let part = |first: usize| -> Result<Vec<(usize, R)>, E> {
        let mine = items.iter().enumerate().skip(first).step_by(cores);
        mine.map(|(n, item)| {
            let result = work(item);
            progress::done();
            result.map(|r| (n, r))
        })
        .collect()
    };
    let part = &part;
    let parts: Vec<_> = thread::scope(|scope| {
        let threads: Vec<_> = (0..cores).map(|n| scope.spawn(move || part(n))).collect();
        threads.into_iter().map(thread::ScopedJoinHandle::join).collect()
    });
    let mut all = Vec::with_capacity(items.len());
    for part in parts {
        match part {
            Ok(list) => all.extend(list?),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    }
    all.sort_by_key(|(n, _)| *n);
    Ok(all.into_iter().map(|(_, r)| r).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn in_order_and_the_failure_comes_through() {
        let items: Vec<u32> = (0..1000).collect();
        let twice = on_all_cores(&items, |n| Ok::<_, ()>(2 * n)).unwrap();
        assert!(twice.iter().zip(&items).all(|(a, b)| *a == 2 * b));
        let failed = on_all_cores(&items, |n| if *n == 501 { Err("501") } else { Ok(()) });
        assert_eq!(failed, Err("501"));
        assert_eq!(on_all_cores(&[], |n: &u32| Ok::<_, ()>(*n)), Ok(vec![]));
    }
}
