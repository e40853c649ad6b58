//! How far the long work is: counts that whoever waits may read, and show if they like.
//!
//! One count for the process, as there is one who waits; it costs an atomic addition a piece
//! of work, and no law or search need carry an observer through.

use std::sync::atomic::{AtomicU64, Ordering::Relaxed};

static DONE: AtomicU64 = AtomicU64::new(0);
static ALL: AtomicU64 = AtomicU64::new(0);

/// Pieces of work so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Done.
    pub done: u64,
    /// Announced; 0 where nobody can say how many there will be.
    pub all: u64,
}

impl Progress {
    /// Where the work stands.
    pub fn now() -> Self {
        Self { done: DONE.load(Relaxed), all: ALL.load(Relaxed) }
    }

    /// The share that is done, 0..=1, where it is known.
    pub fn share(self) -> Option<f64> {
        (self.all > 0).then(|| (self.done as f64 / self.all as f64).min(1.0))
    }
}

/// Announces so many pieces of work.
pub(super) fn announce(pieces: usize) {
    ALL.fetch_add(pieces as u64, Relaxed);
}

/// Counts one as done.
pub(super) fn done() {
    DONE.fetch_add(1, Relaxed);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares() {
        assert_eq!(Progress { done: 5, all: 0 }.share(), None);
        assert_eq!(Progress { done: 1, all: 4 }.share(), Some(0.25));
        assert_eq!(Progress { done: 9, all: 4 }.share(), Some(1.0));
        let before = Progress::now();
        super::super::cores::on_all_cores(&[1, 2, 3], |n: &u32| Ok::<_, ()>(*n)).unwrap();
        let after = Progress::now();
        // Other tests count too.
        assert!(after.done >= before.done + 3 && after.all >= before.all + 3);
    }
}
