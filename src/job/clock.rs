//! Clock times and dates as people write them: "9:00", "2026-11-25".

use crate::units::{Misread, short};

/// Seconds in a day.
pub const DAY_S: f64 = 86_400.0;
/// What a clock time looks like.
pub const CLOCK: &str = "a time of day from \"0:00\" to \"23:59\", such as \"9:00\"";
/// What a date looks like.
pub const DATE: &str = "a date such as \"2026-11-25\"";

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Date {
    /// Year, 1 to 9999.
    pub year: u32,
    /// Month, 1 to 12.
    pub month: u32,
    /// Day of the month.
    pub day: u32,
}

impl Date {
    /// The day after.
    pub fn next(self) -> Self {
        if self.day < days_in(self.year, self.month) {
            Self { day: self.day + 1, ..self }
        } else if self.month < 12 {
            Self { month: self.month + 1, day: 1, ..self }
        } else {
            Self { year: self.year + 1, month: 1, day: 1 }
        }
    }

    /// So many days later.
    pub fn later(self, days: u32) -> Self {
        (0..days).fold(self, |date, _| date.next())
    }
}

impl std::fmt::Display for Date {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// Days in a month (Gregorian calendar, ISO 8601).
fn days_in(year: u32, month: u32) -> u32 {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

fn misread(text: &str, allowed: &str) -> Misread {
    Misread { found: format!("\"{}\"", short(text)), allowed: allowed.into() }
}

/// One or two digits, or as many as asked for.
fn digits(text: &str, most: usize) -> Option<u32> {
    let plain = (1..=most).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// Reads a clock time, in seconds since midnight.
///
/// # Errors
/// When it is none.
pub fn parse_clock(text: &str) -> Result<f64, Misread> {
    let read = || {
        let text = text.trim();
        // As TOML writes it without quotes: 09:00:00.
        let text = if text.len() == 8 { text.strip_suffix(":00").unwrap_or(text) } else { text };
        let (hour, minute) = text.split_once(':')?;
        let (hour, minute) = (digits(hour, 2)?, digits(minute, 2).filter(|_| minute.len() == 2)?);
        (hour < 24 && minute < 60).then(|| f64::from(hour * 3600 + minute * 60))
    };
    read().ok_or_else(|| misread(text, CLOCK))
}

/// Reads a date.
///
/// # Errors
/// When it is none.
pub fn parse_date(text: &str) -> Result<Date, Misread> {
    let read = || {
        let mut parts = text.trim().split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let whole = year.len() == 4 && month.len() == 2 && day.len() == 2;
        let (year, month, day) = (digits(year, 4)?, digits(month, 2)?, digits(day, 2)?);
        let real =
            year > 0 && (1..=12).contains(&month) && (1..=days_in(year, month)).contains(&day);
        (whole && real && parts.next().is_none()).then_some(Date { year, month, day })
    };
    read().ok_or_else(|| misread(text, DATE))
}

/// A moment on the clock, rounded down to the minute: "9:05"; past midnight it goes on as
/// "0:10 (+1)".
pub fn clock(start_s: f64, t_s: f64) -> String {
    // A moment is worked out to far better than this.
    let minutes = ((start_s + t_s + 1e-3) / 60.0).floor();
    let (days, minutes) = ((minutes / 1440.0).floor(), minutes.rem_euclid(1440.0));
    let later = if days > 0.0 { format!(" (+{days})") } else { String::new() };
    format!("{}:{:02}{later}", (minutes / 60.0).floor(), minutes % 60.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clocks_and_dates() {
        assert_eq!(parse_clock("9:05").unwrap(), 32_700.0);
        assert_eq!(parse_clock("09:05:00").unwrap(), 32_700.0);
        assert_eq!(parse_clock(" 09:05 ").unwrap(), 32_700.0);
        for bad in ["24:00", "9", "9:5", "9:60", "-1:00", "9.00", "9:00 am", "", "009:00"] {
            assert!(parse_clock(bad).is_err(), "{bad}");
        }
        let date = parse_date("2028-02-28").unwrap();
        assert_eq!(date.later(2), Date { year: 2028, month: 3, day: 1 });
        assert_eq!(parse_date("2026-12-31").unwrap().next().year, 2027);
        for bad in ["2026-02-29", "26-11-25", "2026-11-25-1", "2026/11/25", "2026-13-01", ""] {
            assert!(parse_date(bad).is_err(), "{bad}");
        }
        assert_eq!(clock(32_400.0, 299.9999), "9:05");
        assert_eq!(clock(32_400.0, 61_200.0), "2:00 (+1)");
    }
}
