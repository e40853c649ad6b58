//! A sheet of paper to paint on in units, [`WIDTH`] of them across.
//!
//! plotters rounds to whole pixels, so its canvas is [`FINE`] times as large and the viewBox
//! scales it back.

use super::ink::{DARK, PAPER, QUIET};
use super::labels;
use super::sizes::{At, MARGIN, TEXT, WIDTH};
use crate::sheet::escape::escaped;
pub use crate::sheet::escape::one_line;
use crate::sheet::plots::error::Painted;
use plotters::backend::SVGBackend;
use plotters::coord::Shift;
use plotters::drawing::{DrawingArea, IntoDrawingArea};
use plotters::element::{Circle, PathElement, Polygon, Rectangle, Text};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontStyle, IntoFont, RGBColor, ShapeStyle, TextStyle};

/// Canvas pixels in a unit.
pub const FINE: f64 = 10.0;
const HEADING: f64 = 30.0;
/// plotters' SVG backend divides a font's size by this.
const FONT_DIVISOR: f64 = 1.24;

/// What stands over a plot and what is said to those who do not see it.
pub struct Caption<'a> {
    /// What is plotted.
    pub heading: &'a str,
    /// Title of the job.
    pub title: &'a str,
    /// The plot in one sentence.
    pub alt: &'a str,
}

/// How a text stands.
#[derive(Clone, Copy)]
pub struct Type {
    pub size: f64,
    pub bold: bool,
    pub colour: RGBColor,
    pub side: HPos,
}

impl Type {
    /// Plain text that starts at its point.
    pub fn plain(colour: RGBColor) -> Self {
        Self { size: TEXT, bold: false, colour, side: HPos::Left }
    }

    pub fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub fn centred(self) -> Self {
        Self { side: HPos::Center, ..self }
    }

    pub fn to_the_left(self) -> Self {
        Self { side: HPos::Right, ..self }
    }
}

/// The paper.
pub struct Canvas<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
}

/// A plot `height` units high with its caption.
pub fn plot(
    height: f64,
    caption: &Caption,
    body: impl FnOnce(&Canvas) -> Painted<()>,
) -> Painted<String> {
    let mut text = String::new();
    let size = ((WIDTH * FINE) as u32, (height * FINE) as u32);
    {
        let canvas = Canvas { area: SVGBackend::with_string(&mut text, size).into_drawing_area() };
        canvas.rectangle((0.0, 0.0), (WIDTH, height), PAPER)?;
        let width = WIDTH - 2.0 * MARGIN;
        let heading = Type { size: HEADING, ..Type::plain(DARK).bold() };
        canvas.text((MARGIN, 38.0), caption.heading, heading)?;
        let title = labels::shortened(&one_line(caption.title), width, TEXT);
        canvas.text((MARGIN, 72.0), &title, Type::plain(QUIET))?;
        body(&canvas)?;
        canvas.area.present()?;
    }
    Ok(rooted(&text, size, caption))
}

impl Canvas<'_> {
    /// A text whose middle line runs through `at`.
    pub fn text(&self, at: At, text: &str, set: Type) -> Painted<()> {
        let style = if set.bold { FontStyle::Bold } else { FontStyle::Normal };
        let font = ("sans-serif", set.size * FINE * FONT_DIVISOR, style).into_font();
        let style = TextStyle::from(font).color(&set.colour).pos(Pos::new(set.side, VPos::Center));
        Ok(self.area.draw(&Text::new(one_line(text), pixel(at), style))?)
    }

    /// A line through points, broken by `dash` (empty for none).
    pub fn line(&self, points: &[At], width: f64, colour: RGBColor, dash: &[f64]) -> Painted<()> {
        let style = colour.stroke_width((width * FINE) as u32);
        if dash.is_empty() {
            return self.path(points, style);
        }
        for part in dashes(points, dash) {
            self.path(&part, style)?;
        }
        Ok(())
    }

    fn path(&self, points: &[At], style: ShapeStyle) -> Painted<()> {
        let pixels: Vec<(i32, i32)> = points.iter().map(|p| pixel(*p)).collect();
        Ok(self.area.draw(&PathElement::new(pixels, style))?)
    }

    /// A filled rectangle.
    pub fn rectangle(&self, from: At, to: At, colour: RGBColor) -> Painted<()> {
        Ok(self.area.draw(&Rectangle::new([pixel(from), pixel(to)], colour.filled()))?)
    }

    /// A filled area.
    pub fn area(&self, points: &[At], colour: RGBColor) -> Painted<()> {
        let pixels: Vec<(i32, i32)> = points.iter().map(|p| pixel(*p)).collect();
        Ok(self.area.draw(&Polygon::new(pixels, colour.filled()))?)
    }

    /// A filled dot.
    pub fn dot(&self, at: At, radius: f64, colour: RGBColor) -> Painted<()> {
        Ok(self.area.draw(&Circle::new(pixel(at), (radius * FINE) as i32, colour.filled()))?)
    }
}

fn pixel(at: At) -> (i32, i32) {
    ((at.0 * FINE).round() as i32, (at.1 * FINE).round() as i32)
}

/// The parts of a line that are painted when it is broken by `dash`.
fn dashes(points: &[At], dash: &[f64]) -> Vec<Vec<At>> {
    let mut parts = Vec::new();
    let (mut turn, mut left) = (0, dash[0]);
    let mut part: Vec<At> = points.first().copied().into_iter().collect();
    for pair in points.windows(2) {
        let (mut from, to) = (pair[0], pair[1]);
        loop {
            let length = libm::hypot(to.0 - from.0, to.1 - from.1);
            if length < left {
                left -= length;
                break;
            }
            let share = left / length;
            from = (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
            if turn % 2 == 0 {
                part.push(from);
                parts.push(std::mem::take(&mut part));
            }
            turn = (turn + 1) % dash.len();
            left = dash[turn].max(1.0);
            part = vec![from];
        }
        part.push(to);
    }
    if turn % 2 == 0 && part.len() > 1 {
        parts.push(part);
    }
    parts
}

/// The plot under a root element that scales with the page and speaks.
fn rooted(plotted: &str, size: (u32, u32), caption: &Caption) -> String {
    let body = plotted.split_once('>').map_or("", |(_root, body)| body);
    // Without the line breaks that plotters puts around words, which would show as spaces;
    // words are escaped, so only tags start with "<".
    let mut inside = String::with_capacity(body.len());
    for line in body.lines() {
        inside.push_str(line);
        if line.starts_with('<') && !line.starts_with("<text") {
            inside.push('\n');
        }
    }
    let alt = escaped(caption.alt);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" width=\"100%\" \
         role=\"img\" aria-label=\"{alt}\" stroke-linejoin=\"round\">\n\
         <title>{}: {}</title>\n<desc>{alt}</desc>\n{inside}",
        size.0,
        size.1,
        escaped(caption.heading),
        escaped(caption.title),
    )
}
