//! The log: measured runs, from which `learn` learns the bench.
//!
//! Each run names the job as it was set up (`job = "fern-pin.toml"`, beside the log) and
//! holds any readings that were taken while the current was on, at times counted from when
//! it was switched on. TOML, or CSV with one reading a row.

mod accuracy;
mod csv;
mod reading;
mod runs;
mod said;
mod trials;

pub use accuracy::{Accuracies, Accuracy};
pub use reading::{Reading, What};
pub use runs::{Log, LogRun, MOST_READINGS, MOST_RUNS, read_log};
pub use said::{OTHERS, Said, said};
pub use trials::{BathTrial, CellTrial};
