//! The forms in which the trade writes sheet, wire and outlines.
//!
//! Sheet and wire gauge: Brown & Sharpe / American wire gauge, ASTM B258:
//! d = 0.127 mm * 92^((36 - n)/39), n a whole number.

use super::quantity::{Misread, Quantity, compact, parse, quoted};
use super::tables::{Area, Length};
use std::f64::consts::PI;

/// Diameter or thickness of gauge `n` in metres (ASTM B258; 0..=40).
pub fn gauge_m(n: u32) -> f64 {
    0.127e-3 * libm::pow(92f64, (36.0 - f64::from(n)) / 39.0)
}

/// The whole gauge whose thickness this is, if it is one's (metres; 0..=36).
pub fn gauge_of(m: f64) -> Option<u32> {
    (0..=36).find(|n| (gauge_m(*n) - m).abs() < 1e-9 * m)
}

/// A sheet's thickness: a length, or a Brown & Sharpe gauge such as "18 ga".
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet(pub Length);

/// A lead's wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wire {
    /// American wire gauge.
    Awg(u32),
    /// Nominal cross-section of an IEC 60228 class 5 conductor, m2.
    Nominal(Area),
}

/// What the sheet's outline is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    /// Two sides.
    Rectangle(Length, Length),
    /// A round piece's diameter.
    Disc(Length),
    /// Known by its area alone, counted as a square.
    Area(Area),
}

impl Outline {
    /// Outline area of one piece, m2.
    pub fn area_m2(&self) -> f64 {
        match self {
            Self::Rectangle(a, b) => a.si() * b.si(),
            Self::Disc(d) => PI * d.si() * d.si() / 4.0,
            Self::Area(area) => area.si(),
        }
    }
}

/// Reads "1.2 mm", "0.05 in" or "18 ga".
///
/// # Errors
/// When it is neither a length nor a whole gauge number from 0 to 36.
pub fn parse_sheet(text: &str) -> Result<Sheet, Misread> {
    let t = text.trim();
    let number = ["gauge", "ga", "GA", "B&S"].iter().find_map(|end| t.strip_suffix(end));
    match number {
        None => parse::<Length>(t).map(Sheet).map_err(|mut e| {
            e.allowed += ", or a sheet gauge such as \"18 ga\"";
            e
        }),
        Some(n) => match n.trim().parse::<u32>() {
            Ok(n) if n <= 36 => Ok(Sheet(Length::from_si(gauge_m(n)))),
            _ => Err(Misread {
                found: quoted(t),
                allowed: "a sheet gauge from 0 ga to 36 ga (Brown & Sharpe), whole numbers".into(),
            }),
        },
    }
}

/// Reads "AWG 20", "20 AWG" or "0.75 mm2".
///
/// # Errors
/// When it is neither a whole gauge number nor an area; which gauges and sections are
/// in stock is checked later.
pub fn parse_wire(text: &str) -> Result<Wire, Misread> {
    let allowed = || "a wire such as \"AWG 20\" or \"0.75 mm2\"".to_string();
    let upper = text.trim().to_ascii_uppercase();
    let gauge = upper.strip_prefix("AWG").or_else(|| upper.strip_suffix("AWG"));
    match gauge {
        Some(n) => n
            .trim()
            .parse::<u32>()
            .map(Wire::Awg)
            .map_err(|_| Misread { found: quoted(text), allowed: allowed() }),
        None => parse::<Area>(text)
            .map(Wire::Nominal)
            .map_err(|e| Misread { found: e.found, allowed: allowed() }),
    }
}

/// Reads "42 mm x 28 mm" (or "42 x 28 mm") and "60 mm round".
///
/// # Errors
/// When it is neither two lengths nor a diameter.
pub fn parse_outline(text: &str) -> Result<Outline, Misread> {
    const ALLOWED: &str =
        "two sides such as \"42 mm x 28 mm\", or a diameter such as \"60 mm round\"";
    let wrong = |e: Misread| Misread { found: e.found, allowed: ALLOWED.into() };
    let t = text.trim();
    if let Some(d) = ["round", "dia"].iter().find_map(|end| t.strip_suffix(end)) {
        return parse::<Length>(d).map(Outline::Disc).map_err(wrong);
    }
    let Some((a, b)) = t.split_once(['x', 'X', '×']) else {
        return Err(Misread { found: quoted(t), allowed: ALLOWED.into() });
    };
    let b_len = parse::<Length>(b).map_err(wrong)?;
    // "42 x 28 mm": the unit said once counts for both sides.
    let bare = a.trim().bytes().all(|c| c.is_ascii_digit() || c == b'.');
    let a_len = if bare && !a.trim().is_empty() {
        let unit = b.trim().trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
        parse::<Length>(&compact(&format!("{a}{unit}")))
    } else {
        parse::<Length>(a)
    };
    Ok(Outline::Rectangle(a_len.map_err(wrong)?, b_len))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gauges_follow_the_standard() {
        // ASTM B258: 18 AWG 1.024 mm, 36 AWG 0.127 mm (0.005 in), 0 AWG 8.252 mm.
        for (n, mm) in [(18, 1.0237), (36, 0.1270), (0, 8.2515), (20, 0.8118)] {
            assert!((gauge_m(n) * 1e3 - mm).abs() < 5e-5, "{n}");
        }
        assert!((parse_sheet("18 ga").unwrap().0.si() - 1.0237e-3).abs() < 5e-8);
        assert!((parse_sheet("1.2 mm").unwrap().0.si() - 1.2e-3).abs() < 1e-12);
        for bad in ["99 ga", "1.5 ga", "-3 ga", "ga", "1.2"] {
            assert!(parse_sheet(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn outlines_and_wires() {
        let rect = Outline::Rectangle(Length::from_si(0.042), Length::from_si(0.028));
        for text in ["42 mm x 28 mm", "42mm x 28mm", "42 x 28 mm", "4.2 cm × 28 mm"] {
            let got = parse_outline(text).unwrap();
            assert!((got.area_m2() - rect.area_m2()).abs() < 1e-12, "{text}");
        }
        assert!((parse_outline("60 mm round").unwrap().area_m2() - 2.827_433e-3).abs() < 1e-9);
        for bad in ["42 mm", "42 x 28", "x", "42 mm x", "42 mm x 28 mm x 3 mm", "a x b"] {
            assert!(parse_outline(bad).is_err(), "{bad}");
        }
        assert_eq!(parse_wire("AWG 20").unwrap(), Wire::Awg(20));
        assert_eq!(parse_wire("20 awg").unwrap(), Wire::Awg(20));
        assert!(matches!(parse_wire("0.75 mm2").unwrap(), Wire::Nominal(_)));
        for bad in ["AWG", "AWG 20.5", "20", "thick"] {
            assert!(parse_wire(bad).is_err(), "{bad}");
        }
    }
}
