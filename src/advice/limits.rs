//! The limits that a run is held against, and what takes the voltage.

use crate::job::{Job, Source};
use crate::run::Setup;
use crate::stock::{Named, Stock};
use crate::units::Quantity;

/// Limits that make findings; SI. (Those that stop a run stand in the setup.)
#[derive(Debug, Clone, PartialEq)]
pub struct Bounds {
    /// Current density that the resist bears, A/m2.
    pub resist_density: f64,
    /// Bath temperature that the resist bears, K.
    pub resist_k: f64,
    /// Name of the resist; none when the job names none.
    pub resist: Option<String>,
    /// Current density that the user allows, A/m2.
    pub own_density: Option<f64>,
    /// Surface that one touches, K.
    pub touch_k: f64,
    /// Current that a cell stands for long, A.
    pub cell_current: Option<f64>,
    /// Name of the cell.
    pub cell: Option<String>,
    /// Current that an adapter is rated for, A.
    pub rated_current: Option<f64>,
    /// Rise of the leads over the air at most, K.
    pub leads_rise: f64,
    /// Concentration of the main metal at which a salt film forms, mol/m3.
    pub film: Option<f64>,
}

/// Rise of the leads at which they no longer do: PVC insulation is good to 70 degC (IEC
/// 60227, from memory), and a room may be at 30.
pub const LEADS_RISE_K: f64 = 40.0;
/// Contact time whose burn threshold holds for cells that one handles, s.
const TOUCH_S: f64 = 600.0;

impl Bounds {
    /// Current density that neither resist nor user lets pass, A/m2.
    pub fn density(&self) -> f64 {
        self.own_density.map_or(self.resist_density, |own| own.min(self.resist_density))
    }

    /// The current that makes on so much bare metal (m2), A.
    pub fn current(&self, bare_m2: f64) -> f64 {
        self.density() * bare_m2
    }

    /// Of a job with its source.
    pub fn of(job: &Job, source: &Source, stock: &Stock) -> Self {
        let resists = &stock.resists;
        let named = job.piece.resist.as_ref();
        let resist = resists.resist.iter().find(|r| named.is_some_and(|n| r.name() == n));
        let (density, temperature) = match resist {
            Some(r) => (&r.max_current_density, &r.max_temperature),
            None => (&resists.default.max_current_density, &resists.default.max_temperature),
        };
        let burn = stock
            .touch
            .iter()
            .find(|t| (t.contact.is.si() - TOUCH_S).abs() < 1.0)
            .map_or(f64::INFINITY, |t| t.temperature.is.si());
        Self {
            resist_density: density.is.si(),
            resist_k: temperature.is.si(),
            resist: resist.map(|r| r.name.clone()),
            own_density: job.limits.current_density.map(Quantity::si),
            touch_k: job.limits.touch_temperature.map_or(burn, Quantity::si),
            cell_current: match source {
                Source::Pack(p) => Some(p.cell.continuous_current.is.si()),
                _ => None,
            },
            cell: match source {
                Source::Pack(p) => Some(p.cell.name.clone()),
                _ => None,
            },
            rated_current: match source {
                Source::Adapter(a) => a.rated_current.map(Quantity::si),
                _ => None,
            },
            leads_rise: LEADS_RISE_K,
            film: job.bath.stock.solubility_of(&job.piece.alloy.main),
        }
    }
}

/// One taker of the driving voltage.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// In plain words.
    pub name: &'static str,
    /// Its part, 0..=1.
    pub share: f64,
}

/// Takers of the voltage.
pub const HELD_BY_LIMIT: &str = "the supply's current limit";
/// The source's own resistance.
pub const HELD_BY_SOURCE: &str = "the source itself";
/// Wire and clips.
pub const HELD_BY_LEADS: &str = "the leads and clips";
/// The bath's resistance.
pub const HELD_BY_BATH: &str = "the bath between sheet and pan";

/// Where the source's rest voltage goes at the start, the largest taker first.
#[derive(Debug, Clone, PartialEq)]
pub struct VoltageShares(pub Vec<Share>);

impl VoltageShares {
    /// At the start of a run.
    pub fn at_start(setup: &Setup, run: &crate::run::Run) -> Option<Self> {
        let i = run.start_current_a;
        if i <= 0.0 {
            return None;
        }
        let inside = match setup.source {
            crate::run::Source::Supply { set_v, .. } => set_v - run.start_source_v,
            _ => i * run.source_resistance_ohm,
        };
        let leads = i * run.lead_resistance_ohm;
        let ohmic = i * run.bath_resistance_ohm;
        let electrodes = run.start_bath_v - ohmic;
        let held = if run.extremes.limited.0 { HELD_BY_LIMIT } else { HELD_BY_SOURCE };
        let all = inside + leads + run.start_bath_v;
        let mut list = vec![
            Share { name: held, share: inside / all },
            Share { name: HELD_BY_LEADS, share: leads / all },
            Share { name: HELD_BY_BATH, share: ohmic / all },
            Share { name: "the metals and their films", share: electrodes / all },
        ];
        list.sort_by(|a, b| b.share.total_cmp(&a.share));
        Some(Self(list))
    }
}
