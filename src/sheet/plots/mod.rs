//! Plots as SVG texts: of one run (sag, depth, heat, charge), of on and off over a session
//! ([`spell()`]), of many cells ([`wall()`], [`cells()`]), and of several ways to do one job
//! ([`compare()`]).
//!
//! Every plot is [`WIDTH`] units wide with text of at least [`TEXT`] units, so that it
//! reads at 360 CSS pixels as 12 pixel text. Curves carry their names at their ends, limits
//! theirs on the line; colour, lightness and dashes all tell them apart, so a grey print does.
//! Values come in SI and are converted once, where an axis is chosen.

mod all;
mod band;
mod canvas;
mod cells;
mod charge;
mod compare;
mod depth;
mod error;
mod hatch;
mod heat;
mod ink;
mod key;
pub(super) mod labels;
mod panel;
mod plot;
mod regions;
mod sag;
mod scale;
mod sizes;
mod spaced;
mod spell;
#[cfg(test)]
mod tests;
mod timeline;
mod view;
mod wall;
mod wall_words;
mod warmth;
mod words;

pub use all::{NAMES, plots};
pub use cells::cells;
pub use compare::{Compared, compare};
pub use error::PlotError;
pub use plot::Plot;
pub use sizes::{TEXT, WIDTH};
pub use spell::{REST, SpellLimits, spell};
pub use timeline::timeline;
pub use view::View;
pub use wall::wall;
