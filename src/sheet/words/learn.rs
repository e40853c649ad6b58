//! Readings that were left out, in sentences.

use crate::advice::learn::{Outlier, Why};
use crate::job::log::{Log, What};
use crate::units::say::{self, System};

/// An outlier in words: what was read, what was to be expected, how far off.
pub fn sentence(log: &Log, o: &Outlier, u: System) -> String {
    let value = |x: f64| said(o.what, x, u);
    let head = format!(
        "{} of \"{}\" at {}, read as {}",
        name(o.what),
        log.runs[o.run].name,
        say::moment(o.at_s),
        value(o.read)
    );
    match o.why {
        Why::Off { expected, deviations } => format!(
            "{head}: everything else makes it {}, {} standard deviations away.",
            value(expected),
            say::figures(deviations, 2)
        ),
        Why::OverFaraday(times) => format!(
            "{head}: {} times what the charge measured can dissolve (Faraday). Was it weighed \
             wet before or without the resist after, or is a current missing?",
            say::figures(times, 3)
        ),
        Why::OverThickness(sheet) => {
            format!("{head}: deeper than the sheet is thick, {}.", value(sheet))
        }
        Why::UnderAir(air) => format!("{head}: colder than the air about it, {}.", value(air)),
    }
}

fn name(what: What) -> &'static str {
    match what {
        What::SourceVolts => "Volts at the source",
        What::BathVolts => "Volts across the bath",
        What::Amps => "Amps",
        What::Depth => "Depth",
        What::WeightLoss => "Weight loss",
        What::CellTemperature => "Cell temperature",
    }
}

fn said(what: What, x: f64, u: System) -> String {
    match what {
        What::SourceVolts | What::BathVolts => say::voltage(x),
        What::Amps => say::current_to(x, 3),
        What::Depth => u.depth(x),
        What::WeightLoss => say::mass(x),
        What::CellTemperature => u.temperature(x),
    }
}
