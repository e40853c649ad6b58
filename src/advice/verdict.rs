//! The verdict on a source: whether it does the job, how hard it is driven, and how sure that
//! is.
//!
//! A firm limit decides whether it does, a strained one tells how hard it is driven. Does not: a
//! firm limit is broken in more than half of the draws, or no current flows. Does it: in at most
//! one draw of ten, and nothing is strained in the nominal run. Driven hard: all between.

use super::case::Case;
use super::held::{Held, broken};
use super::limit::{Bite, Limit};
use crate::run::Trace;

/// Whether a job is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// It is.
    Does,
    /// It is, driven hard.
    Hard,
    /// It is not.
    DoesNot,
}

impl Grade {
    /// How a source is driven, in a word.
    pub fn short(self) -> &'static str {
        match self {
            Self::Does => "well",
            Self::Hard => "hard",
            Self::DoesNot => "does not",
        }
    }

    /// Its word for programs.
    pub fn word(self) -> &'static str {
        match self {
            Self::Does => "does",
            Self::Hard => "hard",
            Self::DoesNot => "does_not",
        }
    }
}

/// Share of draws over which a source does not do.
pub(super) const MOSTLY: f64 = 0.5;
/// Share of draws up to which it counts as doing.
pub(super) const RARELY: f64 = 0.1;

/// The limits that one run broke, a bit each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Broke(u32);

impl Broke {
    /// Of a run's table.
    pub fn of(list: &[Held]) -> Self {
        list.iter().filter(|row| row.broken).fold(Self(0), |all, row| all.and(row.limit))
    }

    /// With one more.
    #[must_use]
    pub fn and(self, limit: Limit) -> Self {
        Self(self.0 | 1 << limit as u32)
    }

    /// Whether one was.
    pub fn has(self, limit: Limit) -> bool {
        self.0 & 1 << limit as u32 != 0
    }

    /// Whether a firm one was.
    pub fn firm(self) -> bool {
        Limit::ALL.iter().any(|limit| limit.firm() && self.has(*limit))
    }
}

/// How often each limit was broken, over draws.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Chances {
    /// Draws.
    pub draws: usize,
    /// Share in which a firm limit was.
    pub firm: f64,
    each: Vec<(Limit, f64)>,
}

impl Chances {
    /// Over draws that all weigh alike.
    pub fn of(draws: &[Broke]) -> Self {
        let alike = 1.0 / draws.len().max(1) as f64;
        Self::weighed(&draws.iter().map(|d| (*d, alike)).collect::<Vec<_>>())
    }

    /// Over draws and their weights, which add up to one.
    pub fn weighed(draws: &[(Broke, f64)]) -> Self {
        let share = |test: &dyn Fn(&Broke) -> bool| {
            draws.iter().filter(|(d, _)| test(d)).map(|(_, weight)| weight).sum::<f64>()
        };
        let each = Limit::ALL.iter().map(|limit| (*limit, share(&|d| d.has(*limit)))).collect();
        Self { draws: draws.len(), firm: share(&|d| d.firm()), each }
    }

    /// Share in which a limit was broken.
    pub fn of_limit(&self, limit: Limit) -> f64 {
        self.each.iter().find(|(l, _)| *l == limit).map_or(0.0, |(_, share)| *share)
    }
}

/// The verdict.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// Whether it does.
    pub grade: Grade,
    /// How often it fails; none where nothing was drawn.
    pub chances: Option<Chances>,
    /// The limit that decides: what it fails by, or what strains it most, or what is nearest.
    pub decides: Option<Limit>,
    /// The first limit that the nominal run comes to, and after how long (s) where that is
    /// known.
    pub first: Option<(Limit, Option<f64>)>,
}

impl Verdict {
    /// Of a nominal run's table of limits, and of the draws where there are any.
    pub fn of(list: &[Held], chances: Option<Chances>) -> Self {
        let is_broken = |bite: Bite| broken(list).filter(move |row| row.limit.bite() == bite);
        let nominal = is_broken(Bite::Firm).next().map(|row| row.limit);
        let never = list.iter().any(|row| row.limit == Limit::NoCurrent && row.broken);
        let fails = match &chances {
            _ if never => 1.0, // and the same in every draw
            Some(chances) => chances.firm,
            None => f64::from(u8::from(nominal.is_some())),
        };
        let worst = |rows: &mut dyn Iterator<Item = &Held>| {
            let times = |row: &&Held| row.times().unwrap_or(0.0);
            rows.min_by(|a, b| times(a).total_cmp(&times(b))).map(|row| row.limit)
        };
        let strained = worst(&mut is_broken(Bite::Strained));
        let likeliest = chances.as_ref().and_then(|c| {
            let firm = Limit::ALL.into_iter().filter(|l| l.firm() && c.of_limit(*l) > 0.0);
            firm.max_by(|a, b| c.of_limit(*a).total_cmp(&c.of_limit(*b)))
        });
        let (grade, decides) = if fails > MOSTLY {
            (Grade::DoesNot, nominal.or(likeliest))
        } else if fails <= RARELY && strained.is_none() && nominal.is_none() {
            let nearest = worst(&mut list.iter().filter(|r| r.limit.firm() && r.times().is_some()));
            (Grade::Does, nearest)
        } else if fails > RARELY || strained.is_none() {
            (Grade::Hard, likeliest.or(nominal))
        } else {
            (Grade::Hard, strained)
        };
        let first = nominal.or(strained).map(|limit| (limit, None));
        Self { grade, chances, decides, first }
    }

    /// With the time at which the nominal run first comes to one of its firm or strained limits,
    /// off a trace of it.
    #[must_use]
    pub fn when(mut self, list: &[Held], case: &Case, trace: &Trace) -> Self {
        let bites = |row: &&Held| row.limit.bite() != Bite::Said;
        let reached = broken(list)
            .filter(bites)
            .filter_map(|row| Some((row.limit, reached_s(row, case, trace)?)));
        let first = reached.min_by(|a, b| a.1.total_cmp(&b.1));
        self.first = first.map(|(limit, at)| (limit, Some(at))).or(self.first);
        self
    }

    /// Whether the job is done.
    pub fn done(&self) -> bool {
        self.grade != Grade::DoesNot
    }

    /// How often it fails; always where no current flows, and none where nothing was drawn.
    pub fn chance(&self) -> Option<f64> {
        let never = self.grade == Grade::DoesNot && self.decides == Some(Limit::NoCurrent);
        self.chances.as_ref().map(|c| c.firm).or(never.then_some(1.0))
    }
}

/// When a run comes to a limit that it breaks, s; none where a trace does not tell.
fn reached_s(row: &Held, case: &Case, trace: &Trace) -> Option<f64> {
    let over = |list: &[f64], bears: f64| {
        let n = list.iter().position(|x| *x > bears)?;
        let Some(before) = n.checked_sub(1) else { return Some(0.0) };
        let share = (bears - list[before]) / (list[n] - list[before]);
        Some(trace.t_s[before] + share * (trace.t_s[n] - trace.t_s[before]))
    };
    let bare = case.setup.piece.exposed_area;
    match row.limit {
        Limit::Resist => over(&trace.charge_c, row.bears * bare),
        Limit::Warm => over(trace.hot_spot_k.as_ref()?, row.bears),
        Limit::Touch | Limit::OwnTouch => over(trace.surface_k.as_ref()?, row.bears),
        Limit::ResistWarmth => over(&trace.bath_k, row.bears),
        Limit::AdapterLoad | Limit::Adapter => over(&trace.current_a, row.bears),
        Limit::OwnDensity => over(&trace.current_a, row.bears * bare),
        Limit::PanLoad => over(&trace.pan_load, row.bears),
        Limit::Film | Limit::Sludge => over(&trace.face_mol_per_m3, row.bears),
        Limit::NoCurrent => Some(0.0),
        Limit::Empty | Limit::Time | Limit::Floor | Limit::Hot | Limit::Boil | Limit::Freeze => {
            Some(case.run.time_s)
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_limit_has_a_bit_of_its_own() {
        for (n, limit) in Limit::ALL.into_iter().enumerate() {
            assert_eq!(limit as usize, n, "{limit:?}");
            let broke = Broke::default().and(limit);
            assert!(Limit::ALL.iter().all(|other| broke.has(*other) == (*other == limit)));
            assert_eq!(broke.firm(), limit.firm());
        }
    }

    #[test]
    fn chances_decide() {
        let draws = |n: usize| -> Vec<Broke> {
            (0..10)
                .map(|k| if k < n { Broke::default().and(Limit::Time) } else { Broke::default() })
                .collect()
        };
        let grade = |n: usize| Verdict::of(&[], Some(Chances::of(&draws(n)))).grade;
        assert_eq!(
            [0, 1, 2, 5, 6].map(grade).to_vec(),
            [Grade::Does, Grade::Does, Grade::Hard, Grade::Hard, Grade::DoesNot]
        );
        assert_eq!(Verdict::of(&[], Some(Chances::of(&draws(6)))).decides, Some(Limit::Time));
    }
}
