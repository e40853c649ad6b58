//! The palette's contrasts, from the style itself.

use super::sheet::{SCRIPT, STYLE};
use std::collections::BTreeMap;

type Palette = BTreeMap<String, [f64; 3]>;

/// The colours of one block of the style, sRGB 0..=1.
fn palette(block: &str) -> Palette {
    let part = block.split("--").skip(1);
    part.filter_map(|line| {
        let (name, rest) = line.split_once(':')?;
        let hex = rest.trim().strip_prefix('#')?.get(..6)?;
        let channel = |n: usize| u8::from_str_radix(&hex[n..n + 2], 16).ok().map(f64::from);
        Some((name.to_string(), [channel(0)?, channel(2)?, channel(4)?].map(|c| c / 255.0)))
    })
    .collect()
}

/// WCAG 2.2, relative luminance and contrast ratio.
fn contrast(a: [f64; 3], b: [f64; 3]) -> f64 {
    let luminance = |c: [f64; 3]| {
        let [r, g, b] =
            c.map(|v| if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) });
        0.2126 * r + 0.7152 * g + 0.0722 * b
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn words_and_signs_stand_out_in_light_dark_and_print() {
    assert!((contrast([0.0; 3], [1.0; 3]) - 21.0).abs() < 1e-9);
    let blocks: Vec<Palette> = STYLE.split(":root").skip(1).map(palette).collect();
    assert_eq!(blocks.len(), 3);
    for p in &blocks {
        assert_eq!(p.len(), 13, "{p:?}");
        // 1.4.3: 4.5 for words; 1.4.11: 3 for lines that must be seen.
        for (words, grounds) in [
            ("ink", &["paper", "card", "water"][..]),
            ("quiet", &["paper", "card"]),
            ("plus", &["paper", "card"]),
            ("minus", &["paper", "card"]),
            ("warn", &["warn-paper", "paper"]),
            ("press-ink", &["press"]),
            ("press", &["card"]),
        ] {
            for ground in grounds {
                let got = contrast(p[words], p[*ground]);
                assert!(got >= 4.5, "{words} on {ground}: {got:.2}");
            }
        }
        for (line, ground) in
            [("edge", "paper"), ("edge", "card"), ("ink", "water"), ("ink", "metal")]
        {
            let got = contrast(p[line], p[ground]);
            assert!(got >= 3.0, "{line} on {ground}: {got:.2}");
        }
    }
}

#[test]
fn script_and_style_can_stand_in_the_page() {
    assert!(!SCRIPT.contains("]]>") && !SCRIPT.contains("</"));
    assert!(!STYLE.contains('<') && !STYLE.contains('&'));
}
