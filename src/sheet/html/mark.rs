//! Writes markup that is HTML and well-formed XML alike: whatever is opened is closed, and
//! every text goes through the one escape.

use crate::sheet::escape::escaped;
use crate::sheet::words::typeset::typeset;

/// Attributes of an element, in order.
pub type Attributes<'a> = &'a [(&'a str, &'a str)];

/// A document so far.
#[derive(Default)]
pub struct Markup {
    text: String,
    open: Vec<&'static str>,
}

/// Elements that stand within a line of text, where a line break would show.
const INLINE: [&str; 11] =
    ["code", "cite", "span", "small", "strong", "b", "label", "input", "text", "tspan", "button"];

impl Markup {
    /// Opens an element.
    pub fn open(&mut self, tag: &'static str, attributes: Attributes) {
        self.tag(tag, attributes, ">");
        self.open.push(tag);
    }

    /// Closes the element opened last.
    pub fn close(&mut self) {
        if let Some(tag) = self.open.pop() {
            self.text += "</";
            self.text += tag;
            self.text.push('>');
            self.end_line(tag);
        }
    }

    /// An element that holds nothing.
    pub fn void(&mut self, tag: &'static str, attributes: Attributes) {
        self.tag(tag, attributes, "/>");
        self.end_line(tag);
    }

    /// An element that holds a text.
    pub fn leaf(&mut self, tag: &'static str, attributes: Attributes, text: &str) {
        self.open(tag, attributes);
        self.words(text);
        self.close();
    }

    /// A text as it is, such as a user's title.
    pub fn words(&mut self, text: &str) {
        self.text += &escaped(text);
    }

    /// An element that holds a sentence, set for reading.
    pub fn said(&mut self, tag: &'static str, attributes: Attributes, text: &str) {
        self.open(tag, attributes);
        self.prose(text);
        self.close();
    }

    /// A sentence, set for reading; what stands between backticks is a command.
    pub fn prose(&mut self, text: &str) {
        for (n, part) in typeset(text).split('`').enumerate() {
            if n % 2 == 1 {
                self.leaf("code", &[], part);
            } else {
                self.words(part);
            }
        }
    }

    /// A part under a heading; `body` fills it.
    pub fn part(&mut self, class: &str, heading: &str, body: impl FnOnce(&mut Self)) {
        let id = format!("{class}-head");
        self.open("section", &[("class", class), ("aria-labelledby", &id)]);
        self.leaf("h2", &[("id", &id)], heading);
        body(self);
        self.close();
    }

    /// Markup of our own, or markup that has been escaped already.
    pub fn trusted(&mut self, markup: &str) {
        self.text += markup;
    }

    /// Closes what is open and gives the document.
    pub fn done(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.text
    }

    fn tag(&mut self, tag: &str, attributes: Attributes, end: &str) {
        self.text.push('<');
        self.text += tag;
        for (name, value) in attributes {
            self.text += &format!(" {name}=\"{}\"", escaped(value));
        }
        self.text += end;
    }

    fn end_line(&mut self, tag: &str) {
        if !INLINE.contains(&tag) {
            self.text.push('\n');
        }
    }
}
