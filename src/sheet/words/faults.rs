//! Faults in words, and what to do about each.

use crate::advice::Plan;
use crate::advice::look::{Fault, Meter, Shown};
use crate::units::say::{self, System};

/// What is wrong.
pub fn fault(fault: Fault, u: System) -> String {
    match fault {
        Fault::DeadCell => "one cell is dead".into(),
        Fault::TurnedCell => "one cell is the wrong way round".into(),
        Fault::HalfEmpty => "the cells are half as full as they should be".into(),
        Fault::Clip => "a clip bites badly".into(),
        Fault::Joint => "a joint hardly conducts".into(),
        Fault::Near => format!("the sheet hangs {} too near", u.length(5e-3)),
        Fault::Far => format!("the sheet hangs {} too far off", u.length(5e-3)),
        Fault::Touching => "the sheet touches the pan".into(),
        Fault::WeakBath => "the bath is half as strong as it should be".into(),
        Fault::Covered => "half of what should be bare is still covered".into(),
        Fault::Exchanged => "plus and minus are exchanged".into(),
    }
}

/// The same in two or three words.
fn brief(fault: Fault) -> &'static str {
    match fault {
        Fault::DeadCell => "a dead cell",
        Fault::TurnedCell => "a turned cell",
        Fault::HalfEmpty => "cells half empty",
        Fault::Clip => "a bad clip",
        Fault::Joint => "a bad joint",
        Fault::Near => "hung too near",
        Fault::Far => "hung too far",
        Fault::Touching => "sheet on pan",
        Fault::WeakBath => "a weak bath",
        Fault::Covered => "half still covered",
        Fault::Exchanged => "poles exchanged",
    }
}

/// What to do.
pub fn remedy(fault: Fault) -> &'static str {
    match fault {
        Fault::DeadCell => {
            "Current off, measure each cell while it gives current, replace the whole set: the \
             others drive a dead cell backwards, and it leaks."
        }
        Fault::TurnedCell => {
            "Current off at once and turn it: the others charge it, and a primary cell may leak \
             or burst."
        }
        Fault::HalfEmpty => "Charge or replace the cells, or go by the longer time.",
        Fault::Clip => "Current off, clean clip and metal, let it bite on bare metal.",
        Fault::Joint => "Current off, pull at every joint, solder or crimp it anew.",
        Fault::Near => "Measure the gap at every corner.",
        Fault::Far => "Measure the gap at every corner.",
        Fault::Touching => {
            "Current off at once: it is a short, and what pushes it and the leads get hot."
        }
        Fault::WeakBath => "Was the salt weighed in the form that the jar names? Add what lacks.",
        Fault::Covered => "Take it out, rinse, look for resist and grease where it should be bare.",
        Fault::Exchanged => {
            "Current off at once: the sheet is plated and the pan eaten. The plus lead goes to \
             the sheet. (A meter without a sign shows it without the minus.)"
        }
    }
}

/// A current as the ammeter shows it.
pub fn shows(amps: f64) -> String {
    if amps < 0.0 {
        format!("minus {}", say::current(-amps))
    } else if amps < 5e-4 {
        "nothing".into()
    } else {
        say::current(amps)
    }
}

/// What the meters should say; none where no current flows.
pub fn meter(plan: &Plan) -> Option<String> {
    let (run, meter) = (&plan.case().run, plan.meter.as_ref()?);
    let at = |list: &[f64]| at(&plan.trace.t_s, list, meter.right.at_s);
    Some(format!(
        "{}, {} at the end; {} across the bath.",
        right(meter)?,
        say::current(run.end_current_a),
        say::voltage(at(&plan.trace.bath_v)?)
    ))
}

/// A quantity over time at one time; none where there is no such time.
fn at(times: &[f64], list: &[f64], t: f64) -> Option<f64> {
    let n = times.iter().position(|x| *x >= t)?;
    let Some(before) = n.checked_sub(1) else { return list.first().copied() };
    let share = (t - times[before]) / (times[n] - times[before]);
    Some(list[before] + share * (list[n] - list[before]))
}

/// What the ammeter shows of a right set-up, "1.7 A after 60 s (1.5 A to 1.9 A)", which is
/// where eight in ten lie.
pub fn right(meter: &Meter) -> Option<String> {
    let amps = &meter.right.current_a;
    Some(format!(
        "{} after {} ({} to {})",
        say::current(amps.p50?),
        say::time(meter.right.at_s),
        say::current(amps.p10?),
        say::current(amps.p90?)
    ))
}

/// Faults that the ammeter tells, those that read alike together, the least current first: "1 A: a
/// dead cell". None where none is told.
pub fn wrong(plan: &Plan) -> Option<String> {
    let meter = plan.meter.as_ref()?;
    let mut told: Vec<&Shown> = meter.faults.iter().filter(|shown| shown.told.0).collect();
    told.sort_by(|a, b| a.current_a.total_cmp(&b.current_a));
    let mut groups: Vec<Vec<&Shown>> = Vec::new();
    for shown in told {
        match groups.last_mut() {
            Some(group) if group.iter().all(|one| one.like.contains(&shown.fault)) => {
                group.push(shown);
            }
            _ => groups.push(vec![shown]),
        }
    }
    let said = |group: &Vec<&Shown>| {
        let names: Vec<&str> = group.iter().map(|one| brief(one.fault)).collect();
        let first = shows(group[0].current_a);
        let last = shows(group[group.len() - 1].current_a);
        let amps = if first == last { first } else { format!("{first} to {last}") };
        format!("{amps}: {}", names.join(" or "))
    };
    let mut said: Vec<String> = groups.iter().map(said).collect();
    // A supply holds its current even into a short: the voltmeter tells.
    let short = meter.faults.iter().find(|s| s.fault == Fault::Touching);
    if short.is_some_and(|s| !s.told.0 && s.told.1) {
        said.push("0 V across the bath: sheet on pan".into());
    }
    (!said.is_empty()).then(|| format!("{}.", said.join("; ")))
}

/// Faults that the ammeter does not tell from a right set-up; none where it tells all.
pub fn untold(meter: &Meter, u: System) -> Option<String> {
    let hidden = meter.faults.iter().filter(|shown| !shown.told.0);
    let names: Vec<String> = hidden.map(|shown| fault(shown.fault, u)).collect();
    (!names.is_empty())
        .then(|| format!("An ammeter may not tell that {}.", names.join(", or that ")))
}

/// Why the ammeter is worth reading.
pub fn worth(meter: &Meter) -> Option<String> {
    let to = meter.right.narrows_to;
    (to < 0.95).then(|| {
        format!("Read it: `restbite look` then narrows the time to {} of its span.", say::share(to))
    })
}

/// The row of a set-up that is right; none where nothing flows.
pub fn fine(plan: &Plan) -> Option<Vec<String>> {
    let right = plan.meter.as_ref()?.right;
    let volts = at(&plan.trace.t_s, &plan.trace.bath_v, right.at_s)?;
    Some(vec!["nothing is wrong".into(), say::current(right.current_a.p50?), say::voltage(volts)])
}

/// The rows of the table of faults: fault, ammeter, voltmeter, what reads alike, what to do.
pub fn table(meter: &Meter, u: System) -> Vec<[String; 5]> {
    let row = |shown: &Shown| {
        let by_both =
            shown.like.len() - shown.like_by_both.iter().filter(|f| shown.like.contains(f)).count();
        let mut like: Vec<String> = shown.like.iter().map(|f| fault(*f, u)).collect();
        if !shown.told.0 {
            like.insert(0, "a right set-up".into());
        }
        let mut like = like.join(", or ");
        if by_both > 0 || (!shown.told.0 && shown.told.1) {
            like += " (voltmeter tells more)";
        }
        [
            fault(shown.fault, u),
            shows(shown.current_a),
            volts(shown.bath_v),
            like,
            remedy(shown.fault).to_string(),
        ]
    };
    meter.faults.iter().map(row).collect()
}

fn volts(v: f64) -> String {
    if v < 0.0 { format!("minus {}", say::voltage(-v)) } else { say::voltage(v) }
}
