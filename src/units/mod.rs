//! Quantities as people write and read them.
//!
//! A quantity enters as text once, is typed here, and is plain SI (`f64`) inside the
//! run. This is the only place where a unit is converted. The tables of units stand in
//! `tables.rs`, their reading in `quantity.rs`; printing stands in [`say`].
//!
//! Sources of the factors: BIPM SI Brochure (9th ed., 2019) and, for inch, thou and
//! degree Fahrenheit, NIST SP 811 (2008) appendix B, all exact.
//!
//! ```
//! use restbite::units::{Length, Quantity, parse};
//! let depth: Length = parse("0.35 mm").unwrap();
//! assert!((depth.si() - 0.35e-3).abs() < 1e-15);
//! assert!(parse::<Length>("0.35").is_err()); // a bare number is no length
//! assert!(parse::<Length>("0.35 V").is_err());
//! ```
//!
//! Wrong units do not compile:
//! ```compile_fail
//! use restbite::units::{Area, Length, parse};
//! let depth: Length = parse::<Area>("4 cm2").unwrap();
//! ```

pub mod keyed;
mod quantity;
pub mod say;
mod tables;
mod written;

pub use quantity::{Kind, Misread, Quantity, Unit, parse, short};
pub use tables::*;
pub use written::{
    Outline, Sheet, Wire, gauge_m, gauge_of, parse_outline, parse_sheet, parse_wire,
};
