//! What the studio owns, as sources to choose from.

use super::candidates::wirings_of;
use super::judge::{ENOUGH, current_borne};
use super::supply::tidy;
use crate::advice::case::Case;
use crate::advice::error::AdviceError;
use crate::job::{Adapter, Job, Owned, Rated, Source, Supply};
use crate::stock::{Named, Stock};
use crate::units::{Current, Quantity, Voltage};

/// Every pack that the cells of the drawer make, and its adapters as they are.
pub fn owned(job: &Job, stock: &Stock) -> Vec<Source> {
    job.drawer.iter().flat_map(|owned| sources(owned, job, stock)).collect()
}

/// Shares of the most current that it may give the piece, to which a supply is set.
const SET: [f64; 4] = [1.0, 0.7, 0.5, 0.3];
/// Volts that hold any current through a bath up, V.
const PLENTY_V: f64 = 12.0;

/// What a supply of the drawer may be set to.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn settings(job: &Job, own: &Supply, stock: &Stock) -> Result<Vec<Supply>, AdviceError> {
    let voltage = Voltage::from_si(own.voltage.si().min(PLENTY_V));
    let case = Case::of(job, &Source::Supply(Supply { voltage, ..*own }), stock)?;
    let rated = own.current_limit.map_or(f64::INFINITY, Quantity::si);
    let most = rated.min(current_borne(&case) / ENOUGH);
    let set = |share: f64| Supply {
        voltage,
        // To two figures, as it is set.
        current_limit: Some(Current::from_si(tidy(share * most, 0.0, most))),
        ..*own
    };
    Ok(SET.map(set).to_vec())
}

pub(super) fn sources(owned: &Owned, job: &Job, stock: &Stock) -> Vec<Source> {
    let asked = |name: &str| job.size_cells.is_empty() || job.size_cells.iter().any(|c| c == name);
    match &owned.rated {
        Rated::Cells { cell, .. } if !asked(cell.name()) => Vec::new(),
        Rated::Cells { cell, have, charge_left, holder } => {
            let most = job.limits.cells.unwrap_or(u32::MAX).min(*have);
            let mut list = wirings_of(cell, most, stock);
            list.retain_mut(|source| {
                let Source::Pack(pack) = source else {
                    return true;
                };
                pack.charge_left = *charge_left;
                holder.as_ref().is_none_or(|holder| holder.name() == pack.holder.name())
            });
            list
        }
        Rated::Adapter(adapter) if job.size_cells.is_empty() => vec![Source::Adapter(*adapter)],
        Rated::Adapter(_) | Rated::Supply(_) => Vec::new(),
    }
}

/// Whether two packs are as full and in the same holder.
pub fn alike(a: &Source, b: &Source) -> bool {
    match (a, b) {
        (Source::Pack(a), Source::Pack(b)) => {
            a.charge_left == b.charge_left && a.holder.name() == b.holder.name()
        }
        _ => true,
    }
}

/// Whether a supply of the drawer may be set so.
pub fn may_be_set(job: &Job, source: &Source) -> bool {
    let Source::Supply(set) = source else {
        return false;
    };
    supplies(job).any(|own| within(set, own))
}

/// Whether a setting is within what a supply may be set to.
fn within(set: &Supply, own: &Supply) -> bool {
    let amps = |s: &Supply| s.current_limit.map_or(f64::INFINITY, Quantity::si);
    set.voltage.si() <= own.voltage.si() && amps(set) <= amps(own)
}

/// The bench supplies of the drawer.
pub fn supplies(job: &Job) -> impl Iterator<Item = &Supply> {
    let any = job.size_cells.is_empty();
    job.drawer.iter().filter_map(move |owned| match &owned.rated {
        Rated::Supply(supply) if any => Some(supply),
        _ => None,
    })
}

/// What it is called in the drawer, where the drawer has one of its kind that it may be.
pub fn called<'a>(job: &'a Job, source: &Source) -> Option<&'a str> {
    let is = |owned: &&Owned| match (&owned.rated, source) {
        (Rated::Cells { cell, charge_left, .. }, Source::Pack(pack)) => {
            cell.name == pack.cell.name && *charge_left == pack.charge_left
        }
        (Rated::Adapter(own), Source::Adapter(Adapter { open_voltage, .. })) => {
            own.open_voltage == *open_voltage
        }
        (Rated::Supply(own), Source::Supply(set)) => within(set, own),
        _ => false,
    };
    job.drawer.iter().find(is).map(|owned| owned.name.as_str())
}
