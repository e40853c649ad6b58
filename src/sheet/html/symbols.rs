//! Signs of the wiring diagram. Cell, a.c. to d.c. converter and direct current are shown as
//! IEC 60617 has them (from memory: a cell's long line is plus); clip, pan and sheet are our
//! own. Units are the diagram's, y downward.

use super::mark::Markup;
use crate::sheet::plots::labels::shortened;
use crate::sheet::words::typeset::typeset;

/// A point.
pub type At = (f64, f64);

/// Size of the words.
pub const WORDS: f64 = 14.0;
/// Half the long line of a cell.
pub const CELL_HALF: f64 = 15.0;
/// From the middle of a cell to either of its lines.
pub const PLATE: f64 = 4.0;

/// The diagram as it grows.
pub struct Diagram(pub Markup);

fn number(x: f64) -> String {
    format!("{}", (x * 10.0).round() / 10.0)
}

impl Diagram {
    /// Lines from point to point.
    pub fn line(&mut self, class: &str, points: &[At]) {
        let list: Vec<String> =
            points.iter().map(|p| format!("{},{}", number(p.0), number(p.1))).collect();
        self.0.void("polyline", &[("class", class), ("points", &list.join(" "))]);
    }

    /// A rectangle by its upper left corner and size.
    pub fn block(&mut self, class: &str, at: At, size: (f64, f64)) {
        let [x, y, w, h] = [at.0, at.1, size.0, size.1].map(number);
        self.0.void(
            "rect",
            &[("class", class), ("x", &x), ("y", &y), ("width", &w), ("height", &h), ("rx", "2")],
        );
    }

    /// A dot.
    pub fn dot(&mut self, class: &str, at: At, radius: f64) {
        let [x, y, r] = [at.0, at.1, radius].map(number);
        self.0.void("circle", &[("class", class), ("cx", &x), ("cy", &y), ("r", &r)]);
    }

    /// Words about a point, at its left ("end"), middle or right ("start"), cut to `most`.
    pub fn words(&mut self, class: &str, at: At, side: &str, most: f64, text: &str) {
        let [x, y] = [at.0, at.1].map(number);
        let attributes =
            [("class", class), ("x", x.as_str()), ("y", y.as_str()), ("text-anchor", side)];
        self.0.leaf("text", &attributes, &typeset(&shortened(text, most, WORDS)));
    }

    /// A cell, minus to the left.
    pub fn cell(&mut self, at: At) {
        let (minus, plus) = (at.0 - PLATE, at.0 + PLATE);
        self.line("minus-plate", &[(minus, at.1 - 8.0), (minus, at.1 + 8.0)]);
        self.line("plus-plate", &[(plus, at.1 - CELL_HALF), (plus, at.1 + CELL_HALF)]);
    }

    /// A pole's sign in a ring, so that it is told by shape as well.
    pub fn pole(&mut self, plus: bool, at: At) {
        let class = if plus { "sign plus" } else { "sign minus" };
        self.dot(class, at, 9.0);
        self.line(class, &[(at.0 - 5.0, at.1), (at.0 + 5.0, at.1)]);
        if plus {
            self.line(class, &[(at.0, at.1 - 5.0), (at.0, at.1 + 5.0)]);
        }
    }

    /// A converter from mains to direct current, 64 by 48, about its middle; mains from above.
    pub fn converter(&mut self, at: At) {
        let (left, top) = (at.0 - 32.0, at.1 - 24.0);
        self.block("body", (left, top), (64.0, 48.0));
        self.line("wire", &[(left, top + 48.0), (left + 64.0, top)]);
        let (x, y) = (left + 12.0, top + 15.0);
        let (x0, y0) = (number(x), number(y));
        let wave = format!("M{x0} {y0}q4 -8 8 0t8 0");
        self.0.void("path", &[("class", "wire"), ("d", &wave)]);
        let (x, y) = (left + 38.0, top + 32.0);
        self.line("wire", &[(x, y), (x + 18.0, y)]);
        for k in 0..3 {
            let from = x + 7.0 * f64::from(k);
            self.line("wire", &[(from, y + 5.0), (from + 4.0, y + 5.0)]);
        }
        self.line("wire", &[(at.0, top), (at.0, top - 14.0)]);
    }

    /// A clip that bites downward at a point.
    pub fn clip(&mut self, class: &str, at: At) {
        let class = format!("clip {class}");
        let (x, y) = (at.0, at.1);
        let jaw = |side: f64| {
            vec![
                (x, y - 24.0),
                (x + side * 6.0, y - 22.0),
                (x + side * 7.0, y - 12.0),
                (x + side * 2.0, y),
                (x + side * 0.5, y),
                (x + side * 1.5, y - 12.0),
                (x, y - 14.0),
            ]
        };
        self.line(&class, &jaw(-1.0));
        self.line(&class, &jaw(1.0));
    }

    /// A span between two heights, with a stroke and a head at both ends.
    pub fn span(&mut self, x: f64, from: f64, to: f64) {
        self.line("measure", &[(x, from), (x, to)]);
        for (y, way) in [(from, 1.0), (to, -1.0)] {
            self.line("measure", &[(x - 3.5, y + way * 6.0), (x, y), (x + 3.5, y + way * 6.0)]);
        }
    }
}
