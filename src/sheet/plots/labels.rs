//! Where words go: how wide they are, and how they keep out of each other's way.

use super::sizes::{At, LINE, TEXT};

/// Width of a text in units: on the wide side of what sans-serif fonts need, for it must
/// not be cut in any.
pub fn width(text: &str, size: f64) -> f64 {
    text.chars().map(|c| size * advance(c)).sum()
}

/// Advance of a character over the font's size, after the widest of common fonts (measured
/// roughly, from memory).
fn advance(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '\'' | '|' | 'I' => 0.30,
        ' ' | '.' | ',' | ':' | ';' => 0.34,
        'f' | 't' | 'r' | '-' | '(' | ')' | '/' => 0.42,
        'm' | 'w' | 'M' | 'W' | '%' | '@' => 0.96,
        'A'..='Z' | '&' => 0.74,
        '°' => 0.50,
        c if c.is_ascii() => 0.64,
        c if (c as u32) < 0x2000 => 0.74,
        _ => 1.05,
    }
}

/// A text cut to a width, with an ellipsis where something is missing.
pub fn shortened(text: &str, most: f64, size: f64) -> String {
    if width(text, size) <= most {
        return text.to_string();
    }
    let mut kept = String::new();
    let mut used = width("…", size);
    for c in text.chars() {
        used += size * advance(c);
        if used > most {
            break;
        }
        kept.push(c);
    }
    format!("{}…", kept.trim_end())
}

/// A text parted at spaces into lines of a width; a word too long for one is cut.
pub fn wrap(text: &str, most: f64, size: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), size) <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(shortened(word, most, size)),
        }
    }
    lines
}

/// Moves heights apart until each has `room`, between `top` and `bottom`; keeps their order
/// and stays as near as may be to where they were asked for.
pub fn spread(asked: &[f64], room: f64, top: f64, bottom: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..asked.len()).collect();
    order.sort_by(|a, b| asked[*a].total_cmp(&asked[*b]));
    let room = room.min((bottom - top) / asked.len().max(1) as f64);
    let mut placed: Vec<f64> = order.iter().map(|n| asked[*n]).collect();
    // Neighbours too close push each other apart by halves until all have their room.
    for _ in 0..64 {
        for n in 1..placed.len() {
            let lacking = room - (placed[n] - placed[n - 1]);
            if lacking > 0.0 {
                placed[n - 1] -= lacking / 2.0;
                placed[n] += lacking / 2.0;
            }
        }
    }
    let half = room / 2.0;
    let mut least = top + half;
    for y in &mut placed {
        *y = y.max(least);
        least = *y + room;
    }
    let mut most = bottom - half;
    for y in placed.iter_mut().rev() {
        *y = y.min(most);
        most = *y - room;
    }
    let mut heights = vec![0.0; asked.len()];
    for (n, y) in order.into_iter().zip(placed) {
        heights[n] = y;
    }
    heights
}

/// A box that words fill: left, top, right, bottom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Words {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Words {
    /// Of a text of the usual size that starts at `at`, its middle line there.
    pub fn at(at: At, text: &str) -> Self {
        let half = 0.62 * TEXT;
        Self { left: at.0, top: at.1 - half, right: at.0 + width(text, TEXT), bottom: at.1 + half }
    }

    /// Of lines of words under each other, the first one's middle line through `at`.
    pub fn block(at: At, lines: &[String]) -> Self {
        let first = Self::at(at, "");
        let wide = lines.iter().map(|line| width(line, TEXT)).fold(0.0, f64::max);
        let below = LINE * (lines.len().max(1) - 1) as f64;
        Self { right: at.0 + wide, bottom: first.bottom + below, ..first }
    }

    fn meets(&self, other: &Self) -> bool {
        self.left < other.right + 8.0
            && other.left < self.right + 8.0
            && self.top < other.bottom
            && other.top < self.bottom
    }

    fn holds(&self, p: &At) -> bool {
        p.0 > self.left - 4.0 && p.0 < self.right + 4.0 && p.1 > self.top && p.1 < self.bottom
    }

    fn within(&self, outer: &Self) -> bool {
        self.left >= outer.left
            && self.right <= outer.right
            && self.top >= outer.top
            && self.bottom <= outer.bottom
    }
}

/// Finds free places for words among curves.
pub struct Placer {
    frame: Words,
    taken: Vec<Words>,
    /// Points on lines, and how bad it is to write over each.
    lines: Vec<(At, usize)>,
}

impl Placer {
    pub fn new(frame: Words) -> Self {
        Self { frame, taken: Vec::new(), lines: Vec::new() }
    }

    /// Keeps words off a line; the more so the greater its weight.
    pub fn avoid(&mut self, line: &[At], weight: usize) {
        for pair in line.windows(2) {
            let length = libm::hypot(pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
            let parts = (length / 6.0).ceil().clamp(1.0, 200.0) as usize;
            self.lines.extend((0..parts).map(|n| {
                let share = n as f64 / parts as f64;
                let along = |a: f64, b: f64| a + share * (b - a);
                ((along(pair[0].0, pair[1].0), along(pair[0].1, pair[1].1)), weight)
            }));
        }
        self.lines.extend(line.last().map(|p| (*p, weight)));
    }

    /// Keeps words off a mark of a radius.
    pub fn mark(&mut self, at: At, r: f64) {
        let (left, right, top, bottom) = (at.0 - r, at.0 + r, at.1 - r, at.1 + r);
        self.taken.push(Words { left, top, right, bottom });
    }

    /// The best of the places where a text may start, each with how far-fetched it is; none
    /// when other words are in all of them, or lines of more weight than is `bearable`.
    pub fn place(&mut self, text: &str, places: &[(At, usize)], bearable: usize) -> Option<At> {
        self.place_block(&[text.to_string()], places, bearable)
    }

    /// The best of the places for lines of words under each other, by the rule of
    /// [`Placer::place`].
    pub fn place_block(
        &mut self,
        lines: &[String],
        places: &[(At, usize)],
        bearable: usize,
    ) -> Option<At> {
        let boxed = places.iter().map(|(at, far)| (*at, *far, Words::block(*at, lines)));
        let free = boxed.filter(|(_, _, words)| {
            words.within(&self.frame) && !self.taken.iter().any(|t| t.meets(words))
        });
        let crossed = |words: &Words| -> usize {
            self.lines.iter().filter(|(p, _)| words.holds(p)).map(|(_, weight)| weight).sum()
        };
        let weighed = free.map(|(at, far, words)| (crossed(&words), far, at, words));
        let (weight, _, at, words) = weighed.min_by_key(|(weight, far, ..)| weight + far)?;
        if weight > bearable {
            return None;
        }
        self.taken.push(words);
        Some(at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spread_keeps_order_and_room() {
        let spread_apart = spread(&[100.0, 104.0, 50.0], 54.0, 0.0, 300.0);
        assert!(spread_apart[1] - spread_apart[0] > 53.0);
        assert!(spread_apart[0] - spread_apart[2] > 53.0);
        let at_the_edge = spread(&[298.0, 299.0], 54.0, 0.0, 300.0);
        assert!(at_the_edge[1] <= 273.1 && at_the_edge[0] <= 219.1, "{at_the_edge:?}");
        assert_eq!(spread(&[], 54.0, 0.0, 300.0), Vec::<f64>::new());
        assert_eq!(spread(&[40.0], 54.0, 0.0, 300.0), [40.0]);
    }

    #[test]
    fn long_titles_are_cut_to_fit() {
        assert_eq!(shortened("short", 400.0, TEXT), "short");
        let cut = shortened(&"long ".repeat(40), 400.0, TEXT);
        assert!(cut.ends_with('…') && width(&cut, TEXT) <= 400.0, "{cut}");
    }

    #[test]
    fn notes_are_parted_at_spaces() {
        assert_eq!(wrap("", 100.0, TEXT), Vec::<String>::new());
        let lines = wrap("a note that runs on over more than one line", 200.0, TEXT);
        assert_eq!(lines.join(" "), "a note that runs on over more than one line");
        assert!(lines.len() > 1 && lines.iter().all(|l| width(l, TEXT) <= 200.0), "{lines:?}");
    }

    #[test]
    fn words_keep_off_words_and_curves() {
        let frame = Words { left: 0.0, top: 0.0, right: 400.0, bottom: 200.0 };
        let mut placer = Placer::new(frame);
        placer.avoid(&[(0.0, 50.0), (400.0, 50.0)], 1);
        let places = [((10.0, 50.0), 0), ((10.0, 100.0), 0)];
        assert_eq!(placer.place("limit", &places, 0), Some((10.0, 100.0)));
        assert_eq!(placer.place("limit", &places, 0), None);
        assert_eq!(placer.place("limit", &places, 99), Some((10.0, 50.0)));
        assert_eq!(placer.place("limit", &places, 99), None);
        assert_eq!(placer.place("limit", &[((390.0, 20.0), 0)], 99), None);
    }
}
