//! The verdict in words: whether it does, how long, what each minute more costs, what is
//! strained and after how long, how often it fails.

use super::limits;
use super::often::times;
use super::reasons::reasons;
use super::size::in_turn;
use crate::advice::size::Judged;
use crate::advice::{Bite, Case, Chances, Grade, Held, Limit, Plan, Verdict};
use crate::units::say::{self, System};

/// The grade in three words.
pub fn grade(grade: Grade) -> &'static str {
    match grade {
        Grade::Does => "Does it",
        Grade::Hard => "Does it, driven hard",
        Grade::DoesNot => "Does not",
    }
}

/// How often it fails, as people say it: "in 3 of ten"; none where it hardly ever does.
pub fn fails(chances: &Chances) -> Option<String> {
    let share = chances.firm;
    if share < 0.005 {
        return None;
    }
    Some(if share < 0.095 {
        format!("fails {} in a hundred", times(100.0 * share))
    } else {
        format!("fails {} in ten", times(10.0 * share))
    })
}

/// The first line of a plan and what it is driven by.
pub fn plan(plan: &Plan, u: System) -> String {
    let (case, verdict) = (plan.case(), &plan.verdict);
    let list = crate::advice::held(case, None);
    let mut text = headline(case, verdict, u);
    if verdict.grade == Grade::DoesNot {
        text += &why_not(&plan.own, verdict, u);
    } else {
        text += &often(verdict);
        for row in list.iter().filter(|row| row.broken && row.limit.bite() == Bite::Strained) {
            text += &format!(" {}", strained(row, case, u));
        }
    }
    text
}

/// Grade, time, and what each minute more costs.
fn headline(case: &Case, verdict: &Verdict, u: System) -> String {
    if verdict.grade == Grade::DoesNot {
        return format!("{}: ", grade(verdict.grade));
    }
    let minute = case.weighed().minute_m();
    format!(
        "{}: about {}; each minute more is {}.",
        grade(verdict.grade),
        say::time(case.run.time_s),
        u.depth(minute)
    )
}

/// How often it fails, and by what.
fn often(verdict: &Verdict) -> String {
    let Some(chances) = &verdict.chances else {
        return String::new();
    };
    let Some(fails) = fails(chances) else {
        return String::new();
    };
    let firm = Limit::ALL.into_iter().filter(|l| l.firm() && chances.of_limit(*l) > 0.0);
    let by = firm.max_by(|a, b| chances.of_limit(*a).total_cmp(&chances.of_limit(*b)));
    let by = by.map_or_else(String::new, |l| format!(", mostly for {}", limits::name(l)));
    format!(" It {fails}{by}.")
}

/// Why it does not, and what rests would make of it.
fn why_not(own: &Judged, verdict: &Verdict, u: System) -> String {
    let mut text = if own.reasons.is_empty() {
        match verdict.decides {
            Some(limit) => format!("{} in one go", limits::name(limit)),
            None => "it fails more often than not".into(),
        }
    } else {
        reasons(&own.reasons, u)
    };
    text += ".";
    if let Some(chances) = &verdict.chances
        && chances.firm < 0.995
        && let Some(fails) = fails(chances)
    {
        text += &format!(" It {fails}.");
    }
    if let Some(rest) = own.rest.filter(|_| own.feasible()) {
        text += &format!(
            " With {} it does: {} in all.",
            in_turn(&rest.cycle),
            say::time(rest.elapsed_s)
        );
    }
    text
}

/// When a charge through each bare area (C/m2) has passed at the run's mean current, s.
fn when(case: &Case, dose: f64) -> f64 {
    dose * case.setup.piece.exposed_area / case.run.mean_current_a
}

/// What a strained limit means at the bench.
fn strained(row: &Held, case: &Case, u: System) -> String {
    match row.limit {
        Limit::Resist => {
            let (begins, sure) = case.setup.piece.resist_lifts;
            let resist = case.bounds.resist.as_deref().unwrap_or("resist");
            format!(
                "The {resist} may begin to lift after about {}, surely by {}.",
                say::time(when(case, begins)),
                say::time(when(case, sure))
            )
        }
        Limit::Warm => {
            format!("The cells get warm, {} inside: rest them after it.", u.temperature(row.value))
        }
        Limit::Touch => {
            format!("Their surface comes to {}: no bare hands.", u.temperature(row.value))
        }
        Limit::AdapterLoad => "The adapter gives about all that it is rated for: feel it.".into(),
        Limit::PanLoad => {
            "Loose dark sludge on the pan: brush the face, keep the gap clear.".into()
        }
        Limit::Film => "The face is near a salt film: stir.".into(),
        Limit::Sludge => "Much pale sludge and a rough floor: stir, and brush the face.".into(),
        Limit::Pace => "That is fast: look often near the end.".into(),
        Limit::ResistWarmth => {
            format!("The bath comes to {}, warmer than the resist likes.", u.temperature(row.value))
        }
        _ => limits::finding(row, u),
    }
}

/// In a few words for a list of options: "does it", "driven hard, fails twice in ten".
pub fn brief(verdict: &Verdict) -> String {
    let often = verdict.chances.as_ref().and_then(fails);
    let grade = grade(verdict.grade);
    match often.filter(|_| verdict.grade != Grade::DoesNot) {
        Some(often) => format!("{grade}, {often}"),
        None => grade.into(),
    }
}
