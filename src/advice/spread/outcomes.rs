//! What came of draws that were all followed to the nominal stop.

use super::draw::Followed;
use super::quantile::{Chance, Quantiles};
use super::sample::Inputs;
use super::sampling::Sampling;
use crate::advice::verdict::Chances;
use crate::run::Setup;
use nalgebra::DVector;

/// Quantiles and chances of the draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcomes {
    /// How they were drawn.
    pub sampling: Sampling,
    /// Time to depth, rests and all, s; those that do not come to depth count as endless.
    pub time_s: Quantiles,
    /// Depth when it is stopped at the nominal time, m.
    pub depth_m: Quantiles,
    /// Hottest spot, K; none without cells.
    pub hot_spot_k: Option<Quantiles>,
    /// How often each limit is broken.
    pub chances: Chances,
    /// Silver on the pan when it stops, and in solution after a night, kg; none without silver.
    pub silver_kg: Option<(Quantiles, Quantiles)>,
    /// Chance of eating into the floor, when it is stopped at the nominal time.
    pub through: Chance,
    /// Chance of not coming to depth within the time limit, or at all.
    pub unfinished: Chance,
    /// Chance of passing a limit of warmth.
    pub hot: Chance,
}

impl Outcomes {
    /// Of the draws of a nominal setup, at a sample of its inputs.
    pub(super) fn of(
        followed: &[Followed],
        nominal: &Setup,
        (inputs, sample): (&Inputs, &[DVector<f64>]),
        sampling: Sampling,
    ) -> Self {
        let draws = || followed.iter().map(|f| &f.draw);
        let bottom = nominal.piece.thickness - nominal.piece.floor.unwrap_or(0.0);
        let cells = nominal.cells().is_some();
        Self {
            sampling,
            time_s: inputs.quantiles(sample, draws().map(|d| d.time_s)),
            depth_m: inputs.quantiles(sample, followed.iter().map(|f| f.depth_m)),
            hot_spot_k: cells.then(|| inputs.quantiles(sample, draws().map(|d| d.hot_spot_k))),
            chances: Chances::of(&draws().map(|d| d.broke).collect::<Vec<_>>()),
            silver_kg: draws().all(|d| d.silver.0 > 0.0).then(|| {
                (
                    inputs.quantiles(sample, draws().map(|d| d.silver.0)),
                    inputs.quantiles(sample, draws().map(|d| d.silver.1)),
                )
            }),
            through: Chance::of(followed.iter().map(|f| f.depth_m > bottom)),
            unfinished: Chance::of(draws().map(|d| d.time_s.is_infinite())),
            hot: Chance::of(draws().map(|d| d.hot)),
        }
    }
}
