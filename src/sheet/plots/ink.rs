//! Colours and dashes. Own choice: slate, rust and verdigris, that lie apart in hue (also to
//! the colour-blind), in lightness and in their dashes.

use super::sizes::At;
use plotters::style::RGBColor;
use std::f64::consts::FRAC_1_SQRT_2;

/// How a curve and what belongs to it is plotted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ink {
    /// Of the line.
    pub line: RGBColor,
    /// Of the words beside it: the same hue, dark enough to read.
    pub words: RGBColor,
    /// Dash and space in turn, in units; empty for an unbroken line.
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
/// Behind a time of rest.
pub const REST: RGBColor = RGBColor(234, 237, 242);
/// Where the bath has taken metal away.
pub const RECESS: RGBColor = RGBColor(240, 246, 245);

/// Where a curve lies eight times in ten, and its edges.
pub const BAND: RGBColor = RGBColor(200, 211, 227);
/// Edges of that.
pub const BAND_EDGE: RGBColor = RGBColor(104, 124, 156);

/// Which way strokes run and how far apart, in units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hatch {
    /// Along a stroke; of length one.
    pub along: At,
    /// From one stroke to the next.
    pub apart: f64,
}

/// How an area is filled: a tint for the eye that sees colour, strokes for all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ground {
    /// Under the strokes.
    pub tint: RGBColor,
    /// Of the strokes.
    pub stroke: RGBColor,
    /// Of words on it.
    pub words: RGBColor,
    pub hatch: Hatch,
}

/// Where cells are too hot or give more than they bear: close strokes that rise.
pub const HOT: Ground = Ground {
    tint: RGBColor(253, 240, 231),
    stroke: RGBColor(212, 142, 104),
    words: RUST.words,
    hatch: Hatch { along: (FRAC_1_SQRT_2, -FRAC_1_SQRT_2), apart: 9.0 },
};
/// Where the resist gives way: wide strokes that fall.
pub const LIFTED: Ground = Ground {
    tint: RGBColor(234, 244, 242),
    stroke: RGBColor(104, 168, 158),
    words: VERDIGRIS.words,
    hatch: Hatch { along: (FRAC_1_SQRT_2, FRAC_1_SQRT_2), apart: 16.0 },
};
/// Where the pack goes empty: level strokes.
pub const SPENT: Ground = Ground {
    tint: RGBColor(235, 238, 245),
    stroke: RGBColor(122, 138, 172),
    words: SLATE.words,
    hatch: Hatch { along: (1.0, 0.0), apart: 13.0 },
};
/// Where it takes too long: upright strokes.
pub const LATE: Ground = Ground {
    tint: RGBColor(243, 241, 238),
    stroke: RGBColor(152, 148, 140),
    words: DARK,
    hatch: Hatch { along: (0.0, 1.0), apart: 13.0 },
};

/// Stops of [`heat`], from cool to hot: sand, ochre, rust, umber; each darker than the last.
const HEAT: [RGBColor; 4] =
    [RGBColor(250, 234, 196), RGBColor(226, 164, 78), RGBColor(166, 66, 26), RGBColor(58, 18, 22)];

/// Colour of warmth from 0, cool and light, to 1, hot and dark.
pub fn heat(share: f64) -> RGBColor {
    let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
    let along = share * (HEAT.len() - 1) as f64;
    let n = (along as usize).min(HEAT.len() - 2);
    let (a, b, part) = (HEAT[n], HEAT[n + 1], along - n as f64);
    let mix = |a: u8, b: u8| (f64::from(a) + part * (f64::from(b) - f64::from(a))).round() as u8;
    RGBColor(mix(a.0, b.0), mix(a.1, b.1), mix(a.2, b.2))
}

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
        for ink in [SLATE, RUST] {
            assert!(contrast(ink.line, BAND) > 3.0 && contrast(ink.words, BAND) > 4.5, "{ink:?}");
        }
        for ground in [PAPER, METAL, RECESS, BAND] {
            assert!(contrast(BAND_EDGE, ground) > 2.0, "{ground:?}");
        }
        for words in [DARK, QUIET] {
            assert!(contrast(words, PAPER) > 4.5 && contrast(words, REST) > 4.5);
        }
        for ink in [SLATE, RUST] {
            assert!(contrast(ink.line, REST) > 3.0 && contrast(ink.words, REST) > 4.5);
        }
    }

    #[test]
    fn warmth_darkens_all_the_way() {
        let l = |share| 116.0 * luminance(heat(share)).cbrt() - 16.0;
        for n in 1..=20 {
            let (cool, hot) = (f64::from(n - 1) / 20.0, f64::from(n) / 20.0);
            assert!(l(cool) - l(hot) > 2.0, "{hot}: {} {}", l(cool), l(hot));
        }
        assert_eq!((heat(f64::NAN), heat(9.0)), (HEAT[0], HEAT[3]));
    }

    #[test]
    fn grounds_differ_by_their_strokes_and_bear_words() {
        let grounds = [HOT, LIFTED, SPENT, LATE];
        for (n, ground) in grounds.iter().enumerate() {
            assert!(
                contrast(ground.words, PAPER) > 4.5 && contrast(ground.words, ground.tint) > 4.5
            );
            assert!(contrast(ground.stroke, ground.tint) > 2.0, "{ground:?}");
            assert!(grounds[..n].iter().all(|other| other.hatch.along != ground.hatch.along));
        }
    }
}
