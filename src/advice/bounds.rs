//! The limits that a run is held against.

use crate::job::{Job, Source};
use crate::stock::{Named, Stock};
use crate::units::Quantity;

/// Limits that make findings; SI. (Those that stop a run stand in the setup.)
#[derive(Debug, Clone, PartialEq)]
pub struct Bounds {
    /// Bath temperature that the resist bears, K.
    pub resist_k: f64,
    /// Name of the resist; none when the job names none.
    pub resist: Option<String>,
    /// Current density that the user allows, A/m2.
    pub own_density: Option<f64>,
    /// Surface that one touches, K.
    pub touch_k: f64,
    /// Current that an adapter is rated for, A.
    pub rated_current: Option<f64>,
    /// Rise of the leads over the air at most, K.
    pub leads_rise: f64,
    /// Whether what does not dissolve of the main metal falls off, as sludge, and the sheet goes on
    /// dissolving.
    pub sheds: bool,
    /// Name of the main metal.
    pub metal: String,
}

/// Rise of the leads at which they no longer do: PVC insulation is good to 70 degC (IEC
/// 60227, from memory), and a room may be at 30.
pub const LEADS_RISE_K: f64 = 40.0;
/// Current density up to which benches have tried it (common practice, no published source).
pub const EXPERIENCE_A_PER_M2: f64 = 9000.0;
/// Share of the depth that it may be off where the job gives no tolerance: a tenth.
pub const DEFAULT_TOLERANCE: f64 = 0.1;
/// Contact time whose burn threshold holds for cells that one handles, s.
const TOUCH_S: f64 = 600.0;

impl Bounds {
    /// Current density that the user lets pass, or up to which there is experience, A/m2.
    pub fn density(&self) -> f64 {
        self.own_density.unwrap_or(EXPERIENCE_A_PER_M2)
    }

    /// Of a job with its source.
    pub fn of(job: &Job, source: &Source, stock: &Stock) -> Self {
        let resists = &stock.resists;
        let named = job.piece.resist.as_ref();
        let resist = resists.resist.iter().find(|r| named.is_some_and(|n| r.name() == n));
        let temperature = resist.map_or(&resists.default.max_temperature, |r| &r.max_temperature);
        let burn = stock
            .touch
            .iter()
            .find(|t| (t.contact.is.si() - TOUCH_S).abs() < 1.0)
            .map_or(f64::INFINITY, |t| t.temperature.is.si());
        Self {
            resist_k: temperature.is.si(),
            resist: resist.map(|r| r.name.clone()),
            own_density: job.limits.current_density.map(Quantity::si),
            touch_k: job.limits.touch_temperature.map_or(burn, Quantity::si),
            rated_current: match source {
                Source::Adapter(a) => a.rated_current.map(Quantity::si),
                _ => None,
            },
            leads_rise: LEADS_RISE_K,
            sheds: job.bath.stock.sheds(&job.piece.alloy.main),
            metal: job.piece.alloy.name_of(&job.piece.alloy.main).to_string(),
        }
    }
}
