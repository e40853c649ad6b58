//! What measured runs teach about a bench: its own factors, how sure they are, which
//! readings do not fit, and what all that makes of the next piece.

mod evidence;
mod fit;
mod learning;
mod next;
mod outliers;
mod parameters;
mod posterior;

pub use learning::{Factor, Learning, learn, profile};
pub use next::Next;
pub use outliers::{Outlier, Why};
pub use parameters::{Parameter, Parameters};
pub use posterior::Check;
