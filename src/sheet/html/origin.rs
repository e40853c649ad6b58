//! Where each number of the resolved map is from: the stock with its source, the job, or
//! worked out from others.

use crate::advice::Case;
use crate::job::{Pack, Source};
use crate::stock::{AnodeData, Certainty, OF_THE_JOB, Sourced, Stock};

/// Where one number is from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// The job says so, or its default does.
    Job,
    /// Worked out from other numbers, and from which.
    Worked(&'static str),
    /// The stock: its source there, how sure.
    Stock(String, Certainty),
}

impl Origin {
    fn of<T>(number: &Sourced<T>) -> Self {
        match number.certainty {
            Certainty::Own if number.source == OF_THE_JOB => Self::Job,
            sure => Self::Stock(number.source.clone(), sure),
        }
    }

    /// In words.
    pub fn words(&self) -> String {
        match self {
            Self::Job => "your job, or its default".into(),
            Self::Worked(from) => format!("worked out from {from}"),
            Self::Stock(source, sure) => format!("{} ({})", source.trim(), certainty(*sure)),
        }
    }
}

/// How sure, in a word.
fn certainty(sure: Certainty) -> &'static str {
    match sure {
        Certainty::Read => "read",
        Certainty::Computed => "computed",
        Certainty::Memory => "recalled",
        Certainty::Judgement => "judged",
        Certainty::Own => "your own",
    }
}

/// Where the number under a key of the resolved map is from.
pub fn origin(key: &str, case: &Case, stock: &Stock) -> Origin {
    let (group, rest) = key.split_once('.').unwrap_or(("", key));
    match group {
        "piece" => piece(rest, case, stock),
        "bath" => bath(rest, case, stock),
        "source" => match &case.source {
            Source::Pack(pack) => self::pack(rest, pack),
            Source::Adapter(_) if rest == "series_ohm" => {
                Origin::Worked("its label, where the job gives that")
            }
            _ => Origin::Job,
        },
        "leads" => Origin::Worked("wire, length, clips and the air's warmth"),
        "limits" if rest == "cell_temperature_k" => match &case.source {
            Source::Pack(p) if case.job.limits.cell_temperature.is_none() => {
                Origin::of(&p.cell.max_temperature)
            }
            _ => Origin::Job,
        },
        _ => Origin::Job,
    }
}

fn piece(rest: &str, case: &Case, stock: &Stock) -> Origin {
    let alloy = &case.job.piece.alloy;
    let metal = stock.metals.iter().find(|m| m.title == alloy.title);
    let (what, symbol) = rest.split_once('.').unwrap_or((rest, ""));
    let symbol = symbol.strip_suffix("_kg_per_mol").unwrap_or(symbol);
    let part = metal.and_then(|m| m.parts.iter().find(|p| p.element == symbol));
    let element = stock.element(symbol);
    match what {
        "mass_share" => part.map_or(Origin::Job, |p| Origin::of(&p.share)),
        "molar_mass_kg_per_mol" => element.map_or(Origin::Job, |e| Origin::of(&e.molar_mass)),
        "valence" => valence(symbol, case, stock),
        "charge_share" | "equivalent_weight_kg_per_mol" => {
            Origin::Worked("mass shares, molar masses and valences (ASTM G102)")
        }
        "density_kg_per_m3" => metal.map_or(Origin::Job, |m| Origin::of(&m.density)),
        "exposed_area_m2" => Origin::Worked("outline, bare share and count"),
        _ => Origin::Job,
    }
}

fn valence(symbol: &str, case: &Case, stock: &Stock) -> Origin {
    let own = case.job.piece.alloy.parts.iter().find(|p| p.element == symbol);
    if own.is_some_and(|p| p.valence.is_some()) {
        return Origin::Job;
    }
    match (&case.job.bath.stock.valence_cu, stock.element(symbol)) {
        (Some(copper), _) if symbol == "Cu" => Origin::of(copper),
        (_, Some(element)) => Origin::of(&element.valence),
        _ => Origin::Job,
    }
}

fn bath(rest: &str, case: &Case, stock: &Stock) -> Origin {
    let b = &case.job.bath;
    match rest {
        "kappa25_s_per_m" if b.reading.is_some() => Origin::Worked("your reading"),
        "kappa25_s_per_m" => {
            let (source, sure) = b.stock.curve.source();
            Origin::Stock(source.into(), sure)
        }
        "kappa_beta_per_k" => Origin::of(&b.stock.beta),
        "shape_factor_per_m" => Origin::Worked("outline, gap, bare share and pitch of the lines"),
        "ph" if b.ph.is_none() => Origin::of(&b.stock.ph),
        "cathode_area_m2" => Origin::Worked("pan and volume"),
        "heat_capacity_j_per_k" if b.heat_capacity.is_none() => Origin::Worked("the volume"),
        "heat_loss_w_per_k" if b.heat_loss.is_none() => Origin::Worked("the open surface"),
        "cathode.H2.i0_a_per_m2" => Origin::of(&stock.electrodes.hydrogen.i0),
        "cathode.H2.alpha" => Origin::of(&stock.electrodes.hydrogen.alpha),
        _ => match rest.split('.').collect::<Vec<_>>()[..] {
            ["anode", what] => electrode(what, &case.job.piece.alloy.main, true, case, stock),
            ["cathode", symbol, what] => electrode(what, symbol, false, case, stock),
            _ => Origin::Job,
        },
    }
}

/// A number of one electrode, from the bath's own kinetics of copper where it has such.
fn electrode(what: &str, symbol: &str, anode: bool, case: &Case, stock: &Stock) -> Origin {
    let b = &case.job.bath;
    if what == "species" {
        return Origin::Worked("the alloy's main metal");
    }
    if what == "c0_mol_per_m3" {
        return Origin::Worked("the bath's salt and what is dissolved in it");
    }
    let rows: &[AnodeData] =
        if anode { &stock.electrodes.anode } else { &stock.electrodes.cathode };
    let Some(row) = rows.iter().find(|row| row.species == symbol) else {
        return Origin::Job;
    };
    let pair = b.stock.electrode_cu.as_ref().filter(|_| symbol == "Cu");
    let own = pair.map(|pair| if anode { &pair.anode } else { &pair.cathode });
    match (what, own) {
        ("e0_v", Some(own)) => Origin::of(&own.e0),
        ("n", Some(own)) => Origin::of(&own.n),
        ("alpha", Some(own)) => Origin::of(&own.alpha),
        ("i0_a_per_m2", Some(own)) => Origin::of(&own.i0),
        ("e0_v", None) => Origin::of(&row.e0),
        ("n", None) => Origin::of(&row.n),
        ("alpha", None) => Origin::of(&row.alpha),
        ("i0_a_per_m2", None) => Origin::of(&row.i0),
        _ if b.stirred => Origin::of(&row.mass_transfer_stirred),
        _ => Origin::of(&row.mass_transfer_still),
    }
}

fn pack(rest: &str, pack: &Pack) -> Origin {
    let (c, holder) = (&pack.cell, &pack.holder);
    match rest {
        "contact_ohm" if pack.contact == holder.contact.is => Origin::of(&holder.contact),
        "exposed_share" => Origin::of(&holder.exposed_share),
        "convection_factor" => Origin::of(&holder.convection_factor),
        "cell.capacity_c" => Origin::of(&c.capacity),
        "cell.available_share" => Origin::of(&c.available_share),
        "cell.well_rate_per_s" => Origin::of(&c.well_rate),
        "cell.r0_ohm" => Origin::of(&c.r0),
        "cell.r0_temp_k" => Origin::of(&c.r0_temperature),
        "cell.r0_curve" => Origin::of(&c.r0_curve_factor),
        "cell.r1_ohm" => Origin::of(&c.r1),
        "cell.c1_f" => Origin::of(&c.c1),
        "cell.ocv_curve" => Origin::of(&c.ocv_curve_v),
        "cell.cutoff_v" => Origin::of(&c.cutoff),
        "cell.entropy_v_per_k" => Origin::of(&c.entropy),
        "cell.emissivity" => Origin::of(&c.emissivity),
        "cell.diameter_m" => Origin::of(&c.diameter),
        "cell.core_j_per_k" | "cell.surface_j_per_k" => Origin::Worked("mass and specific heat"),
        "cell.core_to_surface_k_per_w" => Origin::Worked("size and conductivity across the cell"),
        "cell.surface_m2" => Origin::Worked("diameter and length"),
        "cell.cutoff_on" => Origin::Worked("the kind of cell"),
        _ => Origin::Job,
    }
}
