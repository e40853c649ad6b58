//! What is wrong with a text that is not TOML, in words for the person who wrote it.
//!
//! The parser goes on after a fault and so reports what follows from it; here one fault
//! gives one complaint, with what would be right.

use super::complaint::{Complaint, Place};
use crate::units::short;
use toml::de::Error;

/// How deep lists and tables may stand within one another: the parser's limit.
pub const DEEPEST: usize = 80;

/// Most complaints about a text that is not TOML.
const MOST: usize = 10;
const LINE: &str = "KEY = VALUE, a table's head such as [piece], or a note after #";
const VALUE: &str = "a text or quantity in quotes such as \"12 mm\", a plain number, true or false";

/// A fault as the parser gives it.
struct Fault<'a> {
    at: usize,
    span: &'a str,
    message: &'a str,
}

impl Fault<'_> {
    /// The message without what the parser expected.
    fn head(&self) -> &str {
        self.message.split(", expected").next().unwrap_or(self.message)
    }

    /// Whether a list or table was still open at the end of the file.
    fn left_open(&self) -> Option<(char, char)> {
        match self.head() {
            "unclosed array" => Some(('[', ']')),
            "unclosed inline table" => Some(('{', '}')),
            _ => None,
        }
    }

    /// Whether it may come of a list or table that was never closed.
    fn follows(&self) -> bool {
        let inside = ["between", "array", "inline table", "unclosed"];
        inside.iter().any(|word| self.head().contains(word))
    }
}

/// One complaint for each fault, in the order of the text.
pub fn complaints(text: &str, errors: &[Error], place: impl Fn(usize) -> Place) -> Vec<Complaint> {
    let mut faults: Vec<Fault> = errors.iter().map(|e| fault(text, e)).collect();
    faults.sort_by_key(|f| f.at);
    let open = left_open(text, &faults);
    let end = open.as_ref().map_or(usize::MAX, |(at, _)| *at);
    let mut list: Vec<(usize, String)> = Vec::new();
    let mut last_line = None;
    for fault in faults.iter().take_while(|f| f.at < end) {
        if list.len() == MOST {
            break;
        }
        let line = text.get(..fault.at).map(|t| t.rfind('\n'));
        if line == last_line {
            continue; // one line, one fault: what is left of it cannot be read
        }
        let before = text.get(..fault.at).unwrap_or_default();
        if fault.head() == "duplicate key" && before.ends_with("[[") && !list.is_empty() {
            continue; // after another fault the parser takes a list of tables for a table
        }
        last_line = line;
        list.push((fault.at, said(fault, text.get(fault.at..).unwrap_or_default())));
        if fault.head().starts_with("carriage return") {
            break; // every line would say so
        }
    }
    list.extend(open.filter(|_| list.len() < MOST));
    let complaint = |(at, text)| Complaint { place: place(at), key: String::new(), text };
    list.into_iter().map(complaint).collect()
}

/// Where a list or table begins that is never closed, and what to say of it; whatever the
/// parser found wrong after that follows from it.
fn left_open(text: &str, faults: &[Fault]) -> Option<(usize, String)> {
    let (opening, closing) = faults.iter().find_map(Fault::left_open)?;
    let first = faults.iter().find(|f| f.follows())?.at;
    let mut start = first;
    for line in text.get(..first)?.rsplit('\n') {
        start -= line.len();
        let count = |sign| line.matches(sign).count();
        let head = line.trim_start().starts_with('[');
        if let Some(at) = line.find(opening).filter(|_| !head && count(opening) > count(closing)) {
            let said =
                format!("a \"{opening}\" that is not closed; write \"{closing}\" at its end");
            return Some((start + at, said));
        }
        start = start.saturating_sub(1);
    }
    let said = format!("a \"{opening}\" before this is not closed; write \"{closing}\" at its end");
    Some((first, said))
}

fn fault<'a>(text: &'a str, error: &'a Error) -> Fault<'a> {
    let message = error.message();
    match error.span() {
        Some(span) => {
            let at =
                if message.contains("multi-line") { opening(text, span.start) } else { span.start };
            Fault { at, span: text.get(span).unwrap_or_default(), message }
        }
        // Only a key of too many parts comes without its place.
        None => {
            let deep = |line: &&str| line.matches('.').count() >= DEEPEST;
            let line = text.lines().find(deep).unwrap_or(text);
            let at = line.as_ptr() as usize - text.as_ptr() as usize;
            Fault { at, span: "", message }
        }
    }
}

/// Where a text in three quotes begins that is open at `end`; a fault within it stays.
fn opening(text: &str, end: usize) -> usize {
    let before = text.get(..end).unwrap_or_default();
    let quotes = before.rfind("\"\"\"").max(before.rfind("'''"));
    quotes.filter(|_| end == text.len()).unwrap_or(end)
}

/// Text from the job, in the quotes that it does not hold itself.
fn marked(found: &str) -> String {
    if found.contains('"') { format!("'{found}'") } else { format!("\"{found}\"") }
}

/// The fault in words; `rest` is the text from it on.
fn said(fault: &Fault, rest: &str) -> String {
    let here = rest.chars().next();
    let line = rest.lines().next().unwrap_or_default();
    let found = line.split('#').next().unwrap_or_default().trim();
    let word = short(line.split([' ', '\t', ',', ']', '}', '#']).next().unwrap_or_default());
    let strange = here.filter(|c| c.is_control() && !matches!(c, '\r' | '\n'));
    if let Some(c) = strange {
        return format!("found the control character U+{:04X}; take it out", u32::from(c));
    }
    match fault.head() {
        "key with no value" => format!("no \"=\" after the key; allowed: {LINE}"),
        "invalid unquoted key" => {
            let c = here.unwrap_or(' ');
            format!(
                "found \"{c}\" in a key; allowed: {LINE} (a key has letters a to z, digits, - and _)"
            )
        }
        "invalid key-value pair" => format!("found {}; allowed: {LINE}", marked(&short(found))),
        "unquoted keys cannot be empty" if here == Some('=') => {
            format!("no key before \"=\"; allowed: {LINE}")
        }
        "unquoted keys cannot be empty" => {
            "no name between the brackets; allowed: a table's head such as [piece]".into()
        }
        "string values must be quoted" => value_without_quotes(&short(found)),
        "invalid boolean" => format!("found {word}; allowed: true or false, in small letters"),
        "unexpected key or value" => after_the_value(&short(found)),
        "invalid basic string" | "invalid literal string" => {
            "a quote on this line is not closed; allowed: a text that begins and ends in quotes on \
             one line"
                .into()
        }
        "invalid multi-line basic string" | "invalid multi-line literal string" => {
            "a text that begins with three quotes is not closed; write three quotes at its end"
                .into()
        }
        "missing escaped value" | "too few unicode value digits" => {
            "found a backslash in a text; allowed: \\\\ for a backslash, or single quotes around \
             the text"
                .into()
        }
        "unclosed table" | "unclosed array table" => {
            "the brackets of a table's head are not closed; allowed: a head such as [piece], on a \
             line of its own"
                .into()
        }
        "duplicate key" => {
            format!("\"{}\" stands here a second time; allowed: once", short(fault.span))
        }
        "missing comma between array elements" | "missing comma between key-value pairs" => {
            format!(
                "no comma before {}; allowed: a comma between one entry and the next",
                marked(&short(found))
            )
        }
        "cannot recurse further; max recursion depth met" | "recursion limit" => {
            format!(
                "not TOML as read here: lists or tables {DEEPEST} deep in one another; allowed: fewer"
            )
        }
        "extra comma in array" | "extra comma in inline table" => {
            "a comma too many; allowed: one between an entry and the next".into()
        }
        head if head.starts_with("carriage return") => {
            "lines that end in a carriage return alone; save the job with the line ends of Linux \
             or Windows"
                .into()
        }
        head if is_about_a_number(head) => {
            format!("found {word}; allowed: a plain number such as 3 or 0.8")
        }
        head if head.contains("date") || head.contains("time") => {
            format!("found {word}, a date that there is not; allowed: {VALUE}")
        }
        _ => format!("not TOML: {}", fault.message.replace('\n', "; ")),
    }
}

fn value_without_quotes(found: &str) -> String {
    if found.is_empty() {
        return format!("no value after \"=\"; allowed: {VALUE}");
    }
    if found.starts_with(['“', '”', '„', '«', '»', '‘', '’']) {
        return format!("found {found}, in curly quotes; allowed: straight ones, as in \"12 mm\"");
    }
    format!("found {found} without quotes; allowed: {VALUE}")
}

fn after_the_value(found: &str) -> String {
    let mut signs = found.chars();
    match (signs.next(), signs.next()) {
        (Some(','), Some('0'..='9')) => {
            format!("found \"{found}\" after a number; allowed: a decimal point, not a comma")
        }
        (Some('"'), _) => {
            "found a quote after the end of a text; allowed: for inches in, as in \"1.5 in\"".into()
        }
        _ => format!(
            "found {} after the value; allowed: one KEY = VALUE on a line, notes after #",
            marked(found)
        ),
    }
}

fn is_about_a_number(head: &str) -> bool {
    let words = [
        "zero", "mantissa", "fraction", "exponent", "sign", "radix", "integer", "number", "digits",
    ];
    words.iter().any(|word| head.contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reader::tree::parse;

    #[test]
    fn one_fault_gives_one_complaint() {
        for (text, place, word) in [
            ("a = 0.35 mm\n", "a.toml:1:5", "0.35 mm without quotes"),
            ("a: 3\n", "a.toml:1:2", "\":\""),
            ("a = [1,\nb = 2\nc = 3\n", "a.toml:1:5", "a \"[\" that is not closed"),
            ("a = { b = 1\n[c]\nd = 2\n", "a.toml:1:5", "a \"{\" that is not closed"),
            ("a = \"x\r\nb = 2\r\n", "a.toml:1:7", "a quote on this line"),
            ("a = 1\ra = 2\rb = 3\r", "a.toml:1:7", "carriage return"),
            ("a = 1\na = 2\n", "a.toml:2:1", "\"a\" stands here"),
        ] {
            let list = parse(text, "a.toml").unwrap_err().0;
            assert_eq!(list.len(), 1, "{text}: {list:?}");
            assert_eq!(list[0].place.to_string(), place, "{text}");
            assert!(list[0].text.contains(word), "{text}: {list:?}");
        }
        // A fault before a list that is left open is told as well.
        let list = parse("a = x\nb = [1,\nc = 2\n", "a.toml").unwrap_err().0;
        assert_eq!(list.len(), 2, "{list:?}");
    }

    #[test]
    fn the_parsers_words_are_the_ones_matched() {
        // Each head that this file matches, and a text in which the parser says it.
        for (head, text) in [
            ("key with no value", "a"),
            ("invalid unquoted key", "ä = 1"),
            ("invalid key-value pair", "} = 1"),
            ("unquoted keys cannot be empty", "= 1"),
            ("string values must be quoted", "a = 3 mm"),
            ("invalid boolean", "a = True"),
            ("unexpected key or value", "a = 1, 2"),
            ("invalid basic string", "a = \"x"),
            ("invalid literal string", "a = 'x"),
            ("invalid multi-line basic string", "a = \"\"\"x"),
            ("invalid multi-line literal string", "a = '''x"),
            ("missing escaped value", "a = \"\\q\""),
            ("too few unicode value digits", "a = \"\\u12\""),
            ("unclosed table", "[a"),
            ("unclosed array table", "[[a"),
            ("unclosed array", "a = [1"),
            ("unclosed inline table", "a = { b = 1"),
            ("duplicate key", "a = 1\na = 2"),
            ("missing comma between array elements", "a = [\"x\" \"y\"]"),
            ("missing comma between key-value pairs", "a = { b = 1 c = 2 }"),
            ("extra comma in array", "a = [1,,2]"),
            ("extra comma in inline table", "a = { b = 1,, c = 2 }"),
        ] {
            let (_, errors) = toml::de::DeTable::parse_recoverable(text);
            let errors: Vec<_> = errors.iter().map(|e| fault(text, e)).collect();
            let heads: Vec<_> = errors.iter().map(Fault::head).collect();
            assert!(heads.contains(&head), "{text:?}: {head:?} is not among {heads:?}");
        }
        let head = |text: &str| {
            let (_, errors) = toml::de::DeTable::parse_recoverable(text);
            fault(text, &errors[0]).head().to_string()
        };
        assert!(head("a = 1\rb = 2").starts_with("carriage return"));
        for text in ["a = 01", "a = 1.", "a = 1e", "a = +-1", "a = 0X1"] {
            assert!(is_about_a_number(&head(text)), "{text:?}: {}", head(text));
        }
        for text in ["a = 2026-13-01", "a = 25:00:00", "a = 2026-02-30"] {
            let head = head(text);
            assert!(head.contains("date") || head.contains("time"), "{text:?}: {head}");
        }
        let deep = format!("a = {}", "[".repeat(DEEPEST + 1));
        assert_eq!(head(&deep), "cannot recurse further; max recursion depth met");
        assert_eq!(head(&format!("{}b = 1", "a.".repeat(DEEPEST + 1))), "recursion limit");
    }
}
