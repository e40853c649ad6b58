//! Reads a number with its unit.

/// One way of writing a unit: SI value = `factor` * number + `offset`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// As written after the number.
    pub name: &'static str,
    /// SI units in one of this unit.
    pub factor: f64,
    /// SI value of the unit's zero (temperatures only).
    pub offset: f64,
}

/// A kind of quantity: what to call it and the units it may be written in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kind {
    /// With its article: "a length".
    pub what: &'static str,
    /// The accepted units; the first few are the ones to suggest.
    pub units: &'static [Unit],
    /// How many units from the front a message names.
    pub named: usize,
}

impl Kind {
    /// "a length with a unit: mm, cm, m, in, thou".
    pub fn allowed(&self) -> String {
        let names: Vec<_> = self.units[..self.named].iter().map(|u| u.name).collect();
        format!("{} with a unit: {}", self.what, names.join(", "))
    }
}

/// A typed quantity that can be written with a unit.
pub trait Quantity: Copy {
    /// Its units.
    const KIND: Kind;
    /// From the value in coherent SI units.
    fn from_si(si: f64) -> Self;
    /// The value in coherent SI units.
    fn si(self) -> f64;
}

/// Why a text is no quantity: what is wrong with it, and what would be right.
#[derive(Debug, Clone, PartialEq)]
pub struct Misread {
    /// What was found, in words.
    pub found: String,
    /// What is allowed.
    pub allowed: String,
}

/// Reads a number with its unit, as in "12 mm", "0.5in", "1/16 in".
///
/// # Examples
///
/// ```
/// use restbite::units::{Current, Misread, Quantity, parse};
///
/// let current: Current = parse("350 mA")?;
/// assert!((current.si() - 0.35).abs() < 1e-12);
/// let wrong: Misread = parse::<Current>("350 mV").unwrap_err();
/// assert!(wrong.allowed.contains("mA"));
/// # Ok::<(), Misread>(())
/// ```
///
/// # Errors
/// When the number is missing, not finite or malformed, or the unit is missing or is
/// not one of the quantity's.
pub fn parse<Q: Quantity>(text: &str) -> Result<Q, Misread> {
    let misread = |found: String| Misread { found, allowed: Q::KIND.allowed() };
    if text.trim().is_empty() {
        return Err(misread(quoted(text)));
    }
    let (digits, unit) = split(text);
    let number = read_number(digits).map_err(|why| misread(format!("{}{why}", quoted(text))))?;
    if unit.is_empty() {
        return Err(misread(format!("{}, a bare number", quoted(text))));
    }
    let row = find_unit(&Q::KIND, unit)
        .ok_or_else(|| misread(unknown_unit(&Q::KIND, text, digits, unit)))?;
    let si = number * row.factor + row.offset;
    if !si.is_finite() {
        return Err(misread(format!("{}, too large a number", quoted(text))));
    }
    Ok(Q::from_si(si))
}

fn find_unit(kind: &Kind, unit: &str) -> Option<Unit> {
    let same = |u: &&Unit| u.name == unit || compact(u.name) == compact(unit);
    kind.units.iter().find(same).copied()
}

fn unknown_unit(kind: &Kind, whole: &str, number: &str, unit: &str) -> String {
    let alike = |u: &&Unit| {
        u.name.eq_ignore_ascii_case(unit)
            || u.name.strip_prefix("deg").is_some_and(|letter| letter.eq_ignore_ascii_case(unit))
    };
    let whole = quoted(whole);
    if let Some(near) = kind.units.iter().find(alike) {
        return format!("{whole}; did you mean \"{} {}\"?", short(number), near.name);
    }
    let goes_on =
        |word: &str| word.starts_with(|c: char| "+-:/*.".contains(c) || c.is_ascii_digit());
    if goes_on(unit) || unit.split_whitespace().skip(1).any(goes_on) {
        return format!("{whole}, which is not one number with one unit");
    }
    format!("{whole}, whose unit is not one of these")
}

/// A unit without blanks, and with one letter for micro and one for ohm, which keyboards
/// write in two ways each.
pub(super) fn compact(unit: &str) -> String {
    let one = |c: char| match c {
        '\u{3bc}' => 'µ',
        '\u{2126}' => 'Ω',
        c => c,
    };
    unit.chars().filter(|c| !c.is_whitespace()).map(one).collect()
}

/// The head of a text that someone may have made very long, on one line.
pub fn short(text: &str) -> String {
    const LONG: usize = 60;
    let clean: String =
        text.chars().take(LONG).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(LONG).is_some() { format!("{clean}...") } else { clean }
}

pub(super) fn quoted(text: &str) -> String {
    match text.trim() {
        "" => "an empty text".into(),
        text => format!("\"{}\"", short(text)),
    }
}

/// Splits "12 mm" into "12" and "mm"; an exponent ("1e-3 m") stays with the number.
fn split(text: &str) -> (&str, &str) {
    let text = text.trim();
    let bytes = text.as_bytes();
    let mut end = 0;
    while end < bytes.len() {
        let b = bytes[end];
        let exponent = matches!(b, b'e' | b'E')
            && end > 0
            && (bytes[end - 1].is_ascii_digit() || bytes[end - 1] == b'.')
            && matches!(bytes.get(end + 1), Some(b'0'..=b'9' | b'+' | b'-'));
        let sign = matches!(b, b'+' | b'-') && (end == 0 || matches!(bytes[end - 1], b'e' | b'E'));
        let fraction = b == b'/' && matches!(bytes.get(end + 1), Some(b'0'..=b'9'));
        if b.is_ascii_digit() || matches!(b, b'.' | b',') || exponent || sign || fraction {
            end += 1;
        } else {
            break;
        }
    }
    (&text[..end], text[end..].trim())
}

/// A finite decimal number, or a fraction as inches are written ("1/16"); failing that,
/// what to say after the text.
fn read_number(text: &str) -> Result<f64, &'static str> {
    if text.is_empty() {
        return Err(", which does not begin with a number");
    }
    if text.contains(',') {
        return Err(", with a comma; write a decimal point, and nothing between thousands");
    }
    let plain = |t: &str| t.parse::<f64>().ok().filter(|x| x.is_finite());
    let value = match text.split_once('/') {
        None => plain(text),
        Some((a, b)) => match (plain(a), plain(b)) {
            (Some(a), Some(b)) if b != 0.0 => Some(a / b),
            _ => None,
        },
    };
    value.ok_or(", which is not a number that can be used")
}

#[cfg(test)]
mod tests {
    use super::super::tables::*;
    use super::*;

    #[test]
    fn numbers_and_units_in_every_spacing() {
        for text in ["12 mm", "12mm", " 1.2 cm ", "0.012 m", "12e-3 m", "12E-3m", "1.2e1mm"] {
            assert!((parse::<Length>(text).unwrap().si() - 0.012).abs() < 1e-15, "{text}");
        }
        // NIST SP 811: 1 in = 25.4 mm exactly.
        assert!((parse::<Length>("1/16 in").unwrap().si() - 0.0015875).abs() < 1e-15);
        assert!((parse::<Temperature>("70 degF").unwrap().si() - 294.261_111_111).abs() < 1e-8);
        assert!((parse::<Conductivity>("95 mS/cm").unwrap().si() - 9.5).abs() < 1e-12);
        assert!((parse::<Charge>("2 Ah").unwrap().si() - 7200.0).abs() < 1e-9);
        // NIST SP 811: the US quart 0.946 352 9 L, the US fluid ounce 29.573 53 mL.
        for (text, m3) in [("1 qt", 9.463_529e-4), ("24 fl oz", 24.0 * 2.957_353e-5)] {
            assert!((parse::<Volume>(text).unwrap().si() / m3 - 1.0).abs() < 1e-6, "{text}");
            assert_eq!(parse::<Volume>(&text.replace(' ', "")), parse(text), "{text}");
        }
        // Greek mu for the micro sign, the ohm sign for Greek omega.
        assert!((parse::<Length>("350 \u{3bc}m").unwrap().si() - 0.35e-3).abs() < 1e-15);
        assert!((parse::<Resistance>("15 m\u{2126}").unwrap().si() - 0.015).abs() < 1e-15);
    }

    #[test]
    fn what_is_no_quantity_says_why() {
        for (text, word) in [
            ("12", "bare number"),
            ("mm", "does not begin with a number"),
            ("", "empty text"),
            ("nan mm", "does not begin with a number"),
            ("inf mm", "does not begin with a number"),
            ("1,2 mm", "comma"),
            ("1.2.3 mm", "not a number"),
            ("1e999 mm", "not a number"),
            ("1/0 in", "not a number"),
            ("12 V", "\"12 V\", whose unit"),
            ("12 MM", "did you mean \"12 mm\""),
            ("20-25 mm", "not one number"),
            ("1 1/4 in", "not one number"),
            ("1 m 20 cm", "not one number"),
        ] {
            let error = parse::<Length>(text).unwrap_err();
            assert!(error.found.contains(word), "{text}: {error:?}");
            assert!(error.allowed.contains("mm, cm"), "{text}: {error:?}");
        }
    }
}
