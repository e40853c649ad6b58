//! The bench sheet: one file that a phone shows and a printer prints. It asks nothing of the
//! network and, for reading, nothing of a script; what the script adds (a clock, boxes that
//! stay ticked) is hidden without it.

mod bench;
mod mark;
mod numbers;
mod origin;
mod sheet;
mod symbols;
#[cfg(test)]
mod tests;
mod watch;
mod wiring;

pub use sheet::{NAME, refused, sheet};
