//! `[bath]`: what is in the pan, how much, how far from the sheet.

use crate::reader::{At, Reader};
use crate::reader::{quoted, short};
use crate::stock::{self, Named, Stock, weighed};
use crate::units::say::figures;
use crate::units::{
    Conductivity, HeatCapacity, Length, MassConcentration, MolarConcentration, Outline, Quantity,
    Temperature, ThermalConductance, Volume, parse, parse_outline,
};

/// Heat capacity of a bath by volume, J/(K m3): dilute salt water.
pub const BATH_J_PER_K_M3: f64 = 4.0e6;
/// Heat loss of a bath's open surface, evaporation in it, W/(m2 K).
pub const BATH_LOSS_W_PER_K_M2: f64 = 20.0;

/// The bath.
#[derive(Debug, Clone)]
pub struct Bath {
    /// What stock knows of the electrolyte.
    pub stock: stock::Bath,
    /// Concentration of its salt.
    pub concentration: At<MolarConcentration>,
    /// Crystal water of the form in which the salt is weighed, where the job names one.
    pub salt_water: Option<f64>,
    /// The user's own reading of the conductivity, and the temperature it was taken at.
    pub reading: Option<(Conductivity, Temperature)>,
    /// Volume.
    pub volume: At<Volume>,
    /// Whether the job gives none, and what covers the sheet by 10 mm is taken.
    pub volume_assumed: bool,
    /// Inside of the pan's bottom.
    pub pan: At<Outline>,
    /// Whether the pan is of copper.
    pub pan_is_copper: bool,
    /// How the sheet hangs.
    pub hung: Hung,
    /// From the sheet's face to the pan, or to the plate that it faces.
    pub gap: At<Length>,
    /// Temperature at the start.
    pub temperature: Temperature,
    /// Whether it is stirred.
    pub stirred: bool,
    /// Silver already in it.
    pub dissolved_silver: MassConcentration,
    /// pH, where the user measured it.
    pub ph: Option<f64>,
    /// Heat capacity, where the user knows better.
    pub heat_capacity: Option<HeatCapacity>,
    /// Heat loss, where the user knows better.
    pub heat_loss: Option<ThermalConductance>,
}

/// How the sheet hangs.
#[derive(Debug, Clone, PartialEq)]
pub enum Hung {
    /// Face down over the pan.
    FaceDown,
    /// Upright before one plate, or between two, both of its faces bare.
    Upright {
        /// A plate, the part of it in the bath.
        plate: At<Outline>,
        /// One or two.
        plates: u32,
    },
}

impl Hung {
    /// Bare faces of a sheet.
    pub fn faces(&self) -> u32 {
        match self {
            Self::FaceDown => 1,
            Self::Upright { plates, .. } => *plates,
        }
    }
}

impl Bath {
    /// Depth of the bath in the pan, m.
    pub fn depth_m(&self) -> f64 {
        self.volume.is.si() / self.pan.is.area_m2()
    }

    /// Acid that goes with it, pure, kg; none for a bath without.
    pub fn acid_kg(&self) -> Option<f64> {
        let (acid, molar) = (&self.stock.acid_concentration, &self.stock.acid_molar_mass);
        let (acid, molar) = (acid.as_ref()?, molar.as_ref()?);
        Some(acid.is.si() * self.volume.is.si() * molar.is.si())
    }

    /// Area of the pan that the bath wets, bottom and sides, or of the plates, their fronts, m2.
    pub fn wetted_m2(&self) -> f64 {
        if let Hung::Upright { plate, plates } = &self.hung {
            return f64::from(*plates) * plate.is.area_m2();
        }
        let around = match self.pan.is {
            Outline::Rectangle(a, b) => 2.0 * (a.si() + b.si()),
            Outline::Disc(d) => std::f64::consts::PI * d.si(),
            Outline::Area(area) => 4.0 * area.si().sqrt(),
        };
        self.pan.is.area_m2() + around * self.depth_m()
    }
}

/// Least gap between sheet and pan.
pub const LEAST_GAP: &str = "0.5 mm";

/// The same, m.
pub fn least_gap_m() -> f64 {
    parse::<Length>(LEAST_GAP).map_or(0.0, Quantity::si)
}

/// Bath over the sheet where the job gives no volume, m.
const COVERS_M: f64 = 10e-3;

/// The volume that covers a sheet this thick (m) in this pan, where the job gives none.
fn covering(r: &Reader, pan: &Outline, gap: Length, thickness: f64) -> At<Volume> {
    let deep = gap.si() + thickness + COVERS_M;
    let is = Volume::from_si(pan.area_m2() * deep);
    At { is, place: r.place.clone(), key: "bath.volume".into() }
}

/// `thickness` is the sheet's, m, where it could be read.
pub fn read(
    mut r: Reader,
    stock: &Stock,
    room: Temperature,
    thickness: Option<f64>,
) -> Option<Bath> {
    let kind = electrolyte(&mut r, stock);
    let concentration = concentration(&mut r, kind);
    let temperature = r.quantity::<Temperature>("temperature", "0 degC", "95 degC");
    let temperature = temperature.map_or(room, |t| t.is);
    let conductivity = r.quantity::<Conductivity>("conductivity", "0.1 mS/cm", "2 S/cm");
    let at = r.quantity::<Temperature>("conductivity_at", "0 degC", "95 degC");
    if at.is_some() && !r.has("conductivity") {
        r.complain("conductivity_at", "given without conductivity; allowed: only beside it");
    }
    let volume = r.quantity::<Volume>("volume", "5 mL", "200 L");
    let pan = pan(&mut r);
    let pan_is_copper = pan_metal(&mut r);
    let gap = r.quantity::<Length>("gap", LEAST_GAP, "1 m");
    r.require("gap", "from the sheet's face to the pan, such as \"12 mm\"");
    let hung = hung(&mut r);
    let upright = matches!(hung, Some(Hung::Upright { .. }));
    if upright && !r.has("volume") {
        r.missing("volume", "how much bath there is: for a sheet hung upright it is not guessed");
    }
    let volume_assumed = !r.has("volume") && !upright;
    let assumed = || Some(covering(&r, &pan.as_ref()?.is, gap.as_ref()?.is, thickness?));
    let volume = if volume_assumed { assumed() } else { volume };
    let stirred = r.flag("stirred").is_some_and(|f| f.is);
    let silver = r.quantity::<MassConcentration>("dissolved_silver", "0 g/L", "500 g/L");
    let ph = r.number("ph", -1.0, 14.0).map(|x| x.is);
    let heat_capacity = r.quantity::<HeatCapacity>("heat_capacity", "1 J/K", "1000 kJ/K");
    let heat_loss = r.quantity::<ThermalConductance>("heat_loss", "0 W/K", "1000 W/K");
    let heat = (heat_capacity.as_ref().map(|x| x.is), heat_loss.as_ref().map(|x| x.is));
    if let (Some(volume), Some(pan)) = (&volume, &pan) {
        heat_holds_together(&r, volume.is.si(), pan.is.area_m2(), heat);
    }
    r.finish();
    Some(Bath {
        stock: kind?.clone(),
        concentration: concentration.clone()?.0,
        salt_water: concentration?.1,
        reading: conductivity.map(|c| (c.is, at.map_or(temperature, |t| t.is))),
        volume: volume?,
        volume_assumed,
        pan: pan?,
        pan_is_copper,
        hung: hung?,
        gap: gap?,
        temperature,
        stirred,
        dissolved_silver: silver.map_or(MassConcentration(0.0), |s| s.is),
        ph,
        heat_capacity: heat_capacity.map(|x| x.is),
        heat_loss: heat_loss.map(|x| x.is),
    })
}

/// Least heat capacity of a bath by its volume, J/(K m3): under strong brine's 3.3 J/(K mL)
/// (from memory) by a third, for a reading that is rough.
const LEAST_HEAT: f64 = 2.0e6;
/// Least time constant of the bath's heat, s. A bath a millimetre deep has some minutes.
const LEAST_COOLING_S: f64 = 10.0;

/// A heat capacity too small for the volume, or a heat loss too large for it, is a slip of the
/// unit; a run would follow a bath that boils in a moment, in steps of milliseconds.
fn heat_holds_together(
    r: &Reader,
    volume: f64,
    open: f64,
    (capacity, loss): (Option<HeatCapacity>, Option<ThermalConductance>),
) {
    let least = LEAST_HEAT * volume;
    if let Some(found) = capacity.map(Quantity::si).filter(|c| *c < least) {
        let (found, least) = (figures(found, 3), (least * 10.0).ceil() / 10.0);
        let text = format!(
            "found {found} J/K; allowed for this volume: at least {} J/K (water takes 4.2 J/K a \
             millilitre)",
            figures(least, 4)
        );
        r.complain("heat_capacity", text);
        return;
    }
    let c = capacity.map_or(BATH_J_PER_K_M3 * volume, Quantity::si);
    let g = loss.map_or(BATH_LOSS_W_PER_K_M2 * open, Quantity::si);
    if c < LEAST_COOLING_S * g {
        let key = if loss.is_some() { "heat_loss" } else { "heat_capacity" };
        let most = figures((c / LEAST_COOLING_S * 1e3).floor() / 1e3, 4);
        let text = format!(
            "a heat loss of {} W/K cools a bath of {} J/K within seconds; allowed for this bath: \
             at most {most} W/K",
            figures(g, 3),
            figures(c, 3)
        );
        r.complain(key, text);
    }
}

fn electrolyte<'s>(r: &mut Reader, stock: &'s Stock) -> Option<&'s stock::Bath> {
    let allowed = quoted(stock.baths.iter().map(Named::name));
    r.require("electrolyte", &format!("one of {allowed}"));
    r.named("electrolyte", &stock.baths, &allowed)
}

/// The concentration, and the crystal water of the salt where its form is named.
fn concentration(
    r: &mut Reader,
    kind: Option<&stock::Bath>,
) -> Option<(At<MolarConcentration>, Option<f64>)> {
    r.require("concentration", "the salt's concentration, such as \"0.5 mol/L\"");
    let end = |q: MolarConcentration| format!("{} mol/L", q.si() / 1000.0);
    match kind {
        Some(bath) => {
            let got = r.written("concentration", &weighed::allowed(bath), |text| {
                weighed::parse(text, bath)
            })?;
            let (low, high) = (bath.concentration_min.is, bath.concentration_max.is);
            let At { is, place, key } = got;
            let c = At { is: is.is, place, key };
            let c = r.within("concentration", c, &end(low), &end(high), |c| c)?;
            Some((c, is.form))
        }
        None => Some((r.quantity("concentration", "0.01 mol/L", "10 mol/L")?, None)),
    }
}

/// How the sheet hangs.
fn hung(r: &mut Reader) -> Option<Hung> {
    const WAYS: [&str; 2] = ["face down", "upright"];
    const PLATE: &str = "the part of a plate that is in the bath, such as \"80 mm x 40 mm\"";
    let allowed = quoted(WAYS.into_iter());
    let way = r.text("hung", &allowed).map(|text| text.is.trim().to_lowercase());
    let plates = r.whole("plates", 1, 2);
    let plate = r.written("plate", PLATE, parse_outline);
    match way.as_deref() {
        None | Some("face down") => {
            for key in ["plates", "plate"].into_iter().filter(|key| r.has(key)) {
                r.complain(key, "belongs to hung = \"upright\"");
            }
            (!r.has("hung") || way.is_some()).then_some(Hung::FaceDown)
        }
        Some("upright") => {
            r.require("plate", PLATE);
            let plate = plate?;
            let plate = match plate.is {
                Outline::Rectangle(a, b) => {
                    r.within("plate", plate.clone(), "5 mm", "2 m", |_| a)?;
                    r.within("plate", plate, "5 mm", "2 m", |_| b)?
                }
                Outline::Disc(d) => r.within("plate", plate, "5 mm", "2 m", |_| d)?,
                Outline::Area(_) => plate,
            };
            Some(Hung::Upright { plate, plates: plates.map_or(1, |n| n.is) })
        }
        Some(other) => {
            r.complain("hung", format!("found \"{}\"; allowed: {allowed}", short(other)));
            None
        }
    }
}

/// What the pan is made of; only copper takes silver by itself.
fn pan_metal(r: &mut Reader) -> bool {
    const METALS: [&str; 3] = ["stainless steel", "copper", "silver"];
    let allowed = quoted(METALS.into_iter());
    let Some(text) = r.text("pan_metal", &allowed) else {
        return false;
    };
    let found = text.is.trim().to_lowercase();
    if !METALS.contains(&found.as_str()) {
        r.complain("pan_metal", format!("found \"{}\"; allowed: {allowed}", short(&text.is)));
    }
    found == "copper"
}

fn pan(r: &mut Reader) -> Option<At<Outline>> {
    const ALLOWED: &str = "the pan's inside such as \"150 mm x 100 mm\" or \"160 mm round\"";
    r.require("pan", ALLOWED);
    let at = r.written("pan", ALLOWED, parse_outline)?;
    match at.is {
        Outline::Rectangle(a, b) => {
            r.within("pan", at.clone(), "10 mm", "5 m", |_| a)?;
            r.within("pan", at, "10 mm", "5 m", |_| b)
        }
        Outline::Disc(d) => r.within("pan", at, "10 mm", "5 m", |_| d),
        Outline::Area(_) => Some(at),
    }
}
