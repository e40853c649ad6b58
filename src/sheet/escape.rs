//! The one way by which a text gets into markup, SVG or HTML.

/// Control characters and what else XML 1.0 cannot hold become spaces.
pub fn one_line(text: &str) -> String {
    let bad =
        |c: char| c.is_control() || matches!(c, '\u{2028}'..='\u{202e}' | '\u{fffe}'..='\u{ffff}');
    text.chars().map(|c| if bad(c) { ' ' } else { c }).collect()
}

/// A text as it may stand between tags and in an attribute in double quotes.
pub fn escaped(text: &str) -> String {
    one_line(text)
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_gets_out_of_its_place() {
        let got = escaped("<script>alert('1')</script> \" & \u{0}\u{202e}\n");
        assert_eq!(got, "&lt;script&gt;alert('1')&lt;/script&gt; &quot; &amp;    ");
    }
}
