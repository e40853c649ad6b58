//! iCalendar (RFC 5545) for phones and desks.

mod day;

pub use day::calendar;
