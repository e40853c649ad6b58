//! Words set for reading: a number stays with its unit, signs stand for words.

/// A space at which no line is broken.
pub const JOINED: char = '\u{a0}';

/// Keeps a number and its unit on one line.
pub fn together(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let joins = |k: usize| {
        chars[k] == ' '
            && k > 0
            && chars[k - 1].is_ascii_digit()
            && chars.get(k + 1).is_some_and(|c| c.is_ascii_alphabetic() || *c == '%')
    };
    (0..chars.len()).map(|k| if joins(k) { JOINED } else { chars[k] }).collect()
}

/// Degrees and areas as plotted: the sign is shorter than the word.
pub fn with_sign(text: &str) -> String {
    text.replace("deg", "°").replace("cm2", "cm²").replace("in2", "in²")
}

/// A sentence for a page that has all signs: ohms and powers too.
pub fn typeset(text: &str) -> String {
    // Powers first, or their figure would count as a number that wants its unit.
    let powers = [("cm2", "cm²"), ("in2", "in²"), ("mm2", "mm²"), ("in3", "in³"), ("cm3", "cm³")];
    let text = powers.iter().fold(text.to_string(), |text, (word, sign)| text.replace(word, sign));
    let text = with_sign(&together(&text));
    text.replace("mohm", "mΩ").replace("\u{a0}ohm", "\u{a0}Ω").replace("+-", "±")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_and_units() {
        assert_eq!(typeset("0.5 A/cm2 at 21 degC"), "0.5\u{a0}A/cm² at 21\u{a0}°C");
        assert_eq!(typeset("15 mohm, 2 ohm"), "15\u{a0}mΩ, 2\u{a0}Ω");
        assert_eq!(typeset("40 % (+-2)"), "40\u{a0}% (±2)");
    }
}
