//! A bar on the terminal while the work takes longer than a second; nothing in a pipe.

use restbite::advice::Progress;
use std::io::{IsTerminal, Write, stderr};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// Before this nobody wonders whether anything goes on.
const PATIENCE: Duration = Duration::from_secs(1);
const EVERY: Duration = Duration::from_millis(100);
/// Columns of the bar, and of the whole line.
const BAR: usize = 30;
const LINE: usize = 60;

/// Shows until it is dropped, and then wipes what it wrote.
pub struct Bar(Option<(Sender<()>, JoinHandle<()>)>);

impl Bar {
    /// Begins to wait.
    pub fn start() -> Self {
        if !stderr().is_terminal() {
            return Self(None);
        }
        let (end, ended) = channel();
        // Where nothing can run beside the work there is no bar.
        let showing = std::thread::Builder::new().spawn(move || show(&ended));
        Self(showing.ok().map(|thread| (end, thread)))
    }
}

impl Drop for Bar {
    fn drop(&mut self) {
        if let Some((end, thread)) = self.0.take() {
            drop(end);
            // A bar that could not be shown is no loss.
            let _ = thread.join();
        }
    }
}

fn show(ended: &Receiver<()>) {
    let began = Instant::now();
    let (mut wait, mut shown) = (PATIENCE, false);
    while ended.recv_timeout(wait) == Err(RecvTimeoutError::Timeout) {
        wait = EVERY;
        let now = Progress::now();
        if now.done > 0 || now.all > 0 {
            let _ = write!(stderr(), "\r{:<LINE$}", line(now, began.elapsed()));
            shown = true;
        }
    }
    if shown {
        wipe();
    }
}

/// Takes the bar off the line.
pub fn wipe() {
    if stderr().is_terminal() {
        let _ = write!(stderr(), "\r{:LINE$}\r", "");
        let _ = stderr().flush();
    }
}

fn line(now: Progress, since: Duration) -> String {
    let s = since.as_secs();
    match now.share() {
        Some(share) => {
            let full = (share * BAR as f64) as usize;
            let bar = format!("{}{}", "#".repeat(full), "-".repeat(BAR - full));
            format!("working [{bar}] {:.0} %, {s} s", share * 100.0)
        }
        None => format!("working, {} tries so far, {s} s", now.done),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_fit_and_tell() {
        for (done, all, words) in
            [(0, 8, "[------------"), (4, 8, "50 %"), (8, 8, "100 %"), (3, 0, "3 ")]
        {
            let line = line(Progress { done, all }, Duration::from_secs(3000));
            assert!(line.contains(words) && line.len() <= LINE, "{line}");
        }
    }
}
