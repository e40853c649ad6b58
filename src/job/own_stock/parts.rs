//! Tables within a bath of a stock file: copper's kinetics, the conductivity curve, the density.

use crate::job::numbers::Numbers;
use crate::reader::{At, Reader, short};
use crate::stock::{
    Bath, BathCurve, DensityData, ElectrodeOverride, ElectrodePair, Number, Pairs, Sourced,
};
use crate::units::{Quantity, Share, Temperature};

/// `electrode_cu`: copper's kinetics where they are not the usual ones.
pub fn electrode(n: &mut Numbers, bath: &mut Bath) {
    let Some(mut both) = n.within("electrode_cu") else {
        return;
    };
    let mut side = |key: &str| {
        let Some(mut n) = both.within(key) else {
            both.r.require(key, "a table of e0, n, alpha and i0");
            return None;
        };
        let zero = || Sourced::own(Number(1.0));
        let mut e = ElectrodeOverride {
            e0: Sourced::own(Quantity::from_si(0.0)),
            n: zero(),
            alpha: zero(),
            i0: Sourced::own(Quantity::from_si(1.0)),
        };
        n.over("e0", "-3 V", "3 V", &mut e.e0);
        n.over_number("n", 1.0, 2.0, &mut e.n);
        n.over_number("alpha", 0.05, 2.0, &mut e.alpha);
        n.over("i0", "1e-6 A/m2", "1000000 A/m2", &mut e.i0);
        n.finish();
        Some(e)
    };
    if let (Some(anode), Some(cathode)) = (side("anode"), side("cathode")) {
        bath.electrode_cu = Some(ElectrodePair { anode, cathode });
    }
    both.finish();
}

/// `[bath.curve]`, of either kind.
pub fn curve(n: &mut Numbers, bath: &mut Bath) {
    const KINDS: &str = "\"points\" (pairs of mol/L and mS/cm) or \"casteel-amis\" (a fit)";
    let Some(mut c) = n.within("curve") else {
        if n.needed() {
            n.r.missing("curve", "a table [bath.curve] with kind = \"points\" or \"casteel-amis\"");
        }
        return;
    };
    c.r.require("kind", KINDS);
    let kind = c.r.text("kind", KINDS);
    match kind.map(|k| k.is.trim().to_ascii_lowercase()).as_deref() {
        Some("points") => {
            if let Some(curve) = by_points(&mut c) {
                bath.curve = curve;
            }
        }
        Some("casteel-amis") => bath.curve = fit(&mut c),
        // What else is there belongs to a kind that is not known.
        Some(other) => {
            return c.r.complain("kind", format!("found \"{}\"; allowed: {KINDS}", short(other)));
        }
        None => c.r.leave(&OF_CURVES),
    }
    c.finish();
}

/// Keys of either kind of curve.
const OF_CURVES: [&str; 8] = [
    "at",
    "points_mol_per_l_ms_per_cm",
    "m_max_mol_per_kg",
    "kappa_max_ms_per_cm",
    "a",
    "b",
    "lowest_mol_per_kg",
    "highest_mol_per_kg",
];

/// The temperature of a curve's data.
fn at(c: &mut Numbers) -> Sourced<Temperature> {
    let mut at = Sourced::own(Temperature::from_si(298.15));
    c.over("at", "0 degC", "95 degC", &mut at);
    at
}

fn by_points(c: &mut Numbers) -> Option<BathCurve> {
    let at = at(c);
    let points = c.read("points_mol_per_l_ms_per_cm", POINTS, points);
    points.map(|points_mol_per_l_ms_per_cm| BathCurve::Points { points_mol_per_l_ms_per_cm, at })
}

fn fit(c: &mut Numbers) -> BathCurve {
    let mut number = |key: &str, low: f64, high: f64| {
        let mut slot = Sourced::own(Number(1.0));
        c.over_number(key, low, high, &mut slot);
        slot
    };
    let m_max_mol_per_kg = number("m_max_mol_per_kg", 0.01, 50.0);
    let kappa_max_ms_per_cm = number("kappa_max_ms_per_cm", 0.1, 2000.0);
    let (a, b) = (number("a", 0.01, 10.0), number("b", -10.0, 10.0));
    let lowest_mol_per_kg = number("lowest_mol_per_kg", 0.0, 50.0);
    let highest_mol_per_kg = number("highest_mol_per_kg", 0.001, 50.0);
    BathCurve::CasteelAmis {
        m_max_mol_per_kg,
        kappa_max_ms_per_cm,
        a,
        b,
        at: at(c),
        lowest_mol_per_kg,
        highest_mol_per_kg,
    }
}

const POINTS: &str = "2 to 200 pairs [mol/L, mS/cm], the first numbers rising, the second from 0.1 \
                      to 2000";

fn points(r: &mut Reader, key: &str) -> Option<At<Pairs>> {
    let at = r.pairs(key, POINTS)?;
    let inside = |[x, y]: &[f64; 2]| (0.0..=50.0).contains(x) && (0.1..=2000.0).contains(y);
    let found = match crate::laws::curve::Curve::new(at.is.clone()) {
        Err(why) => why.to_string(),
        Ok(_) if !(2..=200).contains(&at.is.len()) => format!("{} pairs", at.is.len()),
        Ok(_) => match at.is.iter().find(|p| !inside(p)) {
            Some([x, y]) => format!("the pair [{x:?}, {y:?}]"),
            None => return Some(At { is: Pairs(at.is), place: at.place, key: at.key }),
        },
    };
    r.complain(key, format!("found {found}; allowed: {POINTS}"));
    None
}

/// `[bath.density]`: coefficients of the density equation.
pub fn density(n: &mut Numbers, bath: &mut Bath) {
    let Some(mut d) = n.within("density") else {
        return;
    };
    let number = || Sourced::own(Number(0.0));
    let mut data = DensityData {
        c0: number(),
        c1: number(),
        c2: number(),
        c3: number(),
        c4: number(),
        mass_share_max: Sourced::own(Share::from_si(0.0)),
    };
    for (key, slot) in [
        ("c0", &mut data.c0),
        ("c1", &mut data.c1),
        ("c2", &mut data.c2),
        ("c3", &mut data.c3),
        ("c4", &mut data.c4),
    ] {
        d.over_number(key, -1e6, 1e6, slot);
    }
    d.over("mass_share_max", "0.1 %", "90 %", &mut data.mass_share_max);
    d.finish();
    bath.density = Some(data);
}
