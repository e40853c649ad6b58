//! One plot.

/// One plot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plot {
    /// Name, fit for a file name.
    pub name: &'static str,
    /// One sentence that says what the plot shows, with its numbers; not escaped.
    pub alt: String,
    /// The SVG, from its root element on; in it all text is escaped.
    pub svg: String,
}
