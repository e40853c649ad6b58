//! The numbers of an entry of stock, as a job writes them (`capacity = "15 Ah"`) and as a stock
//! file does (`capacity = { is = "15 Ah", source = "own measurement" }`).

use crate::reader::{At, Node, Reader, quoted};
use crate::stock::{Certainty, Number, Sourced};
use crate::units::Quantity;
use std::collections::BTreeMap;

/// Source texts of a stock file by their keys.
pub type Sources = BTreeMap<String, String>;

/// How numbers are written.
enum Form<'s> {
    /// Plain, over those of an entry in stock.
    Job,
    /// Each with its source; `needed` where nothing lends what is not given.
    Stock { sources: &'s Sources, needed: bool },
}

/// A reader of an entry's numbers.
pub struct Numbers<'t, 's> {
    /// The reader of the rest.
    pub r: Reader<'t>,
    form: Form<'s>,
    /// Keys that are missing, and what they take.
    missing: Vec<(String, String)>,
}

/// What to write where a number belongs.
const SOURCED: &str = "{ is = ..., source = \"own measurement\" }";
/// So many numbers missing are said one by one; more, in one go with the way round them.
const FEW: usize = 3;

impl<'t, 's> Numbers<'t, 's> {
    /// Of a job.
    pub fn of_job(r: Reader<'t>) -> Self {
        Self { r, form: Form::Job, missing: Vec::new() }
    }

    /// Of a stock file.
    pub fn of_stock(r: Reader<'t>, sources: &'s Sources, needed: bool) -> Self {
        Self { r, form: Form::Stock { sources, needed }, missing: Vec::new() }
    }

    /// The numbers of a table within, if it is there.
    pub fn within(&mut self, key: &str) -> Option<Self> {
        let form = match self.form {
            Form::Job => Form::Job,
            Form::Stock { sources, .. } => Form::Stock { sources, needed: true },
        };
        self.r.sub(key).map(|r| Self { r, form, missing: Vec::new() })
    }

    /// The same for a table of a list.
    pub fn beside(&self, r: Reader<'t>) -> Self {
        let form = match self.form {
            Form::Job => Form::Job,
            Form::Stock { sources, .. } => Form::Stock { sources, needed: true },
        };
        Self { r, form, missing: Vec::new() }
    }

    /// Complains of what is missing and of what was never asked for; the reader again.
    pub fn finish(self) -> Reader<'t> {
        let lent = self.r.knows("like");
        if lent && self.missing.len() > FEW {
            let keys: Vec<&str> = self.missing.iter().map(|(key, _)| key.as_str()).collect();
            let text = format!(
                "an entry in stock that lends what is not given, or else {}, each as {SOURCED}",
                keys.join(", ")
            );
            self.r.missing("like", &text);
        } else {
            for (key, what) in &self.missing {
                self.r.missing(key, &format!("{what}, as {SOURCED}"));
            }
        }
        self.r.finish();
        self.r
    }

    /// Whether everything must be given, as nothing lends it.
    pub fn needed(&self) -> bool {
        matches!(self.form, Form::Stock { needed: true, .. })
    }

    /// Replaces a number when its key is there.
    pub fn over<Q: Quantity>(&mut self, key: &str, low: &str, high: &str, slot: &mut Sourced<Q>) {
        let what = Q::KIND.allowed();
        if let Some(got) = self.read(key, &what, |r, key| r.quantity::<Q>(key, low, high)) {
            *slot = got;
        }
    }

    /// The same of a plain number.
    pub fn over_number(&mut self, key: &str, low: f64, high: f64, slot: &mut Sourced<Number>) {
        let what = format!("a number from {low} to {high}");
        let number = |r: &mut Reader<'t>, key: &str| {
            r.number(key, low, high).map(|at| At {
                is: Number(at.is),
                place: at.place,
                key: at.key,
            })
        };
        if let Some(got) = self.read(key, &what, number) {
            *slot = got;
        }
    }

    /// The same of one that may be left out.
    pub fn option<Q: Quantity>(
        &mut self,
        key: &str,
        low: &str,
        high: &str,
        slot: &mut Option<Sourced<Q>>,
    ) {
        self.r.acknowledge(&[key]);
        if self.r.has(key) {
            let got = self.read(key, "", |r, key| r.quantity::<Q>(key, low, high));
            *slot = got.or(slot.take());
        }
    }

    /// A number under `key`, read by a function of its own.
    pub fn read<T>(
        &mut self,
        key: &str,
        what: &str,
        read: impl FnOnce(&mut Reader<'t>, &str) -> Option<At<T>>,
    ) -> Option<Sourced<T>> {
        let Form::Stock { sources, needed } = self.form else {
            return read(&mut self.r, key).map(|at| Sourced::own(at.is));
        };
        let Some(item) = self.r.item(key) else {
            if needed {
                self.missing.push((key.into(), what.into()));
            }
            return None;
        };
        let Node::Table(table) = &item.node else {
            let text = format!("found {}; allowed: {key} = {SOURCED}", item.node.kind());
            self.r.complain(key, text);
            return None;
        };
        let sub = self.r.beside(table, item, key);
        sourced(sub, sources, what, read)
    }
}

/// A value with its source and, where given, how sure it is.
pub fn sourced<'t, T>(
    mut r: Reader<'t>,
    sources: &Sources,
    what: &str,
    read: impl FnOnce(&mut Reader<'t>, &str) -> Option<At<T>>,
) -> Option<Sourced<T>> {
    r.require("is", if what.is_empty() { "the value" } else { what });
    let is = read(&mut r, "is");
    const FROM: &str = "where the number is from, a text such as \"own measurement\", or a key \
                        of [sources]";
    r.require("source", FROM);
    let source = r.text("source", FROM);
    let certainty = certainty(&mut r);
    r.finish();
    let source = source?.is;
    let source = sources.get(&source).cloned().unwrap_or(source);
    Some(Sourced { is: is?.is, source, certainty: certainty? })
}

/// How sure a number is; the user's own where nothing is said.
fn certainty(r: &mut Reader) -> Option<Certainty> {
    let allowed = quoted(Certainty::ALL.iter().map(|(word, _)| *word));
    if !r.has("certainty") {
        r.acknowledge(&["certainty"]);
        return Some(Certainty::Own);
    }
    let text = r.text("certainty", &allowed)?;
    let found = Certainty::ALL.iter().find(|(word, _)| text.is.trim().eq_ignore_ascii_case(word));
    if found.is_none() {
        let word = crate::reader::short(&text.is);
        r.complain("certainty", format!("found \"{word}\"; allowed: {allowed}"));
    }
    found.map(|(_, certainty)| *certainty)
}
