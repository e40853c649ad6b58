//! The numbers of an entry of stock, as a job writes them (`capacity = "15 Ah"`) and as a
//! catalogue does (`capacity = { is = "15 Ah", source = "own measurement" }`).

use super::sourced::{Certainty, Datum, Key, Sourced};
use crate::reader::{At, Node, Reader, quoted, short};
use std::collections::BTreeMap;

/// Source texts of a catalogue by their keys.
pub type Sources = BTreeMap<String, String>;

/// What holds in a whole catalogue.
#[derive(Clone, Copy)]
pub struct Rules<'s> {
    /// Its sources.
    pub sources: &'s Sources,
    /// Symbols of the elements that are known.
    pub symbols: &'s [String],
    /// Whether it is one of ours: there every source is told under `[sources]`, every number
    /// says how sure it is, and nothing is like another.
    pub builtin: bool,
}

/// How numbers are written.
#[derive(Clone, Copy)]
enum Form<'s> {
    /// Plain, over those of an entry in stock.
    Job,
    /// Each with its source; `needed` where nothing lends what is not given.
    Stock { rules: Rules<'s>, needed: bool },
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

    /// Of a catalogue.
    pub fn of_stock(r: Reader<'t>, rules: Rules<'s>, needed: bool) -> Self {
        Self { r, form: Form::Stock { rules, needed }, missing: Vec::new() }
    }

    /// The numbers of a table within, if it is there.
    pub fn within(&mut self, key: &str) -> Option<Self> {
        self.r.sub(key).map(|r| self.beside(r))
    }

    /// The numbers of another table, in which nothing is lent.
    pub fn beside(&self, r: Reader<'t>) -> Self {
        let form = match self.form {
            Form::Job => Form::Job,
            Form::Stock { rules, .. } => Form::Stock { rules, needed: true },
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

    /// What holds in the whole catalogue; none in a job.
    pub fn rules(&self) -> Option<Rules<'s>> {
        match self.form {
            Form::Job => None,
            Form::Stock { rules, .. } => Some(rules),
        }
    }

    /// Whether everything must be given, as nothing lends it.
    pub fn needed(&self) -> bool {
        matches!(self.form, Form::Stock { needed: true, .. })
    }

    /// Whether everything must be given, and nothing is missing or wrong so far.
    pub fn whole(&self) -> bool {
        self.needed() && self.missing.is_empty() && self.r.content()
    }

    /// The number of a key, if it is there.
    pub fn read<T: Datum>(&mut self, key: &Key) -> Option<Sourced<T>> {
        let Form::Stock { rules, needed } = self.form else {
            return T::read(&mut self.r, key.name, key).map(|at| Sourced::own(at.is));
        };
        let Some(item) = self.r.item(key.name) else {
            if needed && !key.optional {
                self.missing.push((key.name.into(), T::what(key)));
            }
            return None;
        };
        let Node::Table(table) = &item.node else {
            let text = format!("found {}; allowed: {} = {SOURCED}", item.node.kind(), key.name);
            self.r.complain(key.name, text);
            return None;
        };
        let what = if key.optional { "the value".into() } else { T::what(key) };
        sourced(self.r.beside(table, item, key.name), rules, &what, key)
    }
}

/// A value with its source and, where given, how sure it is.
pub fn sourced<T: Datum>(mut r: Reader, rules: Rules, what: &str, key: &Key) -> Option<Sourced<T>> {
    r.require("is", what);
    let is: Option<At<T>> = T::read(&mut r, "is", key);
    const FROM: &str = "where the number is from, a text such as \"own measurement\", or a key \
                        of [sources]";
    r.require("source", FROM);
    let source = r.text("source", FROM);
    let certainty = certainty(&mut r, rules.builtin);
    let told = source.as_ref().and_then(|key| rules.sources.get(&key.is)).cloned();
    if let (Some(key), None, true) = (&source, &told, rules.builtin) {
        r.complain("source", format!("{} is not told under [sources]", short(&key.is)));
    }
    r.finish();
    Some(Sourced { is: is?.is, source: told.or(source.map(|s| s.is))?, certainty: certainty? })
}

/// How sure a number is; the user's own where nothing is said.
fn certainty(r: &mut Reader, needed: bool) -> Option<Certainty> {
    let allowed = quoted(Certainty::ALL.iter().map(|(word, _)| *word));
    if !r.has("certainty") {
        if needed {
            r.missing("certainty", &allowed);
        }
        r.acknowledge(&["certainty"]);
        return Some(Certainty::Own);
    }
    let text = r.text("certainty", &allowed)?;
    let found = Certainty::ALL.iter().find(|(word, _)| text.is.trim().eq_ignore_ascii_case(word));
    if found.is_none() {
        let word = short(&text.is);
        r.complain("certainty", format!("found \"{word}\"; allowed: {allowed}"));
    }
    found.map(|(_, certainty)| *certainty)
}
