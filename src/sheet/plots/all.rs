//! All plots of a run.

use super::plot::Plot;
use super::view::{View, check};
use super::{band, charge, depth, heat, sag};
use crate::sheet::plots::error::Painted;

/// Names of all plots of a run.
pub const NAMES: [&str; 4] = ["sag", "depth", "heat", "charge"];

/// The plots of a run: three, or four where cells push the current.
///
/// # Errors
/// When the trace holds no point, or arrays of different lengths.
pub fn plots(view: &View) -> Painted<Vec<Plot>> {
    check(view.trace)?;
    view.bands.map_or(Ok(()), band::check)?;
    let mut list = vec![sag::plot(view)?, depth::plot(view)?, heat::plot(view)?];
    list.extend(charge::plot(view)?);
    Ok(list)
}
