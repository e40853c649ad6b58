//! A change of one thing that would do.

use crate::job::Source;

/// A change that would do, as a job file has it.
#[derive(Debug, Clone)]
pub struct Change {
    /// What gives.
    pub knob: Knob,
    /// Its key in the job.
    pub key: &'static str,
    /// Value as it is, as written in a job.
    pub from: String,
    /// Value that would do.
    pub to: String,
    /// Both values, from and to, in SI or as a count.
    pub values: (f64, f64),
    /// The source that then passes.
    pub source: Source,
    /// Heat of a resistor that is put in, at the start of the run, W; none without one.
    pub resistor_w: Option<f64>,
    /// What it comes to.
    pub goal: Goal,
}

/// What a change is to come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goal {
    /// That the job is done.
    Done,
    /// That it is done and nothing is driven hard.
    WithRoom,
}

/// One thing that may give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Knob {
    /// Stirring a bath that is still.
    Stirring,
    /// The time allowed.
    Time,
    /// The gap between sheet and pan.
    Gap,
    /// How strong the bath is.
    Strength,
    /// The number of cells allowed.
    Cells,
    /// The bare area etched at a time.
    Bare,
    /// A resistor in the lead of the job's own source.
    Resistor,
}

impl Knob {
    /// Whether it costs next to nothing: such changes are told first.
    pub fn free(self) -> bool {
        matches!(self, Self::Stirring | Self::Gap | Self::Strength)
    }
}
