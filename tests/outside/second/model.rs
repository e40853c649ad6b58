//! The numbers of a run, read from the `resolved` map under the keys of the model.

use serde_json::{Map, Value};

pub const F: f64 = 96_485.332_12;
pub const R: f64 = 8.314_462_618;
pub const SIGMA: f64 = 5.670_374_419e-8;
pub const G: f64 = 9.806_65;

/// A metal in the bath: what it takes to plate, and how fast the piece brings it in.
pub struct Metal {
    pub symbol: String,
    pub e0: f64,
    pub n: f64,
    pub i0: f64,
    pub alpha: f64,
    /// Free and forced transfer coefficients.
    pub free: f64,
    pub forced: f64,
    /// The bath's own, or the piece's alone.
    pub of_bath: bool,
    pub c0: f64,
    /// x/v: moles for each mole of electrons through the piece.
    pub moles: f64,
}

pub enum Source {
    Pack(Box<Pack>),
    Supply { set: f64, out: f64, limit: f64 },
    Adapter { open: f64, series: f64 },
}

pub struct Pack {
    pub series: f64,
    pub parallel: f64,
    pub left: f64,
    pub contact: f64,
    pub open_share: f64,
    pub air_factor: f64,
    pub capacity: f64,
    pub share: f64,
    pub rate: f64,
    pub r0: f64,
    pub r0_b: f64,
    pub r0_curve: Vec<(f64, f64)>,
    pub r1: f64,
    pub c1: f64,
    pub u_curve: Vec<(f64, f64)>,
    pub entropy: f64,
    pub core: f64,
    pub skin: f64,
    pub between: f64,
    pub area: f64,
    pub emissivity: f64,
    pub diameter: f64,
}

pub struct Model {
    pub metals: Vec<Metal>,
    /// Which of them the piece's main metal is.
    pub main: usize,
    pub anode: Metal,
    pub bare: f64,
    /// Charge share of the main metal.
    pub main_share: f64,
    pub efficiency: f64,
    /// Depth for each coulomb, m.
    pub depth_per_c: f64,
    /// Depth that the charge must be worth for the floor to be at its target.
    pub depth: f64,
    /// What it is worth at the start.
    pub begun: f64,
    /// Areas of the pan for the bath's own and for the piece's.
    pub core: f64,
    pub spread: f64,
    /// Loads between which silver turns loose.
    pub loose: (f64, f64),
    /// Silver falling on copper at 1 mol/m3, m/s.
    pub falls: f64,
    pub warmer: f64,
    pub volume: f64,
    pub reach: f64,
    pub kappa25: f64,
    pub beta: f64,
    pub shape: f64,
    pub ph: f64,
    pub h2_i0: f64,
    pub h2_alpha: f64,
    pub heat_capacity: f64,
    pub heat_loss: f64,
    pub bath_k: f64,
    pub ambient: f64,
    pub leads: f64,
    pub source: Source,
}

pub struct Numbers<'a>(pub &'a Map<String, Value>);

impl Numbers<'_> {
    pub fn get(&self, key: &str) -> f64 {
        self.0[key].as_f64().unwrap_or_else(|| panic!("{key} is no number"))
    }

    fn curve(&self, key: &str) -> Vec<(f64, f64)> {
        serde_json::from_value(self.0[key].clone()).expect("pairs")
    }

    /// The middle part of every key with this beginning and end.
    fn middles(&self, start: &str, end: &str) -> Vec<String> {
        let keys = self.0.keys().filter_map(|k| k.strip_prefix(start)?.strip_suffix(end));
        keys.map(str::to_string).collect()
    }
}

impl Model {
    pub fn new(map: &Map<String, Value>) -> Self {
        let n = Numbers(map);
        let elements = n.middles("piece.mass_share.", "");
        let equivalents = |e: &String| {
            n.get(&format!("piece.mass_share.{e}")) * n.get(&format!("piece.valence.{e}"))
                / n.get(&format!("piece.molar_mass_kg_per_mol.{e}"))
        };
        let weight = 1.0 / elements.iter().map(equivalents).sum::<f64>();
        let metals: Vec<Metal> = n
            .middles("bath.cathode.", ".c0_mol_per_m3")
            .into_iter()
            .map(|symbol| {
                let of_piece = elements.contains(&symbol);
                let moles = if of_piece {
                    weight * equivalents(&symbol) / n.get(&format!("piece.valence.{symbol}"))
                } else {
                    0.0
                };
                metal(&n, &format!("bath.cathode.{symbol}"), symbol, moles)
            })
            .collect();
        let species = map["bath.anode.species"].as_str().expect("a symbol").to_string();
        let main = metals.iter().position(|m| m.symbol == species).expect("it plates");
        let (bare, efficiency) =
            (n.get("piece.exposed_area_m2"), n.get("piece.current_efficiency"));
        // A quarter round under each edge takes its share.
        let round = std::f64::consts::FRAC_PI_4 * n.get("piece.edge_per_m");
        let worth = |d: f64| d + round / n.get("piece.etch_factor") * d * d;
        Self {
            anode: metal(&n, "bath.anode", species.clone(), 0.0),
            metals,
            main,
            bare,
            efficiency,
            depth_per_c: efficiency * weight / (F * n.get("piece.density_kg_per_m3") * bare),
            main_share: weight * equivalents(&species),
            depth: worth(n.get("piece.depth_m")),
            begun: map.get("piece.begun_m").and_then(Value::as_f64).map_or(0.0, worth),
            core: n.get("bath.cathode.core_area_m2"),
            spread: n.get("bath.cathode.spread_area_m2"),
            loose: (n.get("bath.cathode.loose_from"), n.get("bath.cathode.loose_all")),
            falls: n.get("bath.rest_transfer_m_per_s"),
            warmer: n.get("bath.transfer_beta_per_k"),
            volume: n.get("bath.volume_m3"),
            reach: n.get("bath.reach_m3"),
            kappa25: n.get("bath.kappa25_s_per_m"),
            beta: n.get("bath.kappa_beta_per_k"),
            shape: n.get("bath.shape_factor_per_m"),
            ph: n.get("bath.ph"),
            h2_i0: n.get("bath.cathode.H2.i0_a_per_m2"),
            h2_alpha: n.get("bath.cathode.H2.alpha"),
            heat_capacity: n.get("bath.heat_capacity_j_per_k"),
            heat_loss: n.get("bath.heat_loss_w_per_k"),
            bath_k: n.get("bath.temperature_k"),
            ambient: n.get("ambient_k"),
            leads: n.get("leads.resistance_ohm"),
            source: source(&n),
        }
    }

    pub fn pack(&self) -> Option<&Pack> {
        match &self.source {
            Source::Pack(p) => Some(p),
            _ => None,
        }
    }
}

fn metal(n: &Numbers, at: &str, symbol: String, moles: f64) -> Metal {
    let get = |key: &str| n.get(&format!("{at}.{key}"));
    Metal {
        symbol,
        e0: get("e0_v"),
        n: get("n"),
        i0: get("i0_a_per_m2"),
        alpha: get("alpha"),
        free: get("free_transfer_m_per_s"),
        forced: get("forced_transfer_m_per_s"),
        of_bath: n.0.get(&format!("{at}.of_bath")) == Some(&Value::Bool(true)),
        c0: get("c0_mol_per_m3"),
        moles,
    }
}

fn source(n: &Numbers) -> Source {
    let get = |key: &str| n.get(&format!("source.{key}"));
    match n.0["source.kind"].as_str().expect("a kind") {
        "supply" => Source::Supply {
            set: get("set_v"),
            out: get("out_ohm"),
            limit: n.0["source.limit_a"].as_f64().unwrap_or(f64::INFINITY),
        },
        "adapter" => Source::Adapter { open: get("open_v"), series: get("series_ohm") },
        _ => Source::Pack(Box::new(Pack {
            series: get("series"),
            parallel: get("parallel"),
            left: get("charge_left"),
            contact: get("contact_ohm"),
            open_share: get("exposed_share"),
            air_factor: get("convection_factor"),
            capacity: get("cell.capacity_c"),
            share: get("cell.available_share"),
            rate: get("cell.well_rate_per_s"),
            r0: get("cell.r0_ohm"),
            r0_b: get("cell.r0_temp_k"),
            r0_curve: n.curve("source.cell.r0_curve"),
            r1: get("cell.r1_ohm"),
            c1: get("cell.c1_f"),
            u_curve: n.curve("source.cell.ocv_curve"),
            entropy: get("cell.entropy_v_per_k"),
            core: get("cell.core_j_per_k"),
            skin: get("cell.surface_j_per_k"),
            between: get("cell.core_to_surface_k_per_w"),
            area: get("cell.surface_m2"),
            emissivity: get("cell.emissivity"),
            diameter: get("cell.diameter_m"),
        })),
    }
}
