//! From a checked job to the resolved setup of a run: the one place where typed quantities
//! become plain SI numbers, each with its key, its unit and where it is from.

use super::bath::{BATH_J_PER_K_M3, BATH_LOSS_W_PER_K_M2};
use super::checked::Job;
pub use super::factors::Factors;
pub use super::geometry::Geometry;
pub use super::rows::{Origin, Recorder, Row, Rows};
use super::scope::bench;
use super::source::{self, Source};
use super::stage::Until;
use crate::laws::anode::Anode;
use crate::laws::cathode::{Hydrogen, Plating};
use crate::laws::conductivity::temperature_factor;
use crate::laws::constants::FARADAY;
use crate::laws::curve::Curve;
use crate::laws::faraday::{self, Constituent};
use crate::laws::film::Film;
use crate::laws::loose::Thresholds;
use crate::laws::walls::Walls;
use crate::laws::wells::Wells;
use crate::laws::{cell as body, ends, wire};
use crate::run;
use crate::stock::{self, AnodeData, ElectrodeOverride, Number, Sourced, Stock};
use crate::units::keyed::*;
use crate::units::{CurrentDensity, Quantity, Velocity, Voltage};
use thiserror::Error;

/// What keeps a checked job from being resolved: something that stock lacks.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ResolveError {
    /// The leads' wire.
    #[error("stock has no wire \"{0}\"")]
    Wire(String),
    /// An element of the alloy.
    #[error("stock has no element \"{0}\"")]
    Element(String),
    /// The conductivity of a bath at this concentration.
    #[error("stock has no conductivity of {0} this strong")]
    Conductivity(String),
    /// The kinetics of a metal.
    #[error("stock has no electrode data for \"{0}\"")]
    Electrode(String),
    /// More plating metals than a run can follow.
    #[error("stock has no room for {0} plating metals")]
    Metals(usize),
    /// A curve of a cell that is none.
    #[error("stock has no {what} of {cell}: {why}")]
    Curve {
        /// Which curve.
        what: &'static str,
        /// Of which cell.
        cell: String,
        /// What is wrong with it.
        why: &'static str,
    },
}

/// A job ready to run, and every number of it as a row.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolved {
    /// What the run uses.
    pub setup: run::Setup,
    /// Every number of the setup, with its key, its unit and where it is from.
    pub rows: Rows,
}

/// Resolves a job as written with a source, on the bench as the job's profile knows it, and
/// takes every number down.
///
/// # Examples
///
/// ```
#[doc = include_str!("../fern_pin.in")]
/// use restbite::job::resolve::{Resolved, resolved};
///
/// let Resolved { setup, rows } = resolved(&job, source, &stock)?;
/// assert!((setup.piece.depth - 0.35e-3).abs() < 1e-12); // plain SI
/// let row = rows.0.iter().find(|row| row.name == "piece.depth").ok_or("no row")?;
/// assert_eq!(row.key, "piece.depth_m");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// When stock lacks a number that the job needs.
pub fn resolved(job: &Job, source: &Source, stock: &Stock) -> Result<Resolved, ResolveError> {
    let mut rows = Recorder::awake();
    let setup = setup(job, source, stock, &Factors::default(), &mut rows)?;
    let mut rows = rows.rows();
    if let Some(bench) = &job.bench {
        rows.from_bench(bench);
    }
    Ok(Resolved { setup, rows })
}

/// Resolves a job with a source, on the bench as the job's profile knows it; `factors` come
/// on top. For draws: no rows.
///
/// # Errors
/// When stock lacks a number that the job needs.
pub fn resolve(
    job: &Job,
    source: &Source,
    stock: &Stock,
    factors: &Factors,
) -> Result<run::Setup, ResolveError> {
    setup(job, source, stock, factors, &mut Recorder::default())
}

fn setup(
    job: &Job,
    source: &Source,
    stock: &Stock,
    factors: &Factors,
    n: &mut Recorder,
) -> Result<run::Setup, ResolveError> {
    let factors = &factors.times(&bench(job, source));
    let geometry = Geometry::with(job, factors);
    let piece = piece(job, stock, &geometry, factors, n)?;
    let mut limits = n.beside();
    let bath = bath(job, stock, &geometry, &piece, factors, (n, &mut limits))?;
    let ambient_k = n.job("ambient", KELVIN, job.room.si());
    let leads = leads(job, source, stock, ambient_k, factors, n)?;
    let time_limit_s = limits.job("limits.time", S, job.limits.time.si());
    let resolved = self::source(job, source, factors, n, &mut limits)?;
    n.append(limits);
    let mut first =
        run::Setup { piece, bath, source: resolved, leads, ambient_k, time_limit_s, then: None };
    if job.stages.first().is_some_and(|stage| stage.source.is_the_same_as(source)) {
        staged(&mut first, job, stock, factors)?;
    }
    Ok(first)
}

/// Puts the sources that follow behind the first.
fn staged(
    first: &mut run::Setup,
    job: &Job,
    stock: &Stock,
    factors: &Factors,
) -> Result<(), ResolveError> {
    let mut behind: Option<Box<run::Then>> = None;
    let quiet = || Recorder::default();
    let plain = first.clone();
    for (n, stage) in job.stages.iter().enumerate().rev() {
        let mut setup = plain.clone();
        if n > 0 {
            setup.source = source(job, &stage.source, factors, &mut quiet(), &mut quiet())?;
            let ambient_k = setup.ambient_k;
            setup.leads = leads(job, &stage.source, stock, ambient_k, factors, &mut quiet())?;
        }
        if let (Some(next), Some(until)) = (&mut behind, &stage.until) {
            next.after = match until.is {
                Until::Time(time) => run::After::Time(time.si()),
                Until::Depth(depth) => run::After::Depth(depth.si()),
            };
        }
        setup.then = behind.take();
        behind = Some(Box::new(run::Then { after: run::After::Time(0.0), setup }));
    }
    if let Some(all) = behind {
        *first = all.setup;
    }
    Ok(())
}

fn piece(
    job: &Job,
    stock: &Stock,
    geometry: &Geometry,
    factors: &Factors,
    n: &mut Recorder,
) -> Result<run::Piece, ResolveError> {
    let p = &job.piece;
    let mut found = Vec::new();
    for part in &p.alloy.parts {
        let element = stock
            .element(&part.element)
            .ok_or_else(|| ResolveError::Element(part.element.clone()))?;
        let in_this_bath = job.bath.stock.valence_cu.as_ref().filter(|_| part.element == "Cu");
        let usual = in_this_bath.unwrap_or(&element.valence);
        // In brine anywhere between copper(I) and copper(II).
        let mixed = |v: f64| (v * factors.brine_valence).clamp(1.0, 2.0);
        let here = if in_this_bath.is_some() { mixed(usual.is.0) } else { usual.is.0 };
        let constituent = Constituent {
            mass_share: part.share.is.si(),
            molar_mass: element.molar_mass.is.si(),
            valence: part.valence.unwrap_or(here),
        };
        found.push((part, element, usual, constituent));
    }
    let plain: Vec<Constituent> = found.iter().map(|(.., c)| *c).collect();
    let equivalent_weight = faraday::equivalent_weight(&plain);
    const ASTM: &str = "mass shares, molar masses and valences (ASTM G102)";
    let mut parts = Vec::new();
    for (part, element, usual, c) in found {
        let symbol = &part.element;
        let valence_from = || part.valence.map_or_else(|| Origin::of(usual), |_| Origin::Job);
        n.stock(format_args!("piece.mass_share.{symbol}"), NONE, c.mass_share, &part.share);
        let molar_mass = format_args!("piece.molar_mass.{symbol}");
        n.stock(molar_mass, KG_PER_MOL, c.molar_mass, &element.molar_mass);
        n.put(format_args!("piece.valence.{symbol}"), NONE, c.valence, valence_from);
        let share = faraday::charge_share(&c, equivalent_weight);
        n.worked(format_args!("piece.charge_share.{symbol}"), NONE, share, ASTM);
        parts.push((symbol.clone(), c));
    }
    let density = &p.alloy.density;
    let efficiency = (p.efficiency.si() * factors.efficiency).min(1.0);
    let floor = p.floor.as_ref().map(|f| f.is.si());
    const BARE: &str = "outline, bare share and count";
    const EDGES: &str = "pitch of the lines and bare share";
    Ok(run::Piece {
        parts,
        equivalent_weight: n.worked("piece.equivalent_weight", KG_PER_MOL, equivalent_weight, ASTM),
        density: n.stock("piece.density", KG_PER_M3, density.is.si(), density),
        exposed_area: n.worked("piece.exposed_area", M2, geometry.bare_m2, BARE),
        efficiency: n.job("piece.current_efficiency", NONE, efficiency),
        depth: n.job("piece.depth", M, p.depth.is.si()),
        begun: match &p.begun {
            Some(begun) => n.job("piece.begun", M, begun.is.si()),
            None => 0.0,
        },
        thickness: n.job("piece.thickness", M, p.thickness.is.0.si()),
        // Of a sheet that is etched from both sides each has half of what is left.
        floor: n.job(
            "piece.floor",
            M,
            match job.bath.hung.faces() {
                1 => floor,
                _ => Some(0.5 * (p.thickness.is.0.si() + floor.unwrap_or(0.0))),
            },
        ),
        resist_lifts: {
            let (begins, sure) = stock.resists.lifts(p.resist.as_deref());
            (
                n.stock("piece.resist_begins", C_PER_M2, begins.is.si(), begins),
                n.stock("piece.resist_sure", C_PER_M2, sure.is.si(), sure),
            )
        },
        walls: Walls {
            etch_factor: n.job("piece.etch_factor", NONE, p.etch_factor),
            edge_per_m: n.worked("piece.edge", PER_M, geometry.edge_per_m, EDGES),
        },
    })
}

fn bath(
    job: &Job,
    stock: &Stock,
    geometry: &Geometry,
    piece: &run::Piece,
    factors: &Factors,
    (n, limits): (&mut Recorder, &mut Recorder),
) -> Result<run::Bath, ResolveError> {
    let b = &job.bath;
    let kappa25 = match b.reading {
        Some((reading, at)) => reading.si() / temperature_factor(b.stock.beta.is.si(), at.si()),
        None => b
            .stock
            .kappa25(b.concentration.is.si())
            .ok_or_else(|| ResolveError::Conductivity(b.stock.name.clone()))?,
    };
    let kappa_from = || match b.reading {
        Some(_) => Origin::Worked("your reading"),
        None => {
            let (source, sure) = b.stock.curve.source();
            Origin::Stock(source.into(), sure)
        }
    };
    let species = &job.piece.alloy.main;
    let mut metals = n.beside();
    let plating = plating(job, stock, piece, factors, &mut metals)?;
    let anode_index = plating
        .iter()
        .position(|m| &m.symbol == species)
        .ok_or_else(|| ResolveError::Electrode(species.clone()))?;
    let k = Kinetics::of(job, &stock.electrodes.anode, species, |pair| &pair.anode)?;
    let hydrogen = &stock.electrodes.hydrogen;
    let (beta, ph) = (&b.stock.beta, &b.stock.ph);
    let given_or = |given: bool, else_from: Origin| if given { Origin::Job } else { else_from };
    let heat = b.heat_capacity.map_or(BATH_J_PER_K_M3 * b.volume.is.si(), Quantity::si);
    let heat_from = || given_or(b.heat_capacity.is_some(), Origin::Worked("the volume"));
    let loss = b.heat_loss.map_or(BATH_LOSS_W_PER_K_M2 * b.pan.is.area_m2(), Quantity::si);
    let loss_from = || given_or(b.heat_loss.is_some(), Origin::Worked("the open surface"));
    let main = piece.parts.iter().find(|(symbol, _)| symbol == species);
    let main_share = main.map_or(1.0, |(_, c)| faraday::charge_share(c, piece.equivalent_weight));
    let pan = &stock.electrodes.pan;
    let acid = b.stock.acid_concentration.as_ref().is_some_and(|c| c.is.si() > 0.0);
    let (from, all) = match acid {
        true => (&pan.loose_from_acid, &pan.loose_all_acid),
        false => (&pan.loose_from, &pan.loose_all),
    };
    let solubility = b.stock.solubility_of(species, b.concentration.is.si());
    let ions = b.stock.ions(b.concentration.is.si());
    const LANDING: &str = "outline, gap, count and the wetted pan";
    const REACH: &str = "pan and gap, or all of it when stirred";
    const SOLUBLE: &str = "what dissolves of the main metal";
    const IONS: &str = "the ions in the fresh bath";
    const SHAPE: &str = "outline, gap, bare share and pitch of the lines";
    const MAIN: &str = "the alloy's main metal";
    let bath = run::Bath {
        kappa25: n.put("bath.kappa25", S_PER_M, kappa25 * factors.conductivity, kappa_from),
        kappa_beta: n.stock("bath.kappa_beta", PER_K, beta.is.si(), beta),
        shape_factor: n.worked("bath.shape_factor", PER_M, geometry.shape_factor, SHAPE),
        anode_species: n.worked("bath.anode.species", NONE, species.clone(), MAIN),
        anode: Anode {
            e0_v: n.stock("bath.anode.e0", V, k.e0.is.si(), k.e0),
            n: n.stock("bath.anode.n", NONE, k.n.is.0, k.n),
            alpha: n.stock("bath.anode.alpha", NONE, k.alpha.is.0, k.alpha),
            i0: n.stock("bath.anode.i0", A_PER_M2, k.i0.is.si(), k.i0),
            charge_share: main_share,
            film: film(
                ("bath.anode", &k, factors.face_transfer),
                b.stock.transfer_of(species).map(|row| &row.face),
                b.stirred,
                n,
            ),
        },
        anode_index: {
            // What is dissolved of the sheet's metal is the plating metal's own number.
            n.worked("bath.anode.c0", MOL_PER_M3, plating[anode_index].c0, DISSOLVED);
            anode_index
        },
        plating,
        hydrogen: Hydrogen {
            i0: n.stock("bath.cathode.H2.i0", A_PER_M2, hydrogen.i0.is.si(), &hydrogen.i0),
            alpha: n.stock("bath.cathode.H2.alpha", NONE, hydrogen.alpha.is.0, &hydrogen.alpha),
        },
        transfer_beta: n.stock(
            "bath.transfer_beta",
            PER_K,
            pan.transfer_beta.is.si(),
            &pan.transfer_beta,
        ),
        cathode_area: n.worked("bath.cathode_area", M2, b.wetted_m2(), "pan and volume"),
        core_area: n.worked("bath.cathode.core_area", M2, geometry.core_m2, LANDING),
        spread_area: n.worked("bath.cathode.spread_area", M2, geometry.spread_m2, LANDING),
        loose: Thresholds {
            from: n.stock("bath.cathode.loose_from", NONE, from.is.0 * factors.loose_load, from),
            all: n.stock("bath.cathode.loose_all", NONE, all.is.0 * factors.loose_load, all),
        },
        rest_transfer: n.stock(
            "bath.rest_transfer",
            M_PER_S,
            pan.rest_transfer.is.si(),
            &pan.rest_transfer,
        ),
        pan_is_copper: n.job("bath.pan_is_copper", NONE, b.pan_is_copper),
        reach: n.worked("bath.reach", M3, geometry.reach_m3, REACH),
        solubility: n.worked("bath.solubility", MOL_PER_M3, solubility, SOLUBLE),
        ph: n.put("bath.ph", NONE, b.ph.unwrap_or(ph.is.0), || {
            given_or(b.ph.is_some(), Origin::of(ph))
        }),
        volume: n.job("bath.volume", M3, b.volume.is.si()),
        heat_capacity: n.put("bath.heat_capacity", J_PER_K, heat, heat_from),
        heat_loss: n.put("bath.heat_loss", W_PER_K, loss, loss_from),
        temperature_k: n.job("bath.temperature", KELVIN, b.temperature.si()),
        boil_k: limits.worked("limits.boil", KELVIN, ends::boil_k(ions), IONS),
        freeze_k: limits.worked("limits.freeze", KELVIN, ends::freeze_k(ions), IONS),
    };
    n.append(metals);
    Ok(bath)
}

const DISSOLVED: &str = "the bath's salt and what is dissolved in it";

/// Every metal of bath or alloy that water lets plate.
fn plating(
    job: &Job,
    stock: &Stock,
    piece: &run::Piece,
    factors: &Factors,
    n: &mut Recorder,
) -> Result<Vec<run::PlatingMetal>, ResolveError> {
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
        let k = Kinetics::of(job, &stock.electrodes.cathode, symbol, |pair| &pair.cathode)?;
        list.push(run::PlatingMetal {
            symbol: symbol.to_string(),
            molar_mass: n.stock(
                format_args!("bath.cathode.{symbol}.molar_mass"),
                KG_PER_MOL,
                element.molar_mass.is.si(),
                &element.molar_mass,
            ),
            law: Plating {
                e0_v: n.stock(format_args!("bath.cathode.{symbol}.e0"), V, k.e0.is.si(), k.e0),
                n: n.stock(format_args!("bath.cathode.{symbol}.n"), NONE, k.n.is.0, k.n),
                i0: n.stock(format_args!("bath.cathode.{symbol}.i0"), A_PER_M2, k.i0.is.si(), k.i0),
                alpha: n.stock(
                    format_args!("bath.cathode.{symbol}.alpha"),
                    NONE,
                    k.alpha.is.0,
                    k.alpha,
                ),
            },
            film: film(
                (&format!("bath.cathode.{symbol}"), &k, factors.pan_transfer),
                b.stock.transfer_of(symbol).map(|row| &row.pan),
                b.stirred,
                n,
            ),
            of_bath: n.worked(
                format_args!("bath.cathode.{symbol}.of_bath"),
                NONE,
                symbol == "Cu" && copper > 0.0,
                "the bath's salt",
            ),
            c0: n.worked(format_args!("bath.cathode.{symbol}.c0"), MOL_PER_M3, c0, DISSOLVED),
            mol_per_coulomb,
        });
    }
    if list.len() > run::METALS {
        return Err(ResolveError::Metals(list.len()));
    }
    Ok(list)
}

/// A film under its keys (`bath.anode`, ...), moved by a factor: where the bath stirs itself
/// `free` says how much, and a stir adds to it; elsewhere the whole of it counts as a stir.
fn film(
    (of, kinetics, factor): (&str, &Kinetics, f64),
    free: Option<&Sourced<Velocity>>,
    stirred: bool,
    n: &mut Recorder,
) -> Film {
    let forced = match (free, stirred) {
        (_, true) => Some(kinetics.stirred),
        (None, false) => Some(kinetics.still),
        (Some(_), false) => None,
    };
    let mut put = |end: &str, number: Option<&Sourced<Velocity>>| {
        let value = number.map_or(0.0, |k| k.is.si() * factor);
        let from = || number.map_or(Origin::Worked("how the bath is kept"), Origin::of);
        n.put(format_args!("{of}.{end}_transfer"), M_PER_S, value, from)
    };
    Film { free: put("free", free), forced: put("forced", forced) }
}

/// A metal's kinetics in this bath, and what is carried of it still and stirred.
struct Kinetics<'s> {
    e0: &'s Sourced<Voltage>,
    n: &'s Sourced<Number>,
    alpha: &'s Sourced<Number>,
    i0: &'s Sourced<CurrentDensity>,
    still: &'s Sourced<Velocity>,
    stirred: &'s Sourced<Velocity>,
}

impl<'s> Kinetics<'s> {
    /// From the usual rows, or from the bath's own numbers of copper where it has such.
    fn of(
        job: &'s Job,
        rows: &'s [AnodeData],
        symbol: &str,
        side: impl Fn(&stock::ElectrodePair) -> &ElectrodeOverride,
    ) -> Result<Self, ResolveError> {
        let row = rows
            .iter()
            .find(|row| row.species == symbol)
            .ok_or_else(|| ResolveError::Electrode(symbol.into()))?;
        let (still, stirred) = (&row.mass_transfer_still, &row.mass_transfer_stirred);
        let own = job.bath.stock.electrode_cu.as_ref().filter(|_| symbol == "Cu").map(side);
        Ok(match own {
            Some(o) => Self { e0: &o.e0, n: &o.n, alpha: &o.alpha, i0: &o.i0, still, stirred },
            None => Self { e0: &row.e0, n: &row.n, alpha: &row.alpha, i0: &row.i0, still, stirred },
        })
    }
}

fn leads(
    job: &Job,
    source: &Source,
    stock: &Stock,
    ambient_k: f64,
    factors: &Factors,
    n: &mut Recorder,
) -> Result<run::Leads, ResolveError> {
    let leads = &job.leads;
    let per_metre = stock
        .leads
        .per_metre(leads.wire.is)
        .ok_or_else(|| ResolveError::Wire(leads.wire_name.clone()))?;
    let clip = leads.clip_resistance.si() * factors.clip_resistance;
    let resistance =
        wire::leads(per_metre, leads.length.si(), ambient_k, f64::from(leads.clips), clip);
    const FROM: &str = "wire, length, clips and the air's warmth";
    let resistance = n.worked("leads.resistance", OHM, resistance, FROM);
    let resistor = match source.resistor().si() {
        0.0 => 0.0,
        ohm => n.job("source.resistor", OHM, ohm),
    };
    Ok(run::Leads { resistance, resistor })
}

/// The source; the limit of its cells' warmth goes among the `limits`.
fn source(
    job: &Job,
    source: &Source,
    factors: &Factors,
    n: &mut Recorder,
    limits: &mut Recorder,
) -> Result<run::Source, ResolveError> {
    const HOT: &str = "limits.cell_temperature";
    let resolved = match source {
        Source::Pack(p) => {
            n.job("source.kind", NONE, "pack");
            let own = &p.cell.max_temperature;
            let asked = job.limits.cell_temperature.map_or(f64::INFINITY, Quantity::si);
            let hot_from = || if asked <= own.is.si() { Origin::Job } else { Origin::of(own) };
            let hot = limits.put(HOT, KELVIN, own.is.si().min(asked), hot_from);
            return Ok(run::Source::Pack(Box::new(pack(p, hot, factors, n)?)));
        }
        Source::Supply(s) => {
            n.job("source.kind", NONE, "supply");
            run::Source::Supply {
                set_v: n.job("source.set", V, s.voltage.si()),
                out_ohm: n.job("source.out", OHM, s.output_resistance.si()),
                limit_a: n.job("source.limit", A, s.current_limit.map(Quantity::si)),
                duty: match source.duty() {
                    1.0 => 1.0,
                    duty => n.job("source.duty", NONE, duty),
                },
            }
        }
        Source::Adapter(a) => {
            n.job("source.kind", NONE, "adapter");
            const LABEL: &str = "its label, where the job gives that";
            run::Source::Adapter {
                open_v: n.job("source.open", V, a.open_voltage.si()),
                series_ohm: n.worked("source.series", OHM, a.series_resistance.si(), LABEL),
                rated_a: n.job("source.rated", A, a.rated_current.map(Quantity::si)),
            }
        }
    };
    limits.job(HOT, KELVIN, None::<f64>);
    Ok(resolved)
}

fn pack(
    p: &source::Pack,
    temperature_limit_k: f64,
    factors: &Factors,
    n: &mut Recorder,
) -> Result<run::Pack, ResolveError> {
    let contact = p.contact.is.si() * factors.contact_resistance;
    let (exposed, convection) = (&p.holder.exposed_share, &p.holder.convection_factor);
    let cooled = convection.is.0 * factors.cooling;
    Ok(run::Pack {
        series: n.job("source.series", NONE, f64::from(p.series.is)),
        parallel: n.job("source.parallel", NONE, f64::from(p.parallel)),
        charge_left: n.job("source.charge_left", NONE, p.charge_left.si()),
        contact_ohm: n.stock("source.contact", OHM, contact, &p.contact),
        exposed_share: n.stock("source.exposed_share", NONE, exposed.is.si(), exposed),
        convection_factor: n.stock("source.convection_factor", NONE, cooled, convection),
        temperature_limit_k,
        cell: cell(&p.cell, factors, n)?,
    })
}

/// A cell of stock in the numbers of a run.
///
/// # Errors
/// When one of its curves is none.
pub fn cell(
    c: &stock::Cell,
    factors: &Factors,
    n: &mut Recorder,
) -> Result<run::Cell, ResolveError> {
    let curve = |pairs: &stock::Pairs, what| {
        let cell = c.name.clone();
        Curve::new(pairs.0.clone()).map_err(|why| ResolveError::Curve { what, cell, why })
    };
    let ocv = curve(&c.ocv_curve_v.is, "rest voltage curve")?;
    let r0_curve = curve(&c.r0_curve_factor.is, "resistance curve")?;
    let capacity = c.capacity.is.si() * factors.capacity;
    let r0 = c.r0.is.si() * factors.cell_resistance;
    let r1 = c.r1.is.si() * factors.cell_resistance;
    let c1 = c.c1.is.si() / factors.cell_resistance;
    let heat = c.mass.is.si() * c.specific_heat.is.si();
    let (core, surface) = (body::CORE_SHARE * heat, (1.0 - body::CORE_SHARE) * heat);
    let across = body::core_to_surface(c.radial_conductivity.is.si(), c.length.is.si());
    let area = body::surface_area(c.diameter.is.si(), c.length.is.si());
    const HEAT: &str = "mass and specific heat";
    const ACROSS: &str = "size and conductivity across the cell";
    const KIND: &str = "the kind of cell";
    let share = &c.available_share;
    Ok(run::Cell {
        wells: Wells {
            capacity: n.stock("source.cell.capacity", C, capacity, &c.capacity),
            available_share: n.stock("source.cell.available_share", NONE, share.is.0, share),
            rate: n.stock("source.cell.well_rate", PER_S, c.well_rate.is.si(), &c.well_rate),
        },
        r0_ohm: n.stock("source.cell.r0", OHM, r0, &c.r0),
        r0_temp_k: n.stock("source.cell.r0_temp", K, c.r0_temperature.is.si(), &c.r0_temperature),
        r0_curve: {
            n.stock("source.cell.r0_curve", NONE, r0_curve.points(), &c.r0_curve_factor);
            r0_curve
        },
        r1_ohm: n.stock("source.cell.r1", OHM, r1, &c.r1),
        c1_f: n.stock("source.cell.c1", F, c1, &c.c1),
        ocv: {
            n.stock("source.cell.ocv_curve", NONE, ocv.points(), &c.ocv_curve_v);
            ocv
        },
        cutoff_v: n.stock("source.cell.cutoff", V, c.cutoff.is.si(), &c.cutoff),
        cutoff_on: n.worked("source.cell.cutoff_on", NONE, c.cutoff_on, KIND),
        entropy: n.stock("source.cell.entropy", V_PER_K, c.entropy.is.si(), &c.entropy),
        core_j_per_k: n.worked("source.cell.core", J_PER_K, core, HEAT),
        surface_j_per_k: n.worked("source.cell.surface", J_PER_K, surface, HEAT),
        core_to_surface: n.worked("source.cell.core_to_surface", K_PER_W, across, ACROSS),
        surface_m2: n.worked("source.cell.surface", M2, area, "diameter and length"),
        emissivity: n.stock("source.cell.emissivity", NONE, c.emissivity.is.0, &c.emissivity),
        diameter: n.stock("source.cell.diameter", M, c.diameter.is.si(), &c.diameter),
    })
}
