//! One piece on one source among the hands' other work: when the current goes on and off,
//! every look, and the end.
//!
//! A look may come early, by half the time since the last one at most, and never late; the
//! current is off while it lasts. Where a look, the end of a stretch or the stop would fall
//! on other work or into a break, the current goes on later. The moments when it is
//! switched fall on no other work and into no break either.

use super::hands::Hands;
use super::suits::Suited;
use super::why::Why;
use crate::advice::checks::{CLOSEST_S, FURTHEST_S};
use crate::job::HandTimes;
use crate::run::{Bench, PackState, Precision, RunError, Silver, Stop, Wells};

/// A look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LookAt {
    /// When, s since the start of the day.
    pub at_s: f64,
    /// Depth to expect, m.
    pub depth_m: f64,
}

/// What came of one piece; times in s since the start of the day.
#[derive(Debug, Clone, PartialEq)]
pub struct Etched {
    /// Hanging it up: from and to.
    pub hang_up: (f64, f64),
    /// The current on.
    pub on: Vec<(f64, f64)>,
    /// The looks, the stop not counted.
    pub looks: Vec<LookAt>,
    /// Rests for the heat.
    pub rests: Vec<(f64, f64)>,
    /// The current off to wait for the hands.
    pub waits: Vec<(f64, f64)>,
    /// Taking it down.
    pub take_down: (f64, f64),
    /// Depth reached, m.
    pub depth_m: f64,
    /// Hottest spot of a cell, K; none without cells.
    pub peak_hot_spot_k: Option<f64>,
    /// The wells at the end; none without cells.
    pub wells: Option<Wells>,
    /// Where its silver is when it is taken down.
    pub silver: Silver,
}

/// A pack as an earlier piece left it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Left {
    /// Its state.
    pub pack: PackState,
    /// When, s since the start of the day.
    pub at_s: f64,
}

/// A piece being etched.
pub struct Etching<'a> {
    suited: &'a Suited,
    times: &'a HandTimes,
    /// The hands, with this piece's work in it.
    pub hands: Hands,
    bench: Bench<'a>,
    /// The bench's present time on the day's clock.
    now: f64,
    /// With the current on so far; at the last look; in this part of the cycle.
    on_s: f64,
    looked_s: f64,
    phase_s: f64,
    /// On and rests, which count against the time limit.
    spent_s: f64,
    out: Etched,
}

/// How a stretch of current ends at the latest.
struct Due {
    /// After so long.
    in_s: f64,
    /// How much longer the stop may take without a look before it.
    grace_s: f64,
    look: bool,
    rest: bool,
}

enum Next {
    GoOn,
    Done,
    Failed(Stop),
}

/// Most times that a stretch is put off.
const MOST_TRIES: usize = 400;
/// A stretch is put off a little further than worked out: a cooler bath takes longer.
const NUDGE_S: f64 = 1e-3;

impl<'a> Etching<'a> {
    /// Hangs the piece up at the first time from `earliest` on.
    ///
    /// # Errors
    /// When the run cannot be worked out.
    pub fn hang_up(
        suited: &'a Suited,
        times: &'a HandTimes,
        mut hands: Hands,
        earliest: f64,
        left: Option<Left>,
    ) -> Result<Self, RunError> {
        let start = hands.next(earliest, times.hang_up_s);
        hands.take(start, times.hang_up_s);
        let now = start + times.hang_up_s;
        let mut bench = Bench::new(&suited.setup, Precision::COARSE);
        if let Some(left) = left {
            bench.set_pack_state(&left.pack);
            bench.off(now - left.at_s)?;
            // The bath is made up for this piece.
            bench.next_piece(true);
        }
        bench.take_peaks();
        let out = Etched {
            hang_up: (start, now),
            on: Vec::new(),
            looks: Vec::new(),
            rests: Vec::new(),
            waits: Vec::new(),
            take_down: (now, now),
            depth_m: 0.0,
            peak_hot_spot_k: None,
            wells: None,
            silver: Silver::default(),
        };
        let (on_s, looked_s, phase_s, spent_s) = (0.0, 0.0, 0.0, 0.0);
        Ok(Self { suited, times, hands, bench, now, on_s, looked_s, phase_s, spent_s, out })
    }

    /// Etches it to its depth, or to the end that comes before.
    ///
    /// # Errors
    /// When the run cannot be worked out.
    pub fn etch(&mut self) -> Result<Result<Etched, Why>, RunError> {
        loop {
            match self.stretch()? {
                Next::GoOn => {}
                Next::Failed(stop) => return Ok(Err(Why::Stop(stop))),
                Next::Done => break,
            }
        }
        let peaks = self.bench.take_peaks();
        let cells = self.suited.setup.cells().is_some();
        // A source without cells pushes as it did when it was found to suit.
        if let Some(reason) = self.suited.passed(&self.bench.extremes()).filter(|_| cells) {
            return Ok(Err(Why::Current(reason)));
        }
        if cells && !self.suited.limits.holds(peaks) {
            return Ok(Err(Why::Stop(Stop::Hot)));
        }
        self.out.peak_hot_spot_k = cells.then_some(peaks.0);
        Ok(Ok(self.out.clone()))
    }

    /// The pack as it is when the piece is down; none without cells.
    ///
    /// # Errors
    /// When the rest cannot be worked out.
    pub fn left(&mut self) -> Result<Option<Left>, RunError> {
        self.bench.off(self.times.take_down_s)?;
        let at_s = self.out.take_down.1;
        Ok(self.bench.pack_state().map(|pack| Left { pack, at_s }))
    }

    /// What ends the next stretch at the latest.
    fn due(&self) -> Due {
        let look_in = (self.suited.next_look(self.looked_s) - self.on_s).max(0.0);
        let Some(cycle) = self.suited.cycle.filter(|c| c.on_s - self.phase_s < look_in) else {
            let furthest = FURTHEST_S - (self.on_s - self.looked_s);
            let grace_s = (0.5 * CLOSEST_S).min(furthest - look_in).max(0.0);
            return Due { in_s: look_in, grace_s, look: true, rest: false };
        };
        let in_s = cycle.on_s - self.phase_s;
        // A look that would fall into the next stretch is taken in the rest before it.
        Due { in_s, grace_s: 0.0, look: look_in < in_s + cycle.on_s, rest: true }
    }

    /// The current on until a look, a rest or the stop.
    fn stretch(&mut self) -> Result<Next, RunError> {
        let due = self.due();
        let time_left = self.suited.setup.time_limit_s - self.spent_s;
        let work_s = if due.look { self.times.look_s } else { 0.0 };
        let mut on_at = self.hands.next(self.now, 0.0);
        for _ in 0..MOST_TRIES {
            let (trial, stop) = self.to_the_end(on_at, &due, time_left)?;
            let end = self.now + (trial.time_s() - self.bench.time_s());
            let late = match stop {
                Some(Stop::Depth) if self.hands.free(end, self.times.take_down_s) => {
                    self.take_down(trial, on_at, end);
                    return Ok(Next::Done);
                }
                Some(Stop::Depth) => self.hands.next(end, self.times.take_down_s) - end,
                Some(stop) => return Ok(Next::Failed(stop)),
                None if time_left < due.in_s => return Ok(Next::Failed(Stop::Time)),
                None => {
                    let latest = on_at + due.in_s;
                    let least = on_at + due.in_s.min(CLOSEST_S.max(0.5 * due.in_s));
                    if let Some(at) = self.hands.before(latest, work_s, least) {
                        let early = at < latest;
                        let trial = if early { self.tried(on_at, at - on_at)?.0 } else { trial };
                        self.pause(trial, on_at, at, &due)?;
                        return Ok(Next::GoOn);
                    }
                    self.hands.next(latest, work_s) - latest
                }
            };
            on_at = self.hands.next(on_at + late + NUDGE_S, 0.0);
        }
        Ok(Next::Failed(Stop::Time))
    }

    /// The bench when a stretch is due to end, or at the stop where that comes within grace.
    fn to_the_end(
        &self,
        on_at: f64,
        due: &Due,
        time_left: f64,
    ) -> Result<(Bench<'a>, Option<Stop>), RunError> {
        let (trial, stop) = self.tried(on_at, due.in_s.min(time_left))?;
        let grace_s = due.grace_s.min(time_left - due.in_s);
        if stop.is_none() && grace_s > 0.0 {
            let mut longer = trial.clone();
            if longer.on(grace_s)? == Some(Stop::Depth) {
                return Ok((longer, Some(Stop::Depth)));
            }
        }
        Ok((trial, stop))
    }

    /// The bench with the current on from `on_at` for `long` at most.
    fn tried(&self, on_at: f64, long: f64) -> Result<(Bench<'a>, Option<Stop>), RunError> {
        let mut trial = self.bench.clone();
        trial.off(on_at - self.now)?;
        let stop = trial.on(long)?;
        Ok((trial, stop))
    }

    /// The current was on from `on_at` to `end`.
    fn was_on(&mut self, bench: Bench<'a>, on_at: f64, end: f64) {
        if on_at > self.now {
            self.out.waits.push((self.now, on_at));
        }
        self.out.on.push((on_at, end));
        // Other work must leave the hands these moments.
        self.hands.take(on_at, 0.0);
        self.hands.take(end, 0.0);
        self.bench = bench;
        self.now = end;
        let on = end - on_at;
        self.on_s += on;
        self.phase_s += on;
        self.spent_s += on;
    }

    fn take_down(&mut self, bench: Bench<'a>, on_at: f64, end: f64) {
        self.was_on(bench, on_at, end);
        self.hands.take(end, self.times.take_down_s);
        self.out.take_down = (end, end + self.times.take_down_s);
        self.out.depth_m = self.bench.depth_m();
        self.out.wells = self.bench.wells();
        self.out.silver = self.bench.silver();
    }

    /// A look, a rest, or both.
    fn pause(&mut self, bench: Bench<'a>, on_at: f64, at: f64, due: &Due) -> Result<(), RunError> {
        self.was_on(bench, on_at, at);
        let mut off_s = 0.0;
        if due.look {
            off_s = self.times.look_s;
            self.hands.take(at, off_s);
            self.out.looks.push(LookAt { at_s: at, depth_m: self.bench.depth_m() });
            self.looked_s = self.on_s;
        }
        if let Some(cycle) = self.suited.cycle.filter(|_| due.rest) {
            off_s = off_s.max(cycle.off_s);
            self.out.rests.push((at, at + off_s));
            self.spent_s += cycle.off_s;
            self.phase_s = 0.0;
        }
        self.bench.off(off_s)?;
        self.now = at + off_s;
        Ok(())
    }
}
