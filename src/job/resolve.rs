//! From a checked job to the resolved setup of a run: the one place where typed
//! quantities become plain SI numbers.

pub use super::factors::Factors;
use super::profile::bench;
use super::{Job, Piece, Source, source};
use crate::laws::anode::Anode;
use crate::laws::cathode::{Hydrogen, Plating};
use crate::laws::conductivity::temperature_factor;
use crate::laws::constants::FARADAY;
use crate::laws::curve::Curve;
use crate::laws::faraday::{self, Constituent};
use crate::laws::slab::Face;
use crate::laws::wells::Wells;
use crate::laws::{cell as body, constriction, wire};
use crate::run;
use crate::stock::{self, AnodeData, CORE_SHARE, CutoffOn, ElectrodeOverride, Stock};
use crate::units::{Outline, Quantity};

/// Heat capacity of a bath by volume, J/(K m3): dilute salt water.
pub const BATH_J_PER_K_M3: f64 = 4.0e6;
/// Heat loss of a bath's open surface, evaporation in it, W/(m2 K).
pub const BATH_LOSS_W_PER_K_M2: f64 = 20.0;

/// What keeps a checked job from being resolved: a gap in the stock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gap(pub String);

impl std::fmt::Display for Gap {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "stock has no {}", self.0)
    }
}

impl std::error::Error for Gap {}

/// Resolves a job with a source, on the bench as the job's profile knows it; `factors` come
/// on top.
///
/// # Errors
/// When stock lacks a number that the job needs.
pub fn resolve(
    job: &Job,
    source: &Source,
    stock: &Stock,
    factors: &Factors,
) -> Result<run::Setup, Gap> {
    let ambient_k = job.room.si();
    let factors = &factors.times(&bench(job, source));
    let geometry = Geometry::with(job, factors);
    let piece = piece(job, stock, &geometry, factors)?;
    let bath = bath(job, stock, &geometry, &piece, factors)?;
    let leads = &job.leads;
    let per_metre = stock
        .leads
        .per_metre(leads.wire.is)
        .ok_or_else(|| Gap(format!("wire \"{}\"", leads.wire_name)))?;
    let clip = leads.clip_resistance.si() * factors.clip_resistance;
    let resistance =
        wire::leads(per_metre, leads.length.si(), ambient_k, f64::from(leads.clips), clip);
    Ok(run::Setup {
        piece,
        bath,
        source: self::push(job, source, factors)?,
        leads: run::Leads { resistance },
        ambient_k,
        time_limit_s: job.limits.time.si(),
    })
}

/// The sheet over the pan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Geometry {
    /// Outline of one piece.
    pub face: Face,
    /// Bare share of it.
    pub share: f64,
    /// Bare area of all pieces, m2.
    pub bare_m2: f64,
    /// Gap, m.
    pub gap: f64,
    /// Shape factor of the bath, 1/m.
    pub shape_factor: f64,
}

impl Geometry {
    /// Of a job on the bench as its profile knows it.
    pub fn of(job: &Job, source: &Source) -> Self {
        Self::with(job, &bench(job, source))
    }

    /// With factors on bare share and gap.
    fn with(job: &Job, factors: &Factors) -> Self {
        let p = &job.piece;
        let count = f64::from(p.count);
        let outline = p.outline_m2();
        let share = (p.bare_m2() / outline * factors.bare_share).min(1.0);
        let gap = job.bath.gap.is.si() * factors.gap;
        let face = face(p);
        let slab = face.shape_factor(gap) / count;
        let squeeze = constriction::length(p.pitch.si(), share) / (count * outline);
        Self { face, share, bare_m2: share * outline * count, gap, shape_factor: slab + squeeze }
    }
}

fn face(p: &Piece) -> Face {
    match p.outline.is {
        Outline::Rectangle(a, b) => Face::Rectangle(a.si(), b.si()),
        Outline::Disc(d) => Face::Disc(d.si() / 2.0),
        Outline::Area(area) => Face::Rectangle(area.si().sqrt(), area.si().sqrt()),
    }
}

fn piece(
    job: &Job,
    stock: &Stock,
    geometry: &Geometry,
    factors: &Factors,
) -> Result<run::Piece, Gap> {
    let p = &job.piece;
    let mut parts = Vec::new();
    for part in &p.alloy.parts {
        let element = stock
            .element(&part.element)
            .ok_or_else(|| Gap(format!("element \"{}\"", part.element)))?;
        let in_this_bath = job.bath.stock.valence_cu.as_ref().filter(|_| part.element == "Cu");
        let usual = in_this_bath.unwrap_or(&element.valence).is.0;
        let constituent = Constituent {
            mass_share: part.share,
            molar_mass: element.molar_mass.is.si(),
            valence: part.valence.unwrap_or(usual),
        };
        parts.push((part.element.clone(), constituent));
    }
    let plain: Vec<Constituent> = parts.iter().map(|(_, c)| *c).collect();
    Ok(run::Piece {
        equivalent_weight: faraday::equivalent_weight(&plain),
        parts,
        density: p.alloy.density.si(),
        exposed_area: geometry.bare_m2,
        efficiency: (p.efficiency.si() * factors.efficiency).min(1.0),
        depth: p.depth.is.si(),
        thickness: p.thickness.is.0.si(),
        floor: p.floor.as_ref().map(|f| f.is.si()),
        etch_factor: p.etch_factor,
    })
}

fn bath(
    job: &Job,
    stock: &Stock,
    geometry: &Geometry,
    piece: &run::Piece,
    factors: &Factors,
) -> Result<run::Bath, Gap> {
    let b = &job.bath;
    let beta = b.stock.beta.is.si();
    let kappa25 = match b.reading {
        Some((reading, at)) => reading.si() / temperature_factor(beta, at.si()),
        None => b
            .stock
            .kappa25(b.concentration.is.si())
            .ok_or_else(|| Gap(format!("conductivity of {} this strong", b.stock.name)))?,
    };
    let species = &job.piece.alloy.main;
    let plating = plating(job, stock, piece)?;
    let anode_index = plating
        .iter()
        .position(|m| &m.symbol == species)
        .ok_or_else(|| Gap(format!("electrode data for \"{species}\"")))?;
    let anode = kinetics(job, &stock.electrodes.anode, species, |pair| &pair.anode)?;
    Ok(run::Bath {
        kappa25: kappa25 * factors.conductivity,
        kappa_beta: beta,
        shape_factor: geometry.shape_factor,
        anode_species: species.clone(),
        anode: Anode {
            e0_v: anode.e0,
            n: anode.n,
            alpha: anode.alpha,
            i0: anode.i0,
            mass_transfer: anode.mass_transfer,
        },
        anode_index,
        plating,
        hydrogen: Hydrogen {
            i0: stock.electrodes.hydrogen.i0.is.si(),
            alpha: stock.electrodes.hydrogen.alpha.is.0,
        },
        ph: b.ph.unwrap_or(b.stock.ph.is.0),
        cathode_area: b.wetted_m2(),
        volume: b.volume.is.si(),
        heat_capacity: b.heat_capacity.map_or(BATH_J_PER_K_M3 * b.volume.is.si(), Quantity::si),
        heat_loss: b.heat_loss.map_or(BATH_LOSS_W_PER_K_M2 * b.pan.is.area_m2(), Quantity::si),
        temperature_k: b.temperature.si(),
    })
}

/// Every metal of bath or alloy that water lets plate.
fn plating(job: &Job, stock: &Stock, piece: &run::Piece) -> Result<Vec<run::PlatingMetal>, Gap> {
    let b = &job.bath;
    let copper = b.stock.copper_per_formula.is.0 * b.concentration.is.si();
    let mut list = Vec::new();
    for element in stock.elements.iter().filter(|e| e.plates) {
        let symbol = element.symbol.as_str();
        let silver = b.dissolved_silver.si() / element.molar_mass.is.si();
        let c0 = match symbol {
            "Ag" => silver,
            "Cu" => copper,
            _ => 0.0,
        };
        let part = piece.parts.iter().find(|(s, _)| s == symbol).map(|(_, c)| c);
        if c0 <= 0.0 && part.is_none() {
            continue;
        }
        let mol_per_coulomb = part.map_or(0.0, |c| {
            let share = faraday::charge_share(c, piece.equivalent_weight);
            piece.efficiency * share / (c.valence * FARADAY)
        });
        let law = kinetics(job, &stock.electrodes.cathode, symbol, |pair| &pair.cathode)?;
        list.push(run::PlatingMetal {
            symbol: symbol.to_string(),
            law: Plating {
                e0_v: law.e0,
                n: law.n,
                alpha: law.alpha,
                i0: law.i0,
                mass_transfer: law.mass_transfer,
            },
            c0,
            mol_per_coulomb,
        });
    }
    if list.len() > run::METALS {
        return Err(Gap(format!("room for {} plating metals", list.len())));
    }
    Ok(list)
}

struct Kinetics {
    e0: f64,
    n: f64,
    alpha: f64,
    i0: f64,
    mass_transfer: f64,
}

/// A metal's kinetics in this bath, stirred or still.
fn kinetics(
    job: &Job,
    rows: &[AnodeData],
    symbol: &str,
    side: impl Fn(&stock::ElectrodePair) -> &ElectrodeOverride,
) -> Result<Kinetics, Gap> {
    let row = rows
        .iter()
        .find(|row| row.species == symbol)
        .ok_or_else(|| Gap(format!("electrode data for \"{symbol}\"")))?;
    let film = if job.bath.stirred { &row.mass_transfer_stirred } else { &row.mass_transfer_still };
    let mass_transfer = film.is.si();
    let own = job.bath.stock.electrode_cu.as_ref().filter(|_| symbol == "Cu").map(side);
    Ok(match own {
        Some(o) => Kinetics {
            e0: o.e0.is.si(),
            n: o.n.is.0,
            alpha: o.alpha.is.0,
            i0: o.i0.is.si(),
            mass_transfer,
        },
        None => Kinetics {
            e0: row.e0.is.si(),
            n: row.n.is.0,
            alpha: row.alpha.is.0,
            i0: row.i0.is.si(),
            mass_transfer,
        },
    })
}

fn push(job: &Job, source: &Source, factors: &Factors) -> Result<run::Source, Gap> {
    Ok(match source {
        Source::Supply(s) => run::Source::Supply {
            set_v: s.voltage.si(),
            out_ohm: s.output_resistance.si(),
            limit_a: s.current_limit.map(Quantity::si),
        },
        Source::Adapter(a) => run::Source::Adapter {
            open_v: a.open_voltage.si(),
            series_ohm: a.series_resistance.si(),
            rated_a: a.rated_current.map(Quantity::si),
        },
        Source::Pack(p) => run::Source::Pack(Box::new(pack(job, p, factors)?)),
    })
}

fn pack(job: &Job, p: &source::Pack, factors: &Factors) -> Result<run::Pack, Gap> {
    let own = p.cell.max_temperature.is.si();
    let asked = job.limits.cell_temperature.map_or(f64::INFINITY, Quantity::si);
    Ok(run::Pack {
        series: f64::from(p.series.is),
        parallel: f64::from(p.parallel),
        charge_left: p.charge_left.si(),
        contact_ohm: p.contact.si() * factors.contact_resistance,
        exposed_share: p.holder.exposed_share.is.si(),
        convection_factor: p.holder.convection_factor.is.0 * factors.cooling,
        temperature_limit_k: own.min(asked),
        cell: cell(&p.cell, factors)?,
    })
}

/// A cell of stock in the numbers of a run.
///
/// # Errors
/// When one of its curves is none.
pub fn cell(c: &stock::Cell, factors: &Factors) -> Result<run::Cell, Gap> {
    let curve = |pairs: &stock::Pairs, what: &str| {
        Curve::new(pairs.0.clone()).map_err(|why| Gap(format!("{what} of {}: {why}", c.name)))
    };
    let heat = c.mass.is.si() * c.specific_heat.is.si();
    let (diameter, length) = (c.diameter.is.si(), c.length.is.si());
    Ok(run::Cell {
        wells: Wells {
            capacity: c.capacity.is.si() * factors.capacity,
            available_share: c.available_share.is.0,
            rate: c.well_rate.is.si(),
        },
        ocv: curve(&c.ocv_curve_v.is, "rest voltage curve")?,
        r0_curve: curve(&c.r0_curve_factor.is, "resistance curve")?,
        r0_ohm: c.r0.is.si() * factors.cell_resistance,
        r0_temp_k: c.r0_temperature.is.si(),
        r1_ohm: c.r1.is.si() * factors.cell_resistance,
        c1_f: c.c1.is.si() / factors.cell_resistance,
        cutoff_v: c.cutoff.is.si(),
        cutoff_on: match c.cutoff_on {
            CutoffOn::Terminal => run::CutoffOn::Terminal,
            CutoffOn::Rested => run::CutoffOn::Rested,
        },
        entropy: c.entropy.is.si(),
        core_j_per_k: CORE_SHARE * heat,
        surface_j_per_k: (1.0 - CORE_SHARE) * heat,
        core_to_surface: body::core_to_surface(c.radial_conductivity.is.si(), length),
        surface_m2: body::surface_area(diameter, length),
        emissivity: c.emissivity.is.0,
        diameter,
    })
}
