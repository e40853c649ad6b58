//! The stock as JSON: one list of entries under each kind.

use crate::stock::{Entry, Shelf};
use serde_json::{Map, Value, json};

/// The answer of `stock`: the kinds asked for, and of each the entries asked for.
pub fn stock(shelves: &[Shelf]) -> Value {
    let mut map = Map::new();
    map.insert("schema".into(), json!("restbite.stock/1"));
    for shelf in shelves {
        map.insert(shelf.kind.into(), shelf.entries.iter().map(entry).collect());
    }
    Value::Object(map)
}

fn entry(entry: &Entry) -> Value {
    let mut map = Map::new();
    map.insert("name".into(), json!(entry.name));
    map.insert("aliases".into(), json!(entry.aliases));
    map.insert("origin".into(), json!(entry.file.as_deref().unwrap_or("built-in")));
    map.insert("replaces".into(), json!(entry.replaces));
    if let Value::Object(data) = &entry.data {
        map.extend(data.clone());
    }
    Value::Object(map)
}
