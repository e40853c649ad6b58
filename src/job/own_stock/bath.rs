//! Baths of a stock file.

use super::{Laying, like, names, parts};
use crate::job::numbers::Numbers;
use crate::job::weighed;
use crate::reader::{Node, Reader, nearest, quoted, short};
use crate::stock::{Bath, BathCurve, CAUTIONS, Number, Refusal, Solubility, Sourced};
use crate::units::{MolarConcentration, Quantity};

/// Main metals that may be etched here.
const MAIN: [&str; 2] = ["Ag", "Cu"];

impl Laying<'_> {
    /// One `[[bath]]`.
    pub fn bath(&mut self, mut r: Reader) {
        let named = names(&mut r);
        let base = like(&mut r, &self.stock.baths).cloned();
        let lent = r.has("like");
        let Some(mut bath) = base.as_ref().or(self.stock.baths.first()).cloned() else {
            return;
        };
        if !lent {
            bath.density = None;
            (bath.valence_cu, bath.electrode_cu) = (None, None);
            (bath.acid_concentration, bath.acid_molar_mass) = (None, None);
            bath.refuses = Vec::new();
            bath.as_sold = Vec::new();
        }
        words(&mut r, &mut bath, !lent);
        let mut n = self.numbers(r, !lent);
        numbers(&mut n, &mut bath);
        if let Some(list) = self.solubility(&mut n) {
            bath.solubility = list;
        }
        parts::electrode(&mut n, &mut bath);
        parts::curve(&mut n, &mut bath);
        parts::density(&mut n, &mut bath);
        let r = n.finish();
        let Some(named) = named.filter(|_| r.content()) else {
            return;
        };
        holds_together(&r, &bath);
        let title = base.as_ref().map(|b| b.title.clone());
        bath.title = named.title.clone().or(title).unwrap_or_else(|| named.name.is.clone());
        self.put(&r, "baths", &named, |stock| &mut stock.baths, bath);
    }

    fn solubility(&self, n: &mut Numbers) -> Option<Vec<Solubility>> {
        const LIST: &str = "a list such as [{ element = \"Cu\", is = \"1.3 mol/L\", source = \"own \
                            measurement\" }]: the dissolved metal at which a salt film forms";
        let item = n.r.item("solubility");
        let list = match item.map(|i| &i.node) {
            Some(Node::List(list)) if !list.is_empty() => list,
            Some(other) => {
                n.r.complain("solubility", format!("found {}; allowed: {LIST}", other.kind()));
                return None;
            }
            None => {
                if n.needed() {
                    n.r.missing("solubility", LIST);
                }
                return None;
            }
        };
        let mut rows = Vec::new();
        for entry in list {
            let Node::Table(table) = &entry.node else {
                let text = format!("found {}; allowed: {LIST}", entry.node.kind());
                n.r.complain_at(&entry.place, "solubility", text);
                continue;
            };
            let mut sub = n.r.beside(table, entry, "solubility");
            sub.require("element", "\"Ag\" or \"Cu\"");
            let element = sub.text("element", "\"Ag\" or \"Cu\"");
            if let Some(at) = element.as_ref().filter(|e| !MAIN.contains(&e.is.as_str())) {
                let text = format!("found \"{}\"; allowed: \"Ag\" or \"Cu\"", short(&at.is));
                sub.complain("element", text);
            }
            let amount =
                crate::job::numbers::sourced(sub, &self.sources, "a concentration", |r, key| {
                    r.quantity::<MolarConcentration>(key, "1e-9 mol/L", "30 mol/L")
                });
            if let (Some(element), Some(amount)) = (element, amount) {
                rows.push(Solubility { element: element.is, amount });
            }
        }
        Some(rows)
    }
}

/// A list of words out of those allowed.
fn choice(r: &mut Reader, key: &str, allowed: &[&str], slot: &mut Vec<String>) {
    let said = quoted(allowed.iter().copied());
    if matches!(r.item(key).map(|i| &i.node), Some(Node::List(list)) if list.is_empty()) {
        slot.clear();
        return;
    }
    let Some(list) = r.texts(key, &format!("a list of any of {said}")) else {
        return;
    };
    slot.clear();
    for at in list {
        match allowed.iter().find(|a| a.eq_ignore_ascii_case(at.is.trim())) {
            Some(word) => slot.push((*word).to_string()),
            None => {
                let near = nearest(&at.is, allowed.iter().copied());
                let hint = near.map(|n| format!("did you mean \"{n}\"? ")).unwrap_or_default();
                let text = format!("found \"{}\"; {hint}allowed: any of {said}", short(&at.is));
                r.complain_at(&at.place, key, text);
            }
        }
    }
}

fn words(r: &mut Reader, bath: &mut Bath, needed: bool) {
    const FORMULA: &str = "the salt's formula without crystal water, such as \"CuSO4\"";
    if needed {
        r.require("formula", FORMULA);
        let cautions = quoted(CAUTIONS.iter().map(|(word, _)| *word));
        r.require("cautions", &format!("a list of any of {cautions}"));
        r.require("suits", "a list of the main metals that it etches, such as [\"Cu\"]");
    }
    if let Some(text) = r.text("formula", FORMULA) {
        bath.formula = short(text.is.trim());
    }
    let cautions: Vec<&str> = CAUTIONS.iter().map(|(word, _)| *word).collect();
    choice(r, "cautions", &cautions, &mut bath.cautions);
    choice(r, "suits", &MAIN, &mut bath.suits);
    as_sold(r, bath);
    refuses(r, bath);
}

/// `as_sold`: the salt's formula with the crystal water that it is sold with.
fn as_sold(r: &mut Reader, bath: &mut Bath) {
    let list = match r.item("as_sold").map(|i| &i.node) {
        Some(Node::List(list)) if list.is_empty() => Some(Vec::new()),
        _ => r.texts("as_sold", "a list of formulas, such as [\"CuSO4.5H2O\"]"),
    };
    let Some(list) = list else {
        // What the base is sold as is not what another salt is.
        let of_this: Vec<String> = bath.as_sold.drain(..).collect();
        bath.as_sold = of_this.into_iter().filter(|f| weighed::is_of(f, bath)).collect();
        return;
    };
    for at in list.iter().filter(|at| !weighed::is_of(&at.is, bath)) {
        let text = format!(
            "found \"{}\"; allowed: the salt with its water, such as \"CuSO4.5H2O\" of CuSO4",
            short(&at.is)
        );
        r.complain_at(&at.place, "as_sold", text);
    }
    bath.as_sold = list.into_iter().map(|at| at.is).collect();
}

/// `refuses`: main metals and why they do not go.
fn refuses(r: &mut Reader, bath: &mut Bath) {
    const LIST: &str = "a list such as [{ main = \"Ag\", reason = \"it crusts over\" }], or []";
    let list = match r.item("refuses").map(|i| &i.node) {
        None => return,
        Some(Node::List(list)) => list,
        Some(other) => {
            return r.complain("refuses", format!("found {}; allowed: {LIST}", other.kind()));
        }
    };
    bath.refuses.clear();
    for entry in list {
        let Node::Table(table) = &entry.node else {
            let text = format!("found {}; allowed: {LIST}", entry.node.kind());
            r.complain_at(&entry.place, "refuses", text);
            continue;
        };
        let mut sub = r.beside(table, entry, "refuses");
        sub.require("main", "\"Ag\" or \"Cu\"");
        sub.require("reason", "why it does not go, a text");
        let main = sub.text("main", "\"Ag\" or \"Cu\"");
        if let Some(at) = main.as_ref().filter(|m| !MAIN.contains(&m.is.as_str())) {
            let text = format!("found \"{}\"; allowed: \"Ag\" or \"Cu\"", short(&at.is));
            sub.complain("main", text);
        }
        let reason = sub.text("reason", "why it does not go, a text");
        sub.finish();
        if let (Some(main), Some(reason)) = (main, reason) {
            bath.refuses.push(Refusal { main: main.is, reason: reason.is });
        }
    }
}

fn numbers(n: &mut Numbers, bath: &mut Bath) {
    n.over("molar_mass", "10 g/mol", "1000 g/mol", &mut bath.molar_mass);
    n.option("acid_concentration", "0 mol/L", "20 mol/L", &mut bath.acid_concentration);
    n.option("acid_molar_mass", "10 g/mol", "1000 g/mol", &mut bath.acid_molar_mass);
    n.over("beta", "0 %/K", "5 %/K", &mut bath.beta);
    n.over("concentration_min", "0.001 mol/L", "30 mol/L", &mut bath.concentration_min);
    n.over("concentration_max", "0.001 mol/L", "30 mol/L", &mut bath.concentration_max);
    n.over_number("copper_per_formula", 0.0, 10.0, &mut bath.copper_per_formula);
    n.over_number("ph", -1.0, 14.0, &mut bath.ph);
    n.r.acknowledge(&["valence_cu"]);
    if n.r.has("valence_cu") {
        let mut slot = Sourced::own(Number(2.0));
        n.over_number("valence_cu", 1.0, 2.0, &mut slot);
        bath.valence_cu = Some(slot);
    }
}

/// Steps over the range of concentrations at which the curve is tried.
const TRIED: u32 = 40;

/// What no single number of a bath shows to be wrong.
fn holds_together(r: &Reader, bath: &Bath) {
    conducts(r, bath);
    for metal in bath.suits.iter().filter(|m| bath.solubility_of(m).is_none()) {
        r.complain("solubility", format!("missing for {metal}; needed: one for each of suits"));
    }
    if bath.suits.is_empty() && bath.refuses.is_empty() {
        r.complain("suits", "no metal; allowed: a list such as [\"Cu\"]");
    }
    let both = bath.suits.iter().find(|m| bath.refuses.iter().any(|x| x.main == **m));
    if let Some(metal) = both {
        let text = format!("{metal} stands under refuses as well; allowed: one of the two");
        r.complain("suits", text);
    }
    if is_chloride(&bath.formula) && !bath.refuses.iter().any(|x| x.main == "Ag") {
        r.complain(
            "refuses",
            "a chloride bath covers silver with silver chloride, which stops the current; allowed: \
             refuses = [{ main = \"Ag\", reason = \"...\" }]",
        );
    }
}

/// Whether it gives a conductivity over its whole range of concentrations.
fn conducts(r: &Reader, bath: &Bath) {
    let (low, high) = (bath.concentration_min.is.si(), bath.concentration_max.is.si());
    if low >= high {
        return r.complain("concentration_max", "not over concentration_min; allowed: a range");
    }
    match &bath.curve {
        BathCurve::CasteelAmis { .. } if bath.density.is_none() => {
            let text = "missing; needed: the table [bath.density], as the curve is over mol/kg";
            return r.complain("density", text);
        }
        BathCurve::CasteelAmis { .. } => {}
        BathCurve::Points { points_mol_per_l_ms_per_cm, .. } => {
            let end = |p: Option<&[f64; 2]>| p.map_or(f64::NAN, |p| p[0] * 1000.0);
            let (points, slack) = (&points_mol_per_l_ms_per_cm.is.0, 1e-9 * high);
            if end(points.first()) > low + slack || end(points.last()) < high - slack {
                let text = "reaches beyond the curve's points; allowed: concentration_min and \
                            concentration_max within them";
                return r.complain("concentration_max", text);
            }
        }
    }
    let mut tried = (0..=TRIED).map(|k| low + (high - low) * f64::from(k) / f64::from(TRIED));
    let sane = |c: f64| bath.kappa25(c).is_some_and(|k| (0.01..=200.0).contains(&k));
    if let Some(c) = tried.find(|c| !sane(*c)) {
        let text = format!(
            "gives no conductivity between 0.1 mS/cm and 2 S/cm at {} mol/L; allowed: a curve and \
             density that do from concentration_min to concentration_max",
            crate::units::say::figures(c / 1000.0, 3)
        );
        r.complain("curve", text);
    }
}

/// Whether a formula is one of a chloride: Cl, but not ClO3 or ClO4.
fn is_chloride(formula: &str) -> bool {
    formula
        .match_indices("Cl")
        .any(|(at, _)| !formula[at + 2..].starts_with(|c: char| c == 'O' || c.is_ascii_lowercase()))
}
