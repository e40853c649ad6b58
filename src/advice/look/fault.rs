//! What goes wrong at the bench so that the meter shows something else, each put into the
//! set-up so that the run itself tells what the meter shows then.

use crate::advice::error::AdviceError;
use crate::job::resolve::{Factors, resolve};
use crate::job::{Bare, Job, Source, least_gap_m};
use crate::laws::constants::inverse_thermal_voltage;
use crate::laws::oxygen;
use crate::run::{self, Setup, at_start};
use crate::stock::Stock;
use crate::units::{Area, Length, MolarConcentration, Quantity, Share};

/// A fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Fault {
    /// A cell of the pack is empty through and through.
    DeadCell,
    /// A cell is in the holder the wrong way round.
    TurnedCell,
    /// All cells are half empty.
    HalfEmpty,
    /// A clip bites badly.
    Clip,
    /// A soldered joint or a crimp hardly conducts.
    Joint,
    /// The sheet hangs too near.
    Near,
    /// The sheet hangs too far.
    Far,
    /// The sheet touches the pan.
    Touching,
    /// The bath is at half its strength.
    WeakBath,
    /// Half of what should be bare is still covered.
    Covered,
    /// Plus and minus are exchanged.
    Exchanged,
}

/// Resistance of a clip that bites badly, ohm (judgement).
const CLIP_OHM: f64 = 0.5;
/// Resistance of a joint that hardly conducts, ohm (judgement).
const JOINT_OHM: f64 = 5.0;
/// How much too near or too far the sheet hangs, m (judgement).
const ASTRAY_M: f64 = 5e-3;
/// Share that is left of charge, strength, bare area.
const HALF: f64 = 0.5;

/// A set-up with a fault in it.
#[derive(Debug, Clone)]
pub enum Faulty {
    /// It etches, as this setup does.
    Etches(Box<Setup>),
    /// It does not etch; the meters stand still at this current (A, against the usual way where
    /// negative) and this voltage between sheet and pan (V).
    Stands(f64, f64),
}

impl Fault {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::DeadCell,
        Self::TurnedCell,
        Self::HalfEmpty,
        Self::Clip,
        Self::Joint,
        Self::Near,
        Self::Far,
        Self::Touching,
        Self::WeakBath,
        Self::Covered,
        Self::Exchanged,
    ];

    /// Its word for programs.
    pub fn code(self) -> &'static str {
        match self {
            Self::DeadCell => "dead_cell",
            Self::TurnedCell => "turned_cell",
            Self::HalfEmpty => "half_empty",
            Self::Clip => "clip",
            Self::Joint => "joint",
            Self::Near => "near",
            Self::Far => "far",
            Self::Touching => "touching",
            Self::WeakBath => "weak_bath",
            Self::Covered => "covered",
            Self::Exchanged => "exchanged",
        }
    }

    /// Whether it may befall a job: cells only a pack, nearness only a gap wide enough.
    pub fn befalls(self, job: &Job, source: &Source) -> bool {
        let pack = match source {
            Source::Pack(p) => Some((p.series.is, p.parallel)),
            _ => None,
        };
        match self {
            Self::DeadCell | Self::HalfEmpty => pack.is_some(),
            // The only one the wrong way round is plus and minus exchanged.
            Self::TurnedCell => pack.is_some_and(|(series, parallel)| series * parallel > 1),
            Self::Near => job.bath.gap.is.si() - ASTRAY_M >= least_gap_m(),
            Self::Far => {
                job.bath.gap.is.si() + ASTRAY_M
                    <= job.bath.depth_m() - job.piece.thickness.is.0.si()
            }
            _ => true,
        }
    }

    /// The set-up of a job with the fault in it, its uncertain inputs moved by factors.
    ///
    /// # Errors
    /// When stock lacks a number.
    pub fn put(
        self,
        job: &Job,
        source: &Source,
        stock: &Stock,
        factors: &Factors,
    ) -> Result<Faulty, AdviceError> {
        let (job, source) = self.written(job, source);
        let mut setup = resolve(&job, &source, stock, factors)?;
        match self {
            Self::Clip => setup.leads.resistance += CLIP_OHM,
            Self::Joint => setup.leads.resistance += JOINT_OHM,
            Self::DeadCell => amiss(&mut setup, 1.0, true),
            Self::TurnedCell => amiss(&mut setup, 2.0, false),
            Self::Touching => return Ok(touching(&setup)),
            Self::Exchanged => return Ok(exchanged(&setup)),
            _ => {}
        }
        let at = at_start(&setup);
        if at.current <= 0.0 {
            return Ok(Faulty::Stands(0.0, at.open_v.max(0.0)));
        }
        Ok(Faulty::Etches(Box::new(setup)))
    }

    /// The job and its source as they would have to be written.
    fn written(self, job: &Job, source: &Source) -> (Job, Source) {
        let (mut job, mut source) = (job.clone(), source.clone());
        let gap = job.bath.gap.is.si();
        match self {
            Self::Near => job.bath.gap.is = Length::from_si(gap - ASTRAY_M),
            Self::Far => job.bath.gap.is = Length::from_si(gap + ASTRAY_M),
            Self::WeakBath => {
                let c = &mut job.bath.concentration.is;
                *c = MolarConcentration::from_si(HALF * c.si());
                // Measured in the bath as it should be.
                if let Some((kappa, _)) = &mut job.bath.reading {
                    *kappa = Quantity::from_si(HALF * kappa.si());
                }
            }
            Self::Covered => {
                let bare = &mut job.piece.bare.is;
                *bare = match *bare {
                    Bare::Share(share) => Bare::Share(Share::from_si(HALF * share.si())),
                    Bare::Area(area) => Bare::Area(Area::from_si(HALF * area.si())),
                };
            }
            Self::HalfEmpty => {
                if let Source::Pack(p) = &mut source {
                    p.charge_left = Share::from_si(HALF * p.charge_left.si());
                }
            }
            _ => {}
        }
        (job, source)
    }
}

/// A string of the pack pushes by so many cells less than the others; a dead one holds up what
/// it held when it went empty.
fn amiss(setup: &mut Setup, less: f64, dead: bool) {
    let run::Source::Pack(pack) = &mut setup.source else {
        return;
    };
    let c = &pack.cell;
    let (series, parallel) = (pack.series, pack.parallel);
    let one = c.r0_ohm + pack.contact_ohm;
    let more = if dead { c.r0_ohm * (c.r0_curve.at(0.0) - c.r0_curve.at(1.0)) } else { 0.0 };
    let (good, bad) = ((parallel - 1.0) / (series * one), 1.0 / (series * one + more));
    // Strings side by side push by the mean of their voltages, weighed by how well they conduct.
    let pushes = (good * series + bad * (series - less)) / (good + bad);
    let ohm = 1.0 / (good + bad);
    // A pack of alike cells that pushes so, behind so much.
    pack.series = pushes.max(0.0);
    let inside = pushes.max(0.0) * c.r0_ohm / parallel;
    if pushes > 0.0 {
        pack.contact_ohm = (ohm - inside).max(0.0) * parallel / pushes;
    }
}

/// Sheet on pan: all that the source gives through the leads.
fn touching(setup: &Setup) -> Faulty {
    let at = at_start(setup);
    let current = at.open_v / (at.source_ohm + setup.leads.ohm());
    Faulty::Stands(current.min(limit(setup)), 0.0)
}

/// The pan is the anode: steel gives off oxygen, copper dissolves; the sheet is plated.
fn exchanged(setup: &Setup) -> Faulty {
    let (b, at) = (&setup.bath, at_start(setup));
    let f = inverse_thermal_voltage(b.temperature_k);
    let ohm = at.source_ohm + setup.leads.ohm() + at.bath_ohm;
    let pan_v = |i: f64| {
        if b.pan_is_copper {
            0.0
        } else {
            oxygen::potential_v(i / b.core_area, b.ph, f) - sheet_v(setup)
        }
    };
    // What is left over falls with the current; halved until no meter tells the two apart.
    let (mut low, mut high) = (0.0, (at.open_v / ohm).min(limit(setup)));
    for _ in 0..60 {
        let i = 0.5 * (low + high);
        if at.open_v - i * ohm - pan_v(i) > 0.0 { low = i } else { high = i }
    }
    let volts = if low > 0.0 { at.bath_ohm * low + pan_v(low) } else { at.open_v };
    Faulty::Stands(-low, -volts)
}

/// About where a metal plates on the sheet: the noblest couple in the bath.
fn sheet_v(setup: &Setup) -> f64 {
    let at = at_start(setup);
    at.anode_equilibrium_v - at.back_emf_v
}

fn limit(setup: &Setup) -> f64 {
    match &setup.source {
        run::Source::Supply { limit_a, .. } => limit_a.unwrap_or(f64::INFINITY),
        _ => f64::INFINITY,
    }
}
