//! Plans direct-current etching of silver and copper sheet before the current is on.
//!
//! A studio metalsmith hangs a sheet, covered with resist where it must stay, face down
//! over a metal pan in a metal-salt bath; a source drives a direct current; the bare metal
//! of the sheet (the anode) dissolves, the pan (the cathode) takes metal up, the source
//! sags and warms. This crate simulates that run and reads advice off it.
//!
//! # What is modelled
//!
//! * **Metal** ([`laws::faraday`]): every constituent of the alloy dissolves at its
//!   valence; mass and depth follow the charge by Faraday's law and the equivalent weight
//!   of ASTM G102.
//! * **Bath** ([`laws::conductivity`], [`laws::slab`], [`laws::constriction`]): its
//!   resistance is a shape factor over the conductivity; the factor holds the sheet's
//!   outline over the pan and the squeeze of the current into the bare lines.
//! * **Electrodes** ([`laws::anode`], [`laws::cathode`]): Nernst potentials, activation and
//!   a diffusion film at the sheet; metals plating up to their limiting currents, and then
//!   hydrogen, at the pan. Dissolved metal builds up and is taken out again.
//! * **Source**: cells as two wells of charge ([`laws::wells`]) behind a resistance that
//!   grows as they empty and falls as they warm ([`laws::cell`]); a regulated supply with a
//!   current limit; an adapter that sags along a line.
//! * **Heat** ([`laws::cell`], [`laws::convection`]): core and surface of the worst-placed
//!   cell, natural convection and radiation; the bath as one body.
//!
//! Where it ends: the bath's conductivity does not follow its composition; the recess's
//! growing walls are not followed; the pH is fixed; metals less noble than hydrogen stay
//! dissolved. Silver in a chloride bath, silver alloys in a sulphate bath and stainless
//! steel in any bath are refused.
//!
//! # Use
//!
//! ```
//! use restbite::advice;
//! use restbite::job::{self, Checked, Needs, Written};
//! use restbite::run::Stop;
//! use restbite::stock::Stock;
//! use std::path::Path;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let folder = Path::new("data-demo");
//! let text = std::fs::read_to_string(folder.join("fern-pin.toml"))?;
//! let stock = Stock::builtin()?;
//! let written = Written { text: &text, name: "fern-pin.toml", folder, sets: &[] };
//! let Checked::Job(job) = job::read(&written, &stock, Needs::Source)? else {
//!     return Err("refused".into());
//! };
//! let plan = advice::plan(&job, &stock, 200, Default::default())?;
//! assert_eq!(plan.run.stop, Stop::Depth);
//! assert!((10.0..20.0).contains(&(plan.run.time_s / 60.0)));
//! # Ok(())
//! # }
//! ```
//!
//! # Rooms
//!
//! One way through the house: job file -> checked job ([`job`]) -> resolved setup
//! ([`job::resolve`], [`run::Setup`]) -> run ([`run`]) -> advice ([`advice`]) -> sheet
//! ([`sheet`]). [`units`] reads and says quantities, [`stock`] holds the data, [`laws`]
//! the physics; nothing below knows anything above.

#![forbid(unsafe_code)]

pub mod advice;
pub mod artwork;
pub mod job;
pub mod laws;
pub mod run;
pub mod sheet;
pub mod stock;
pub mod units;
