//! Every pack that may be wired from stock: cell, series, parallel, holder.

use crate::job::{At, Job, Pack, Place, Source, no_resistor};
use crate::stock::{self, Named, Stock};
use crate::units::{Quantity, Share, Voltage, parse};

/// Cells that shops and studios have. Lead-acid and lithium ones, and what is rare, only where a
/// job names them.
const SHELF: [&str; 4] = ["LR20", "LR14", "LR6", "HR6"];
/// Cells that the holders a shop sells take.
pub const HOLDER_SIZES: [u32; 6] = [1, 2, 3, 4, 6, 8];
/// What several holders together take, where a job allows more than one holder does.
pub const LARGER_SIZES: [u32; 11] = [2, 3, 4, 6, 8, 10, 12, 16, 20, 24, 32];
/// Most cells where the job sets no limit.
pub const DEFAULT_CELLS: u32 = 8;
const HIGHEST_V: &str = crate::job::HIGHEST_VOLTAGE;

/// All packs that the job allows.
pub fn candidates(job: &Job, stock: &Stock) -> Vec<Source> {
    let most = job.limits.cells.unwrap_or(DEFAULT_CELLS);
    let own = match &job.source {
        Some(Source::Pack(p)) => Some(p.cell.name.as_str()),
        _ => None,
    };
    let named = |cell: &stock::Cell| job.size_cells.iter().any(|name| name == cell.name());
    let on_the_shelf = |cell: &stock::Cell| {
        SHELF.contains(&cell.name()) || own == Some(cell.name()) || stock.is_own(cell.name())
    };
    let allowed = |cell: &&stock::Cell| {
        if job.size_cells.is_empty() { on_the_shelf(cell) } else { named(cell) }
    };
    stock.cells.iter().filter(allowed).flat_map(|cell| wirings_of(cell, most, stock)).collect()
}

/// Every way to wire at most so many of a cell as holders take them, in every holder.
pub fn wirings_of(cell: &stock::Cell, most: u32, stock: &Stock) -> Vec<Source> {
    let more = LARGER_SIZES.into_iter().filter(|n| *n > 8);
    let mut list = Vec::new();
    for total in HOLDER_SIZES.into_iter().chain(more).filter(|n| *n <= most) {
        for parallel in (1..=total).filter(|p| total % p == 0) {
            list.extend(in_every_holder(cell, total / parallel, parallel, stock));
        }
    }
    list
}

fn in_every_holder(cell: &stock::Cell, series: u32, parallel: u32, stock: &Stock) -> Vec<Source> {
    let highest = parse::<Voltage>(HIGHEST_V).map_or(f64::INFINITY, Quantity::si);
    if f64::from(series) * cell.nominal.is.si() > highest {
        return Vec::new(); // not safe to touch, and refused as a job too
    }
    let one = series * parallel == 1;
    // The holder for a single cell takes one; the others take one as well as several.
    let fits = |holder: &&stock::Holder| one || holder.name() != "single";
    stock.holders.iter().filter(fits).map(|h| pack(cell, series, parallel, h)).collect()
}

/// A fresh pack.
pub fn pack(cell: &stock::Cell, series: u32, parallel: u32, holder: &stock::Holder) -> Source {
    let place = Place::Set("size".into());
    Source::Pack(Box::new(Pack {
        cell: cell.clone(),
        series: At { is: series, place, key: "source.series".into() },
        parallel,
        contact: holder.contact.clone(),
        holder: holder.clone(),
        charge_left: Share::from_si(1.0),
        price: None,
        resistor: no_resistor(),
    }))
}
