//! The pictures that `plan` and `rest` put into a folder.

use super::answer::Failure;
use super::folder::write;
use crate::files::Folder;
use restbite::advice::rest::Rests;
use restbite::advice::spell::spell;
use restbite::advice::{Case, Plan};
use restbite::sheet::html;
use restbite::sheet::plots::{self, Plot, SpellLimits, View};
use restbite::units::Quantity;
use restbite::units::say::System;

/// Writes every plot of a plan, and the bench sheet beside them.
pub fn plan(folder: &Folder, plan: &Plan, units: System) -> Result<(), Failure> {
    let mut list = plots::plots(&View::of_plan(plan, units))?;
    list.extend(rests(plan.case(), plan.rests.as_ref(), units)?);
    write(folder, &list)?;
    folder.write(html::NAME, &html::sheet(plan, &list, units))?;
    Ok(())
}

/// On and off over time; nothing without cells, or where no cycle of on and off does it.
pub fn rests(case: &Case, found: Option<&Rests>, units: System) -> Result<Option<Plot>, Failure> {
    let Some(found) = found else {
        return Ok(None);
    };
    let bench_s = case.job.session.bench_time.si();
    let spell = spell(&case.setup, found, bench_s).map_err(Failure::cannot)?;
    Ok(plots::spell(&spell, &case.job.title, SpellLimits::from(found.limits), units)?)
}
