//! iCalendar (RFC 5545) for phones and desks.

pub mod day;
