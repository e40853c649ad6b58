//! `[source]`: a pack of cells, a regulated supply or a plug-in adapter.

use crate::reader::tree::parse;
use crate::reader::{At, Reader};
use crate::reader::{Complaints, Ledger, Place};
use crate::reader::{Node, short};
use crate::reader::{nearest, quoted};
use crate::stock::{self, Named, Sourced, Stock, find};
use crate::units::{Current, Quantity, Resistance, Share, Time, Voltage};

/// What pushes the current.
#[derive(Debug, Clone)]
pub enum Source {
    /// Cells.
    Pack(Box<Pack>),
    /// A regulated bench supply.
    Supply(Supply),
    /// An unregulated adapter.
    Adapter(Adapter),
}

/// No resistor.
pub fn no_resistor() -> Resistance {
    Resistance::from_si(0.0)
}

impl Source {
    /// The resistor in its lead.
    pub fn resistor(&self) -> Resistance {
        match self {
            Self::Pack(p) => p.resistor,
            Self::Supply(s) => s.resistor,
            Self::Adapter(a) => a.resistor,
        }
    }

    /// The same with another resistor in its lead.
    #[must_use]
    pub fn with_resistor(mut self, ohm: Resistance) -> Self {
        match &mut self {
            Self::Pack(p) => p.resistor = ohm,
            Self::Supply(s) => s.resistor = ohm,
            Self::Adapter(a) => a.resistor = ohm,
        }
        self
    }

    /// Whether another source is the same in all that a run hangs on.
    pub fn is_the_same_as(&self, other: &Self) -> bool {
        let same = match (self, other) {
            (Self::Pack(a), Self::Pack(b)) => {
                (&a.holder.name, a.charge_left, &a.contact)
                    == (&b.holder.name, b.charge_left, &b.contact)
            }
            (Self::Supply(a), Self::Supply(b)) => a == b,
            (Self::Adapter(a), Self::Adapter(b)) => a == b,
            _ => false,
        };
        same && self.wired_as(other) && self.resistor() == other.resistor()
    }

    /// Share of the time with the current on: 1 where it does not pulse.
    pub fn duty(&self) -> f64 {
        match self {
            Self::Supply(Supply { pulse: Some(pulse), .. }) => pulse.duty.si(),
            _ => 1.0,
        }
    }

    /// Whether another source is wired alike: the same cells in whatever holder, the same
    /// settings, the same adapter.
    pub fn wired_as(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Pack(a), Self::Pack(b)) => {
                (&a.cell.name, a.series.is, a.parallel) == (&b.cell.name, b.series.is, b.parallel)
            }
            (Self::Supply(a), Self::Supply(b)) => {
                (a.voltage, a.current_limit) == (b.voltage, b.current_limit)
            }
            (Self::Adapter(a), Self::Adapter(b)) => a.open_voltage == b.open_voltage,
            _ => false,
        }
    }
}

/// Cells in a holder.
#[derive(Debug, Clone)]
pub struct Pack {
    /// The cell, from stock or the user's own.
    pub cell: stock::Cell,
    /// In series.
    pub series: At<u32>,
    /// In parallel.
    pub parallel: u32,
    /// Contact resistance of a cell, both ends together.
    pub contact: Sourced<Resistance>,
    /// The holder.
    pub holder: stock::Holder,
    /// Charge left at the start.
    pub charge_left: Share,
    /// Price of one cell, in whatever the user counts in.
    pub price: Option<f64>,
    /// Resistor in its lead; none is 0.
    pub resistor: Resistance,
}

/// A regulated supply.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Supply {
    /// Voltage set.
    pub voltage: Voltage,
    /// Current limit.
    pub current_limit: Option<Current>,
    /// Output resistance.
    pub output_resistance: Resistance,
    /// Resistor in its lead; none is 0.
    pub resistor: Resistance,
    /// How it pulses, where it does.
    pub pulse: Option<Pulse>,
}

/// Current on and off in turn, many times a second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pulse {
    /// Share of the time with the current on.
    pub duty: Share,
    /// From one switching on to the next.
    pub period: Time,
}

/// An unregulated adapter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adapter {
    /// Voltage without load.
    pub open_voltage: Voltage,
    /// How it sags.
    pub series_resistance: Resistance,
    /// Current that it is rated for.
    pub rated_current: Option<Current>,
    /// Resistor in its lead; none is 0.
    pub resistor: Resistance,
}

/// Highest voltage that this tool will plan with: the direct voltage that IEC 62368-1
/// (from memory) still counts as safe to touch dry.
pub const HIGHEST: &str = "60 V";

const PACK: &[&str] = &["cell", "series", "parallel", "contact", "holder", "charge_left", "price"];
const SUPPLY: &[&str] = &["voltage", "current_limit", "output_resistance", "pulse"];
const ADAPTER: &[&str] = &["open_voltage", "series_resistance", "rated_voltage", "rated_current"];
const KINDS: [(&str, &[&str]); 3] = [("pack", PACK), ("supply", SUPPLY), ("adapter", ADAPTER)];

/// Reads the sources of a file: one `[source]`, or `[[source]]` several times, each with a
/// name to tell it by.
///
/// # Errors
/// Every complaint.
pub fn read_sources(
    text: &str,
    name: &str,
    stock: &Stock,
) -> Result<Vec<(String, Source)>, Complaints> {
    let table = parse(text.strip_prefix('\u{feff}').unwrap_or(text), name)?;
    let ledger = Ledger::default();
    let start = Place::File { name: name.into(), line: 1, column: 1 };
    let mut reader = Reader::new(&table, start.clone(), "", &ledger);
    reader.require("source", "a table [source], or [[source]] several times, each with a name");
    let mut list = Vec::new();
    for (n, sub) in reader.tables("source").into_iter().enumerate() {
        if let Some((named, source)) = read_named(sub, stock) {
            list.push((named.unwrap_or_else(|| format!("source {}", n + 1)), source));
        }
    }
    reader.finish();
    ledger.settle(Some(list), &start)
}

/// A source with a name of its own, as in a file of sources.
pub fn read_named(mut r: Reader, stock: &Stock) -> Option<(Option<String>, Source)> {
    let name = r.text("name", "a text to tell this source by").map(|n| short(&n.is));
    read(r, stock).map(|source| (name, source))
}

pub fn read(mut r: Reader, stock: &Stock) -> Option<Source> {
    let allowed = quoted(KINDS.iter().map(|(kind, _)| *kind));
    r.require("kind", &format!("one of {allowed}"));
    let kind = r.text("kind", &allowed);
    let same =
        |k: &At<String>| KINDS.iter().find(|(name, _)| name.eq_ignore_ascii_case(k.is.trim()));
    let known = kind.as_ref().and_then(same);
    let Some((kind, _)) = known else {
        if let Some(kind) = kind {
            let hint = nearest(&kind.is, KINDS.iter().map(|(k, _)| *k));
            let hint = hint.map(|n| format!("did you mean \"{n}\"? ")).unwrap_or_default();
            r.complain("kind", format!("found \"{}\"; {hint}allowed: {allowed}", short(&kind.is)));
        }
        r.acknowledge(&["resistor"]);
        for (_, keys) in KINDS {
            r.acknowledge(keys);
        }
        r.finish();
        return None;
    };
    refuse_others(&mut r, kind);
    let resistor = r.quantity::<Resistance>("resistor", "0 ohm", "1 kohm");
    let source = match *kind {
        "pack" => pack(&mut r, stock).map(|p| Source::Pack(Box::new(p))),
        "supply" => supply(&mut r).map(Source::Supply),
        _ => adapter(&mut r).map(Source::Adapter),
    };
    let source = match resistor {
        Some(ohm) => source.map(|source| source.with_resistor(ohm.is)),
        None => source,
    };
    r.finish();
    source
}

/// A key of another kind of source is an error that says whose it is.
fn refuse_others(r: &mut Reader, kind: &str) {
    for (other, keys) in KINDS.iter().filter(|(other, _)| *other != kind) {
        for key in keys.iter().filter(|key| r.has(key)) {
            let text = format!("belongs to kind = \"{other}\"; this source is kind = \"{kind}\"");
            r.complain(key, text);
        }
        r.leave(keys);
    }
}

fn pack(r: &mut Reader, stock: &Stock) -> Option<Pack> {
    let names = quoted(stock.cells.iter().map(Named::name));
    let allowed = format!("{names}, or a table {{ like = \"LR6\", ... }} with your own numbers");
    r.require("cell", &allowed);
    let cell = match r.item("cell").map(|item| &item.node) {
        Some(Node::Table(_)) => r.sub("cell").and_then(|sub| stock::own_cell(sub, stock)),
        _ => r.named("cell", &stock.cells, &allowed).cloned(),
    };
    let series = r.whole("series", 1, 100);
    let series = if r.has("series") { series } else { Some(default_at(r, 1)) };
    let parallel = r.whole("parallel", 1, 100);
    let contact = r.quantity::<Resistance>("contact", "0 ohm", "10 ohm");
    let holder = holder(r, stock);
    let charge = r.quantity::<Share>("charge_left", "0 %", "100 %");
    let price = r.number("price", 0.0, 1e6).map(|p| p.is);
    let holder = holder?.clone();
    Some(Pack {
        cell: cell?,
        series: series?,
        parallel: parallel.map_or(1, |n| n.is),
        contact: contact.map_or_else(|| holder.contact.clone(), |c| Sourced::own(c.is)),
        holder,
        charge_left: charge.map_or_else(|| Share::from_si(1.0), |c| c.is),
        price,
        resistor: no_resistor(),
    })
}

fn default_at<T>(r: &Reader, is: T) -> At<T> {
    At { is, place: r.place.clone(), key: r.full("series") }
}

fn holder<'s>(r: &mut Reader, stock: &'s Stock) -> Option<&'s stock::Holder> {
    const DEFAULT: &str = "open tray";
    let allowed = quoted(stock.holders.iter().map(Named::name));
    if !r.has("holder") {
        r.acknowledge(&["holder"]);
        return find(&stock.holders, DEFAULT);
    }
    r.named("holder", &stock.holders, &allowed)
}

fn supply(r: &mut Reader) -> Option<Supply> {
    let voltage = r.quantity::<Voltage>("voltage", "0.1 V", HIGHEST);
    r.require("voltage", "the voltage set, such as \"3 V\"");
    let limit = r.quantity::<Current>("current_limit", "1 mA", "200 A");
    let limit_fits = limit.is_some() || !r.has("current_limit");
    let out = r.quantity::<Resistance>("output_resistance", "0 ohm", "100 ohm");
    let pulse = r.sub("pulse").map(pulse);
    let pulse_fits = pulse.as_ref().is_none_or(Option::is_some);
    (limit_fits && pulse_fits).then_some(())?;
    let pulse = pulse.flatten();
    Some(Supply {
        voltage: voltage?.is,
        current_limit: limit.map(|x| x.is),
        output_resistance: out.map_or_else(|| Resistance::from_si(0.0), |x| x.is),
        resistor: no_resistor(),
        pulse,
    })
}

/// Longest period: the film at the face, about 50 um thick, follows within two seconds (its
/// thickness squared over the diffusivity); a pulse has to be far shorter to see its mean.
const LONGEST_PERIOD: &str = "200 ms";

fn pulse(mut r: Reader) -> Option<Pulse> {
    r.require("duty", "the share of the time with the current on, such as \"30 %\"");
    r.require("period", "from one switching on to the next, such as \"10 ms\"");
    let duty = r.quantity::<Share>("duty", "1 %", "100 %");
    let period = r.quantity::<Time>("period", "0.01 ms", LONGEST_PERIOD);
    r.finish();
    Some(Pulse { duty: duty?.is, period: period?.is })
}

fn adapter(r: &mut Reader) -> Option<Adapter> {
    let open = r.quantity::<Voltage>("open_voltage", "0.1 V", HIGHEST);
    r.require("open_voltage", "the voltage without load, such as \"9 V\"");
    let series = r.quantity::<Resistance>("series_resistance", "0 ohm", "1 kohm");
    let rated_v = r.quantity::<Voltage>("rated_voltage", "0.1 V", HIGHEST);
    let rated_a = r.quantity::<Current>("rated_current", "1 mA", "200 A");
    let by_slope = r.has("series_resistance");
    let by_rating = r.has("rated_voltage") || r.has("rated_current");
    const EITHER: &str = "series_resistance, or rated_voltage with rated_current";
    match (by_slope, by_rating) {
        (true, true) => {
            r.complain("series_resistance", format!("given beside the rating; allowed: {EITHER}"));
            return None;
        }
        (false, false) => {
            r.missing("series_resistance", &format!("how the voltage sags: {EITHER}"));
            return None;
        }
        _ => {}
    }
    let open = open?.is;
    if by_slope {
        let series_resistance = series?.is;
        let rated_current = None;
        let resistor = no_resistor();
        return Some(Adapter { open_voltage: open, series_resistance, rated_current, resistor });
    }
    r.require("rated_voltage", "the voltage on the label, such as \"6 V\", beside rated_current");
    r.require("rated_current", "the current on the label, such as \"1 A\", beside rated_voltage");
    let (rated_v, rated_a) = (rated_v?.is, rated_a?.is);
    if rated_v.si() >= open.si() {
        let text = format!(
            "found {} V; allowed: less than open_voltage, {} V, as an adapter sags under load",
            rated_v.si(),
            open.si()
        );
        r.complain("rated_voltage", text);
        return None;
    }
    let sag = (open.si() - rated_v.si()) / rated_a.si();
    Some(Adapter {
        open_voltage: open,
        series_resistance: Resistance::from_si(sag),
        rated_current: Some(rated_a),
        resistor: no_resistor(),
    })
}
