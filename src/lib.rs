//! Plans direct-current etching of silver and copper sheet before the current is on.
//!
//! A studio metalsmith hangs a sheet, covered with resist where it must stay, face down
//! over a metal pan in a metal-salt bath; a source drives a direct current; the bare metal
//! of the sheet (the anode) dissolves, the pan (the cathode) takes metal up, the source
//! sags and warms. This crate simulates that run and reads advice off it.
//!
//! # What is modelled
//!
//! One unknown, the current I, closes the circuit at every instant: the source's voltage is
//! the bath's plus the leads', V(I) = E_a - E_c + I (R_b + R_l). Around it stands a set of
//! ordinary differential equations: the charge in the cells' wells, their polarisation and
//! two temperatures, the depth, the dissolved metals and the bath's temperature.
//!
//! * **Metal** ([`laws::faraday`]): every constituent of the alloy dissolves at its
//!   valence; mass and depth follow the charge by Faraday's law and the equivalent weight
//!   of ASTM G102, EW = 1 / sum(w v / M).
//! * **Bath**: its resistance is a shape factor over the conductivity, R_b = s / kappa.
//!   Conductivity ([`laws::conductivity`]): the Casteel-Amis curve over the molality, which
//!   comes of the molarity by Laliberte's density ([`laws::density`]); linear in the
//!   temperature. Shape factor: the sheet's outline over the pan ([`laws::slab`]), between
//!   the thin slab and Newman's disc in half-space, a rectangle by the complete elliptic
//!   integral ([`laws::elliptic`]); and the squeeze of the current into the bare lines
//!   ([`laws::constriction`]), a conformal map.
//! * **Sheet** ([`laws::anode`]): the Nernst potential at the surface concentration behind a
//!   Nernst diffusion layer, and a symmetric Butler-Volmer overpotential, solved for as asinh.
//! * **Pan** ([`laws::cathode`]): Butler-Volmer plating in series with each metal's limiting
//!   current, and hydrogen by Butler-Volmer alone; one mixed potential for all of them.
//!   Dissolved metal builds up and is taken out again by a mass balance.
//! * **Leads** ([`laws::wire`]): ASTM B258 and IEC 60228.
//! * **Source**: cells as the two wells of the kinetic battery model of Manwell and McGowan
//!   ([`laws::wells`]) with one RC polarisation, behind a resistance that grows as they empty
//!   ([`laws::curve`]) and falls by an Arrhenius law as they warm ([`laws::cell`]); a
//!   regulated supply with a current limit; an adapter that sags along a line.
//! * **Heat** ([`laws::cell`], [`laws::convection`]): Bernardi's heat of a cell, core and
//!   surface of the worst-placed one, Churchill-Chu natural convection and Stefan-Boltzmann
//!   radiation; the bath as one body.
//!
//! The constants are CODATA's ([`laws::constants`]). The run is integrated by Tsitouras'
//! 5(4) pair ([`run`]), its ends found by true steps, its energy balance closed.
//!
//! # Where the model ends
//!
//! The bath's conductivity does not follow its composition; the recess's
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
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let text = std::fs::read_to_string("data-demo/fern-pin.toml")?;
//! let stock = Stock::builtin()?;
//! let written = Written { text: &text, name: "fern-pin.toml", ..Written::default() };
//! let Checked::Job(job) = job::read(&written, &stock, Needs::Source)? else {
//!     return Err("refused".into());
//! };
//! let plan = advice::plan(&job, &stock, 200, Default::default())?;
//! assert_eq!(plan.case().run.stop, Stop::Depth);
//! assert!((10.0..20.0).contains(&(plan.case().run.time_s / 60.0)));
//! # Ok(())
//! # }
//! ```
//!
//! # Rooms
//!
//! One way through the house: job file -> checked job ([`job`]) -> resolved setup
//! ([`job::resolve`], [`run::Setup`]) -> run ([`run`]) -> advice ([`advice`]) -> sheet
//! ([`sheet`]). [`newjob`] writes a first job file. [`units`] reads and says quantities, [`stock`] holds the data, [`laws`]
//! the physics; nothing below knows anything above.

#![forbid(unsafe_code)]

pub mod advice;
pub mod artwork;
pub mod job;
pub mod laws;
pub mod newjob;
mod reader;
pub mod run;
pub mod sheet;
pub mod stock;
pub mod units;
