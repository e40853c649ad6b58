//! Sizes that everything on paper shares, in units.

/// Width of a plot.
pub const WIDTH: f64 = 720.0;
/// Smallest text.
pub const TEXT: f64 = 24.0;
/// From one line of words to the next.
pub const LINE: f64 = 29.0;
/// From the edge of the paper.
pub const MARGIN: f64 = 24.0;
/// Width of limits, axes and grid: the thinnest line there is.
pub const THIN: f64 = 2.5;

/// A point, from the upper left.
pub type At = (f64, f64);
