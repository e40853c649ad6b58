//! A run that goes on after its piece is deep enough, as when nobody looks.

use super::outcome::{Run, Stop};
use super::setup::Setup;
use super::simulate::{March, Precision, RunError};
use super::state::Segments;
use super::stepper::Step;

/// Runs a setup to its stop; one that stops for its depth or its floor goes on at its own
/// pace until the time `until` (s), or another end. `observe` sees the steps of both parts;
/// the outcome is that of the first.
///
/// # Errors
/// As [`super::run`].
pub fn run_onward(
    setup: &Setup,
    precision: Precision,
    until: f64,
    mut observe: impl FnMut(&Step, Segments),
) -> Result<Run, RunError> {
    let mut deeper = setup.clone();
    deeper.go_on_for_ever();
    let mut march = March::new(setup, precision);
    let first = march.at;
    let stop = march.go_on(setup.time_limit_s, &mut observe)?.unwrap_or(Stop::Time);
    let run = march.outcome(stop, &first);
    if matches!(stop, Stop::Depth | Stop::Floor) && march.t < until {
        let with = deeper.stage(march.stage.number);
        (march.whole, march.setup, march.solver.setup) = (&deeper, with, with);
        march.restart();
        march.go_on(until, &mut observe)?;
    }
    Ok(run)
}
