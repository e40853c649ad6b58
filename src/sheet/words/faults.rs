//! Faults in words, and what to do about each.

use crate::advice::look::Fault;
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
        Fault::Touching => "Current off at once: it is a short, and leads and cells get hot.",
        Fault::WeakBath => "Was the salt weighed in the form that the jar names? Add what lacks.",
        Fault::Covered => "Take it out, rinse, look for resist and grease where it should be bare.",
        Fault::Exchanged => {
            "Current off at once: the sheet is plated and the pan eaten. The plus lead goes to \
             the sheet."
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
