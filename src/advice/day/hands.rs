//! One pair of hands: what they do, and when they are free. Times in s since the start of the
//! day.

/// What the hands do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Work {
    /// Hang a piece up.
    HangUp,
    /// Look at one.
    Look,
    /// Take one down.
    TakeDown,
    /// Put a fresh charge into a pack.
    Swap,
}

impl Work {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::HangUp => "hang up",
            Self::Look => "look",
            Self::TakeDown => "take down",
            Self::Swap => "swap",
        }
    }
}

/// One piece of the hands' work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Task {
    /// From, s.
    pub start_s: f64,
    /// To, s.
    pub end_s: f64,
    /// What.
    pub what: Work,
    /// Which kind of piece, and which of them, from 1; none for a swap.
    pub piece: Option<(usize, u32)>,
    /// At which source.
    pub source: usize,
}

/// Rounding: a piece of work that starts as another ends does not meet it.
const SAME_S: f64 = 1e-6;

/// When the hands are busy or on a break: from and to, in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hands {
    busy: Vec<(f64, f64)>,
}

impl Hands {
    /// With nothing to do but breaks.
    pub fn new(breaks: &[(f64, f64)]) -> Self {
        Self { busy: breaks.to_vec() }
    }

    /// What is in the way of work from `at` on for `long`; a moment (`long` 0) is free on
    /// either edge of other work.
    fn in_the_way(&self, at: f64, long: f64) -> Option<(f64, f64)> {
        let meets = |b: &&(f64, f64)| at < b.1 - SAME_S && at + long > b.0 + SAME_S;
        self.busy.iter().find(meets).copied()
    }

    /// Whether there is time for work from `at` on.
    pub fn free(&self, at: f64, long: f64) -> bool {
        self.in_the_way(at, long).is_none()
    }

    /// The first time from `at` on when there is time for work.
    pub fn next(&self, mut at: f64, long: f64) -> f64 {
        while let Some((_, end)) = self.in_the_way(at, long) {
            at = end;
        }
        at
    }

    /// The last time no later than `at` and no earlier than `least`.
    pub fn before(&self, mut at: f64, long: f64, least: f64) -> Option<f64> {
        while at >= least {
            match self.in_the_way(at, long) {
                None => return Some(at),
                Some((start, _)) => at = start - long,
            }
        }
        None
    }

    /// Takes the time.
    pub fn take(&mut self, at: f64, long: f64) {
        let place = self.busy.partition_point(|b| b.0 < at);
        self.busy.insert(place, (at, at + long));
    }
}

/// The earliest time by which so much work can be done, breaks left out.
pub fn done_by(breaks: &[(f64, f64)], work: f64) -> f64 {
    let mut end = work;
    for (from, to) in breaks {
        if end <= *from {
            break;
        }
        end += to - from;
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn free_time_is_found_both_ways() {
        let mut hands = Hands::new(&[(100.0, 200.0)]);
        hands.take(20.0, 10.0);
        assert!(hands.free(30.0, 70.0) && !hands.free(30.0, 71.0));
        assert!(hands.free(100.0, 0.0) && !hands.free(150.0, 0.0) && hands.free(200.0, 0.0));
        assert_eq!(hands.next(25.0, 80.0), 200.0);
        assert_eq!(hands.next(0.0, 20.0), 0.0);
        assert_eq!(hands.before(150.0, 60.0, 0.0), Some(40.0));
        assert_eq!(hands.before(150.0, 90.0, 0.0), None);
    }

    #[test]
    fn work_goes_around_breaks() {
        let breaks = [(0.0, 10.0), (50.0, 60.0)];
        assert_eq!(done_by(&breaks, 30.0), 40.0);
        assert_eq!(done_by(&breaks, 45.0), 65.0);
        assert_eq!(done_by(&[], 45.0), 45.0);
    }
}
