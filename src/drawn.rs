//! What `plan` and `rest` draw into a folder.

use crate::files::Folder;
use crate::verbs::{CANNOT, Failure, write};
use restbite::advice::spell::spell;
use restbite::advice::{Advice, Plan};
use restbite::sheet::html;
use restbite::sheet::plots::{self, Plot, SpellLimits, View};
use restbite::stock::Stock;
use restbite::units::Quantity;
use restbite::units::say::System;

/// Writes every plot of a plan, and the bench sheet beside them; of a refused job the sheet
/// alone, which says why.
pub fn plan(folder: &Folder, advice: &Advice, stock: &Stock, units: System) -> Result<(), Failure> {
    let plots = match advice {
        Advice::Plan(plan) => all(plan, units)?,
        Advice::Refused(_) => Vec::new(),
    };
    write(folder, &plots)?;
    folder.write(html::NAME, &html::sheet(advice, &plots, stock, units))?;
    Ok(())
}

/// Every plot of a plan.
fn all(plan: &Plan, units: System) -> Result<Vec<Plot>, Failure> {
    let mut list = plots::plots(&View::of(plan, units))?;
    list.extend(rests(plan, units)?);
    Ok(list)
}

/// On and off over time; nothing without cells, or where no cycle of on and off does it.
pub fn rests(plan: &Plan, units: System) -> Result<Option<Plot>, Failure> {
    let Some(found) = &plan.rests else {
        return Ok(None);
    };
    let spell = spell(&plan.setup, found, plan.job.session.bench_time.si())
        .map_err(|error| Failure::Other(error.into(), CANNOT))?;
    let limits = SpellLimits::from(found.limits);
    Ok(plots::spell(&spell, &plan.job.title, limits, units)?)
}
