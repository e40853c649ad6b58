//! The short tables: `[leads]`, `[room]`, `[limits]`, `[size]`, `[spread]`.

use crate::reader::{At, Reader, quoted, short};
use crate::stock::{Named, Stock};
use crate::units::{
    CurrentDensity, Length, Misread, Quantity, Resistance, Share, Temperature, Time, Wire,
    parse_wire,
};

/// The leads.
#[derive(Debug, Clone)]
pub struct LeadSet {
    /// The wire.
    pub wire: At<Wire>,
    /// How the user wrote it.
    pub wire_name: String,
    /// One way.
    pub length: Length,
    /// Clips in all.
    pub clips: u32,
    /// Resistance of one.
    pub clip_resistance: Resistance,
    /// Whether the job has none, and the usual ones are taken.
    pub assumed: bool,
}

/// Limits, where the user set any.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Longest run.
    pub time: Time,
    /// Whether the user asked for that time; otherwise it is the usual one.
    pub time_asked: bool,
    /// Highest current density.
    pub current_density: Option<CurrentDensity>,
    /// Hottest spot of a cell.
    pub cell_temperature: Option<Temperature>,
    /// Hottest surface that one touches.
    pub touch_temperature: Option<Temperature>,
    /// Most cells, for sizing.
    pub cells: Option<u32>,
    /// Pieces that a charge must give, for sizing.
    pub pieces_per_charge: Option<u32>,
}

/// How a session goes on from piece to piece.
#[derive(Debug, Clone, Copy)]
pub struct SessionSet {
    /// Time at the bench between two pieces.
    pub bench_time: Time,
    /// Whether each piece gets a fresh bath.
    pub fresh_bath: bool,
    /// Price of a gram of silver, in whatever the user counts in.
    pub silver_price: Option<f64>,
}

/// One standard deviation of each input, as a share of the value.
#[derive(Debug, Clone, PartialEq)]
pub struct Spreads(pub Vec<Spread>);

/// How uncertain one input is.
#[derive(Debug, Clone, PartialEq)]
pub struct Spread {
    /// Key.
    pub key: String,
    /// In plain words.
    pub title: String,
    /// One standard deviation as a share.
    pub sd: f64,
    /// Whether a bench can measure it.
    pub measurable: bool,
    /// Whether the job itself says so; what a workshop profile has learned then yields.
    pub own: bool,
}

/// Longest run unless the job says, 4 h.
pub const DEFAULT_TIME_S: f64 = 4.0 * 3600.0;
/// Air and bath where the job says nothing, K.
pub const ROOM_K: f64 = 293.15;

pub fn room(r: &mut Reader) -> Temperature {
    let default = Temperature::from_si(ROOM_K);
    let Some(mut sub) = r.sub("room") else {
        return default;
    };
    let t = sub.quantity::<Temperature>("temperature", "-20 degC", "60 degC");
    sub.finish();
    t.map_or(default, |t| t.is)
}

/// Leads where a job has none: AWG 20, 45 cm each way, two clips.
pub fn leads_assumed(r: &Reader, stock: &Stock) -> Option<LeadSet> {
    if r.has("leads") {
        return None; // there, and no table: told already
    }
    let wire = Wire::Awg(20);
    stock.leads.per_metre(wire)?;
    Some(LeadSet {
        wire: At { is: wire, place: r.place.clone(), key: "leads.wire".into() },
        wire_name: "AWG 20".into(),
        length: Length::from_si(0.45),
        clips: DEFAULT_CLIPS,
        clip_resistance: stock.leads.clip.resistance.is,
        assumed: true,
    })
}

/// Clips where a job says nothing.
const DEFAULT_CLIPS: u32 = 2;

pub fn leads(mut r: Reader, stock: &Stock) -> Option<LeadSet> {
    let in_stock = stock.leads.in_stock();
    let allowed = format!("a wire in stock: {in_stock}");
    r.require("wire", &allowed);
    r.require("length", "the length of one lead, such as \"45 cm\"");
    let name = r.text("wire", &allowed).map(|t| short(t.is.trim()));
    let in_stock = |text: &str| {
        let elsewise = |found: String| Misread { found, allowed: allowed.clone() };
        let wire = parse_wire(text).map_err(|e| elsewise(e.found))?;
        let there = stock.leads.per_metre(wire).is_some();
        there.then_some(wire).ok_or_else(|| elsewise(format!("\"{}\"", short(text.trim()))))
    };
    let wire = name.as_ref().and_then(|_| r.written("wire", &allowed, in_stock));
    let length = r.quantity::<Length>("length", "1 cm", "50 m");
    let clips = r.whole("clips", 0, 20).map_or(DEFAULT_CLIPS, |n| n.is);
    let clip = r.quantity::<Resistance>("clip_resistance", "0 ohm", "10 ohm");
    r.finish();
    Some(LeadSet {
        wire: wire?,
        wire_name: name?,
        length: length?.is,
        clips,
        clip_resistance: clip.map_or(stock.leads.clip.resistance.is, |c| c.is),
        assumed: false,
    })
}

pub fn limits(r: &mut Reader) -> Limits {
    let mut limits = Limits {
        time: Time::from_si(DEFAULT_TIME_S),
        time_asked: false,
        current_density: None,
        cell_temperature: None,
        touch_temperature: None,
        cells: None,
        pieces_per_charge: None,
    };
    let Some(mut sub) = r.sub("limits") else {
        return limits;
    };
    if let Some(time) = sub.quantity::<Time>("time", "1 s", "100 h") {
        limits.time = time.is;
        limits.time_asked = true;
    }
    let density = sub.quantity("current_density", "0.001 A/cm2", "100 A/cm2");
    limits.current_density = density.map(|x| x.is);
    let cell = sub.quantity("cell_temperature", "-20 degC", "150 degC");
    limits.cell_temperature = cell.map(|x| x.is);
    let touch = sub.quantity("touch_temperature", "-20 degC", "150 degC");
    limits.touch_temperature = touch.map(|x| x.is);
    limits.cells = sub.whole("cells", 1, 100).map(|x| x.is);
    limits.pieces_per_charge = sub.whole("pieces_per_charge", 1, 10_000).map(|x| x.is);
    sub.finish();
    limits
}

/// Bench time between two pieces where the job says nothing, s.
pub const DEFAULT_BENCH_S: f64 = 600.0;

pub fn session(r: &mut Reader) -> SessionSet {
    let mut session = SessionSet {
        bench_time: Time::from_si(DEFAULT_BENCH_S),
        fresh_bath: false,
        silver_price: None,
    };
    let Some(mut sub) = r.sub("session") else {
        return session;
    };
    if let Some(time) = sub.quantity::<Time>("bench_time", "0 s", "24 h") {
        session.bench_time = time.is;
    }
    session.fresh_bath = sub.flag("fresh_bath").is_some_and(|f| f.is);
    session.silver_price = sub.number("silver_price", 0.0, 1e6).map(|p| p.is);
    sub.finish();
    session
}

pub fn size(r: &mut Reader, stock: &Stock) -> Vec<String> {
    let Some(mut sub) = r.sub("size") else {
        return Vec::new();
    };
    let names = quoted(stock.cells.iter().map(Named::name));
    let allowed = format!("a list of cells in stock, in [ ]: {names}");
    let cells = sub.texts("cells", &allowed).unwrap_or_default();
    let cells = cells.iter().filter_map(|text| sub.lookup(text, &stock.cells, &names));
    let cells = cells.map(|cell| cell.name.clone()).collect();
    sub.finish();
    cells
}

/// `pitch` tells whether the job measures the pitch of its lines.
pub fn spread(r: &mut Reader, stock: &Stock, pitch: bool) -> Spreads {
    let mut list: Vec<Spread> = stock
        .spreads
        .iter()
        .map(|row| Spread {
            key: row.key.clone(),
            title: row.title.clone(),
            sd: row.measured.as_ref().filter(|_| pitch).unwrap_or(&row.sd).is.si(),
            measurable: row.measurable,
            own: false,
        })
        .collect();
    if let Some(mut sub) = r.sub("spread") {
        for row in &mut list {
            if let Some(sd) = sub.quantity::<Share>(&row.key, "0 %", "100 %") {
                row.sd = sd.is.si();
                row.own = true;
            }
        }
        sub.finish();
    }
    Spreads(list)
}
