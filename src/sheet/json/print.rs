//! A value as it is printed.

use serde::Serialize;
use serde_json::ser::{Formatter, Serializer};
use std::io::{Result, Write};

/// One JSON object, its text ending in a newline.
pub fn print(value: &impl Serialize) -> String {
    // A map of plain values always prints.
    serde_json::to_string_pretty(value).map_or_else(|_| String::new(), |text| text + "\n")
}

/// One JSON object, compact but for its first list: each item of that on a line of its own.
pub fn print_listed(value: &impl Serialize) -> String {
    let mut out = Vec::new();
    let done = value.serialize(&mut Serializer::with_formatter(&mut out, Listed::default()));
    out.push(b'\n');
    done.ok().and_then(|()| String::from_utf8(out).ok()).unwrap_or_default()
}

/// Compact but for the lines of the first list in the outermost object.
#[derive(Default)]
struct Listed {
    /// Objects and lists that are open.
    depth: usize,
    /// Lists that the outermost object has had so far.
    lists: usize,
}

impl Listed {
    fn in_the_first_list(&self) -> bool {
        (self.depth, self.lists) == (2, 1)
    }
}

impl Formatter for Listed {
    fn begin_object<W: ?Sized + Write>(&mut self, out: &mut W) -> Result<()> {
        self.depth += 1;
        out.write_all(b"{")
    }

    fn end_object<W: ?Sized + Write>(&mut self, out: &mut W) -> Result<()> {
        self.depth -= 1;
        out.write_all(b"}")
    }

    fn begin_array<W: ?Sized + Write>(&mut self, out: &mut W) -> Result<()> {
        self.depth += 1;
        self.lists += usize::from(self.depth == 2);
        out.write_all(b"[")
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> Result<()> {
        out.write_all(match (self.in_the_first_list(), first) {
            (true, true) => b"\n",
            (true, false) => b",\n",
            (false, true) => b"",
            (false, false) => b",",
        })
    }

    fn end_array<W: ?Sized + Write>(&mut self, out: &mut W) -> Result<()> {
        out.write_all(if self.in_the_first_list() { b"\n]" } else { b"]" })?;
        self.depth -= 1;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn only_the_items_of_the_first_list_get_lines() {
        let value = json!({ "a": [{ "b": [1, 2] }, [3]], "c": [4, 5], "d": { "e": [6, 7] } });
        let text = "{\"a\":[\n{\"b\":[1,2]},\n[3]\n],\"c\":[4,5],\"d\":{\"e\":[6,7]}}\n";
        assert_eq!(print_listed(&value), text);
        assert_eq!(print_listed(&json!({ "a": [] })), "{\"a\":[\n]}\n");
    }
}
