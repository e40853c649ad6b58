//! Readings as they stand on a command line: groups, each with its time.

use super::reading::{LATEST, Reading, What, ends};
use crate::units::{
    Current, Length, Mass, Misread, Quantity, Temperature, Time, Voltage, parse, short,
};

/// One reading or time, as it was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// The option that it was given to, such as "--amps".
    pub option: String,
    /// What was read; none for a time.
    pub what: Option<What>,
    /// The text.
    pub text: String,
}

/// The readings, in the order of time. A time opens a group, and what follows it was read then.
///
/// # Examples
///
/// ```
/// use restbite::job::log::{Said, What, said};
///
/// let at = Said { option: "--at".into(), what: None, text: "8 min".into() };
/// let amps = Said { option: "--amps".into(), what: Some(What::Amps), text: "1.6 A".into() };
/// let readings = said(&[at.clone(), amps.clone()], true)?;
/// assert_eq!((readings[0].at_s, readings[0].value), (480.0, 1.6));
/// assert!(said(&[amps], true).is_err()); // when?
/// # Ok::<(), String>(())
/// ```
///
/// # Errors
/// In a sentence, when a text is no such quantity, stands before any time, or is of cells that there
/// are none of.
pub fn said(list: &[Said], cells: bool) -> Result<Vec<Reading>, String> {
    let mut readings = Vec::new();
    let mut now: Option<(f64, &Said, usize)> = None;
    let empty = |now: &Option<(f64, &Said, usize)>, so_far: usize| match now {
        Some((_, at, before)) if *before == so_far => Err(format!(
            "{} \"{}\": nothing was read then; allowed: with one of {} behind it",
            at.option,
            short(&at.text),
            OTHERS.join(", ")
        )),
        _ => Ok(()),
    };
    for one in list {
        let told =
            |e: Misread| format!("{}: found {}; allowed: {}", one.option, e.found, e.allowed);
        let Some(what) = one.what else {
            empty(&now, readings.len())?;
            let at = within::<Time>(&one.text, ("0 s", LATEST)).map_err(told)?;
            now = Some((at, one, readings.len()));
            continue;
        };
        let Some((at_s, ..)) = now else {
            return Err(format!("{}: read when? allowed: behind an --at", one.option));
        };
        if what == What::CellTemperature && !cells {
            return Err(format!("{}: this job's source has no cells", one.option));
        }
        let value = value(what, &one.text).map_err(told)?;
        if at_s == 0.0 && matches!(what, What::Depth | What::WeightLoss) {
            return Err(format!("{}: nothing is etched yet at 0 s", one.option));
        }
        readings.push(Reading { at_s, what, value });
    }
    empty(&now, readings.len())?;
    if readings.is_empty() {
        return Err(format!(
            "nothing was read; allowed: --at with one of {}, such as --at \"8 min\" --amps \"1.6 A\"",
            OTHERS.join(", ")
        ));
    }
    readings.sort_by(|a, b| a.at_s.total_cmp(&b.at_s).then(a.what.cmp(&b.what)));
    Ok(readings)
}

/// The options of readings.
pub const OTHERS: [&str; 5] = ["--amps", "--volts", "--depth", "--weight", "--warmth"];

fn value(what: What, text: &str) -> Result<f64, Misread> {
    let ends = match what {
        // With plus and minus exchanged a meter shows less than nothing.
        What::BathVolts => ("-60 V", "60 V"),
        What::Amps => ("-1000 A", "1000 A"),
        _ => ends(what),
    };
    match what {
        What::SourceVolts | What::BathVolts => within::<Voltage>(text, ends),
        What::Amps => within::<Current>(text, ends),
        What::Depth => within::<Length>(text, ends),
        What::WeightLoss => within::<Mass>(text, ends),
        What::CellTemperature => within::<Temperature>(text, ends),
    }
}

fn within<Q: Quantity>(text: &str, (low, high): (&str, &str)) -> Result<f64, Misread> {
    let value = parse::<Q>(text)?.si();
    let end = |end: &str| parse::<Q>(end).map(Quantity::si);
    if value < end(low)? || value > end(high)? {
        let (found, allowed) = (format!("\"{}\"", short(text)), format!("{low} to {high}"));
        return Err(Misread { found, allowed });
    }
    Ok(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one(option: &str, what: Option<What>, text: &str) -> Said {
        Said { option: option.into(), what, text: text.into() }
    }

    #[test]
    fn groups_by_their_times() {
        let amps = |text| one("--amps", Some(What::Amps), text);
        let at = |text| one("--at", None, text);
        let list = [at("8 min"), amps("1.6 A"), at("1 min"), amps("1.7 A")];
        let readings = said(&list, true).unwrap();
        let found: Vec<(f64, f64)> = readings.iter().map(|r| (r.at_s, r.value)).collect();
        assert_eq!(found, [(60.0, 1.7), (480.0, 1.6)]);
        for (list, word) in [
            (&[amps("1.6 A")][..], "when?"),
            (&[at("8 min")], "nothing was read then"),
            (&[], "nothing was read"),
            (&[at("8 min"), amps("1.6")], "--amps: found"),
            (&[at("8 min"), amps("2000 A")], "1000 A"),
            (&[at("8"), amps("1 A")], "--at: found"),
            (&[at("-1 min"), amps("1 A")], "--at: found"),
        ] {
            let error = said(list, true).unwrap_err();
            assert!(error.contains(word), "{error}");
        }
        let warm = one("--warmth", Some(What::CellTemperature), "35 degC");
        assert!(said(&[at("8 min"), warm], false).unwrap_err().contains("no cells"));
    }
}
