//! Colours and dashes. Own choice: slate, rust and verdigris, that lie apart in hue (also to
//! the colour-blind), in lightness and in their dashes.

use plotters::style::RGBColor;

/// How a curve and what belongs to it is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ink {
    /// Of the line.
    pub line: RGBColor,
    /// Of the words beside it: the same hue, dark enough to read.
    pub words: RGBColor,
    /// Dash and gap in turn, in units; empty for an unbroken line.
    pub dash: &'static [f64],
}

/// First curve: the source, a cell's hot spot, the depth.
pub const SLATE: Ink = Ink { line: RGBColor(22, 48, 84), words: RGBColor(22, 48, 84), dash: &[] };
/// Second: the current, a cell's surface.
pub const RUST: Ink =
    Ink { line: RGBColor(178, 78, 26), words: RGBColor(150, 62, 16), dash: &[22.0, 8.0] };
/// Third: the bath.
pub const VERDIGRIS: Ink =
    Ink { line: RGBColor(70, 152, 140), words: RGBColor(28, 100, 90), dash: &[7.0, 7.0] };

/// Dashes of a limit: long and short.
pub const LIMIT_DASH: &[f64] = &[14.0, 6.0, 3.0, 6.0];

/// Headings.
pub const DARK: RGBColor = RGBColor(28, 31, 38);
/// Words on axes.
pub const QUIET: RGBColor = RGBColor(84, 90, 100);
/// Lines of axes.
pub const AXIS: RGBColor = RGBColor(138, 144, 154);
/// Lines of the grid.
pub const GRID: RGBColor = RGBColor(228, 230, 234);
/// Paper.
pub const PAPER: RGBColor = RGBColor(255, 255, 255);
/// The sheet's metal.
pub const METAL: RGBColor = RGBColor(222, 220, 216);
/// The metal under the floor, which must stay.
pub const METAL_KEPT: RGBColor = RGBColor(198, 195, 190);
/// Where the bath has taken metal away.
pub const RECESS: RGBColor = RGBColor(240, 246, 245);

#[cfg(test)]
mod tests {
    use super::*;

    fn linear(c: RGBColor) -> [f64; 3] {
        // IEC 61966-2-1 (sRGB), from memory.
        [c.0, c.1, c.2].map(|v| {
            let v = f64::from(v) / 255.0;
            if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        })
    }

    fn luminance(c: RGBColor) -> f64 {
        let [r, g, b] = linear(c);
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    fn contrast(a: RGBColor, b: RGBColor) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn curves_differ_by_lightness_and_dash() {
        // CIE 1976 lightness, from memory.
        let l = |i: Ink| 116.0 * luminance(i.line).cbrt() - 16.0;
        assert!(l(RUST) - l(SLATE) > 12.0, "{} {}", l(SLATE), l(RUST));
        assert!(l(VERDIGRIS) - l(RUST) > 12.0, "{} {}", l(RUST), l(VERDIGRIS));
        let dashes = [SLATE.dash, RUST.dash, VERDIGRIS.dash, LIMIT_DASH];
        for (n, dash) in dashes.iter().enumerate() {
            assert!(dashes[..n].iter().all(|other| other != dash));
        }
    }

    #[test]
    fn lines_and_words_stand_out() {
        // WCAG 2.1: 3 for graphics (1.4.11), 4.5 for text (1.4.3).
        for ink in [SLATE, RUST, VERDIGRIS] {
            assert!(contrast(ink.line, PAPER) > 3.0);
            for ground in [PAPER, METAL, RECESS] {
                assert!(contrast(ink.words, ground) > 4.5, "{ink:?} on {ground:?}");
            }
        }
        for words in [DARK, QUIET] {
            assert!(contrast(words, PAPER) > 4.5);
        }
    }
}
