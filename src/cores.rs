//! The machine's cores, for work that is shared out among them.

use std::num::NonZero;
use std::thread::{self, Builder};

/// Runs `work` on every core at once, on at most so many; with one core nothing is started.
pub fn run(at_most: usize, work: &(dyn Fn() + Sync)) {
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
    thread::scope(|scope| {
        // This one works too. Where no more can be started, those there are do it all.
        for _ in 1..cores.min(at_most) {
            if Builder::new().spawn_scoped(scope, work).is_err() {
                break;
            }
        }
        work();
    });
}
