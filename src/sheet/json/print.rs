//! A value as it is printed.

use serde_json::Value;

/// One JSON object, its text ending in a newline.
pub fn print(value: &Value) -> String {
    // A map of plain values always prints.
    serde_json::to_string_pretty(value).map_or_else(|_| String::new(), |text| text + "\n")
}
