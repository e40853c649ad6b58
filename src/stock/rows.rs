//! Tables of a catalogue, each written down once: of every key its type, what it means and what
//! it takes. By these rows built-in catalogues, stock files and the cells of a job are read, and
//! by them `stock` shows what is there.

use super::numbers::Numbers;
use super::sourced::{Datum, Key, Sourced};
use crate::reader::{Item, Node, nearest, quoted, short};
use serde_json::{Map, Value};

/// A key and the place for its value.
pub struct Row<'a> {
    /// The key.
    pub key: Key,
    /// Where its value belongs.
    pub slot: &'a mut dyn Slot,
}

/// A table of rows.
pub trait Rows: Clone + Default {
    /// Its rows, in the order in which they are shown.
    fn rows(&mut self) -> Vec<Row<'_>>;
}

/// What the keys mean: full name and words.
pub type Words = Vec<(String, &'static str)>;

/// A place for the value of a key.
pub trait Slot {
    /// Lays over what stands under the key.
    fn read(&mut self, n: &mut Numbers, key: &Key);
    /// As `stock` shows it; none where it has nothing to show. `path` is its full name.
    fn shown(&mut self, key: &Key, path: &str, words: &mut Words) -> Option<Value>;
}

/// Reads every row of a table but its title, which belongs to its names.
pub fn read(n: &mut Numbers, table: &mut impl Rows, titled: bool) {
    let mut rows = table.rows();
    rows.retain(|row| titled || row.key.name != "title");
    rows.sort_by_key(|row| row.key.turn);
    rows.into_iter().for_each(|row| row.slot.read(n, &row.key));
}

/// A table as `stock` shows it.
pub fn shown(table: &mut impl Rows, path: &str, words: &mut Words) -> Map<String, Value> {
    let row = |row: Row| {
        let name = row.key.name;
        let path = if path.is_empty() { name.into() } else { format!("{path}.{name}") };
        Some((name.into(), row.slot.shown(&row.key, &path, words)?))
    };
    table.rows().into_iter().filter_map(row).collect()
}

/// A whole table.
pub fn table<T: Rows>(mut n: Numbers) -> Option<T> {
    let mut table = T::default();
    read(&mut n, &mut table, true);
    n.finish().content().then_some(table)
}

/// Every key of a table.
pub fn keys<T: Rows>() -> Vec<&'static str> {
    T::default().rows().iter().map(|row| row.key.name).collect()
}

/// What each table of a list holds; none where anything of it is wrong.
pub fn each<'t, 's, T>(
    n: &mut Numbers<'t, 's>,
    key: &Key,
    mut read: impl FnMut(Numbers<'t, 's>) -> Option<T>,
) -> Option<Vec<T>> {
    let list = match n.r.item(key.name).map(|item| &item.node) {
        Some(Node::List(list)) if key.optional || !list.is_empty() => list,
        Some(other) => {
            n.r.complain(key.name, format!("found {}; allowed: {}", other.kind(), key.low));
            return None;
        }
        None => {
            if n.needed() && !key.optional {
                n.r.missing(key.name, key.low);
            }
            return None;
        }
    };
    let row = |entry: &'t Item| match &entry.node {
        Node::Table(table) => read(n.beside(n.r.beside(table, entry, key.name))),
        other => {
            let text = format!("found {}; allowed: {}", other.kind(), key.low);
            n.r.complain_at(&entry.place, key.name, text);
            None
        }
    };
    // Every row is read, so that all complaints come at once.
    list.iter().map(row).collect::<Vec<_>>().into_iter().collect()
}

/// Asks for a text that must be there.
fn require(n: &Numbers, key: &Key) {
    if n.needed() && !key.optional {
        n.r.require(key.name, key.low);
    }
}

impl<T: Datum> Slot for Sourced<T> {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        if let Some(got) = n.read(key) {
            *self = got;
        }
    }

    fn shown(&mut self, key: &Key, path: &str, words: &mut Words) -> Option<Value> {
        words.push((path.into(), key.words));
        Some(Sourced::shown(self, key))
    }
}

impl<T: Datum> Slot for Option<Sourced<T>> {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        n.r.acknowledge(&[key.name]);
        if n.r.has(key.name) {
            *self = n.read(key).or(self.take());
        }
    }

    fn shown(&mut self, key: &Key, path: &str, words: &mut Words) -> Option<Value> {
        self.as_mut()?.shown(key, path, words)
    }
}

impl<T: Rows> Slot for T {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        match n.within(key.name) {
            Some(mut within) => {
                read(&mut within, self, true);
                within.finish();
            }
            None => require(n, key),
        }
    }

    fn shown(&mut self, _: &Key, path: &str, words: &mut Words) -> Option<Value> {
        Some(Value::Object(shown(self, path, words)))
    }
}

impl<T: Rows> Slot for Option<T> {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        if let Some(within) = n.within(key.name) {
            *self = table(within).or(self.take());
        }
    }

    fn shown(&mut self, key: &Key, path: &str, words: &mut Words) -> Option<Value> {
        self.as_mut()?.shown(key, path, words)
    }
}

impl<T: Rows> Slot for Vec<T> {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        if let Some(list) = each(n, key, table) {
            *self = list;
        }
    }

    fn shown(&mut self, _: &Key, path: &str, words: &mut Words) -> Option<Value> {
        let row = |table: &mut T| Value::Object(shown(table, path, words));
        Some(self.iter_mut().map(row).collect())
    }
}

impl Slot for String {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        if n.rules().is_none() {
            return; // a job gives numbers alone
        }
        require(n, key);
        let Some(text) = n.r.text(key.name, key.low) else {
            return;
        };
        match (key.of)() {
            of if of.is_empty() || of.contains(&text.is.as_str()) => *self = text.is,
            _ => {
                let text = format!("found \"{}\"; allowed: {}", short(&text.is), key.low);
                n.r.complain(key.name, text);
            }
        }
    }

    fn shown(&mut self, _: &Key, _: &str, _: &mut Words) -> Option<Value> {
        Some(self.as_str().into())
    }
}

impl Slot for bool {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        require(n, key);
        if let Some(flag) = n.r.flag(key.name) {
            *self = flag.is;
        }
    }

    fn shown(&mut self, _: &Key, _: &str, _: &mut Words) -> Option<Value> {
        Some((*self).into())
    }
}

impl Slot for Vec<String> {
    fn read(&mut self, n: &mut Numbers, key: &Key) {
        let of = (key.of)();
        let any = format!("any of {}", quoted(of.iter().copied()));
        let list = format!("a list of {any}");
        if n.needed() && !key.optional {
            n.r.require(key.name, if key.low.is_empty() { &list } else { key.low });
        }
        let r = &mut n.r;
        if matches!(r.item(key.name).map(|i| &i.node), Some(Node::List(list)) if list.is_empty()) {
            self.clear();
        } else if let Some(list) = r.texts(key.name, if of.is_empty() { key.low } else { &list }) {
            self.clear();
            for at in list {
                match of.iter().find(|word| word.eq_ignore_ascii_case(at.is.trim())) {
                    Some(word) => self.push((*word).into()),
                    None if of.is_empty() => self.push(at.is),
                    None => {
                        let near = nearest(&at.is, of.iter().copied());
                        let hint = near.map(|n| format!("did you mean \"{n}\"? "));
                        let text = format!(
                            "found \"{}\"; {}allowed: {any}",
                            short(&at.is),
                            hint.unwrap_or_default()
                        );
                        r.complain_at(&at.place, key.name, text);
                    }
                }
            }
        }
    }

    fn shown(&mut self, key: &Key, _: &str, _: &mut Words) -> Option<Value> {
        (!key.optional || !self.is_empty()).then(|| self.clone().into())
    }
}

/// A table: its keys with their types, words and what they take, and, of one that is called by
/// a name, what the name is.
macro_rules! rows {
    ($(#[$meta:meta])* $table:ident $(called $called:literal)? {
        $($(#[$doc:meta])* $key:ident: $type:ty = $words:literal, $takes:expr;)+
    }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Default)]
        pub struct $table {
            $(
                #[doc = $called]
                pub name: String,
                /// Other names.
                pub aliases: Vec<String>,
            )?
            $($(#[$doc])* #[doc = $words] pub $key: $type,)+
        }

        impl $crate::stock::rows::Rows for $table {
            fn rows(&mut self) -> Vec<$crate::stock::rows::Row<'_>> {
                vec![$($crate::stock::rows::Row {
                    key: $crate::stock::sourced::Key {
                        name: stringify!($key),
                        words: $words,
                        ..$takes
                    },
                    slot: &mut self.$key,
                }),+]
            }
        }

        $(
            #[doc = $called]
            impl $crate::reader::Named for $table {
                fn name(&self) -> &str {
                    &self.name
                }
                fn aliases(&self) -> &[String] {
                    &self.aliases
                }
                fn call(&mut self, name: &str, aliases: Vec<String>) {
                    (self.name, self.aliases) = (name.into(), aliases);
                }
                fn forget(&mut self, alias: &str) {
                    self.aliases.retain(|a| !a.eq_ignore_ascii_case(alias.trim()));
                }
            }
        )?
    };
}
pub(super) use rows;
