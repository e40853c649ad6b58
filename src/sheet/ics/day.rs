//! The day as a calendar (iCalendar, RFC 5545): the hands' work and the breaks as events,
//! in local time without a zone, an alarm on every look.
//!
//! Nothing in it is read from a clock, so that the same day gives the same file: DTSTAMP is
//! the midnight of the day itself, and UIDs count the events.

use crate::advice::day::{DayPlan, Task, Work};
use crate::job::Day;
use crate::job::clock::{DAY_S, Date};
use crate::sheet::words::day::piece_name;
use crate::units::say::System;

/// Longest line without its ending, in octets (RFC 5545, 3.1).
const LONGEST: usize = 75;

/// The calendar; none where the day has no date or cannot be done.
pub fn calendar(day: &Day, plan: &DayPlan, u: System) -> Option<String> {
    let date = day.date?;
    let end = plan.end_s?;
    let mut out = Lines::default();
    out.line("BEGIN:VCALENDAR");
    out.line("VERSION:2.0");
    out.line("PRODID:-//restbite//day//EN");
    out.line("CALSCALE:GREGORIAN");
    for (n, task) in plan.hands.iter().enumerate() {
        let (summary, note) = words(day, plan, task, u);
        let span = (task.start_s, task.end_s);
        let event = Event { date, day, key: format!("{}", n + 1), span, summary, note };
        out.event(&event, task.what == Work::Look);
    }
    for (n, span) in day.breaks.iter().filter(|b| b.0 < end).enumerate() {
        let key = format!("break-{}", n + 1);
        let (summary, note) = ("Break".to_string(), "No hands at the bench.".to_string());
        out.event(&Event { date, day, key, span: *span, summary, note }, false);
    }
    out.line("END:VCALENDAR");
    Some(out.text)
}

/// What an event is called and what else there is to say.
fn words(day: &Day, plan: &DayPlan, task: &Task, u: System) -> (String, String) {
    let source = &day.sources[task.source].name;
    let Some((kind, copy)) = task.piece else {
        return (format!("Swap: fresh charge into {source}"), String::new());
    };
    let name = piece_name(day, kind, copy);
    let entry = plan.entries.iter().find(|e| (e.kind, e.copy) == (kind, copy));
    let depth = entry.and_then(|e| match task.what {
        Work::Look => {
            e.etched.looks.iter().find(|l| l.at_s == task.start_s).map(|look| look.depth_m)
        }
        Work::TakeDown => Some(e.etched.depth_m),
        _ => None,
    });
    let (what, note) = match task.what {
        Work::HangUp => ("Hang up", String::new()),
        Work::Look => ("Look", "Current off first. ".to_string()),
        Work::TakeDown => ("Take down", "Current off first. ".to_string()),
        Work::Swap => ("Swap", String::new()),
    };
    let depth = depth.map_or_else(String::new, |m| format!("Depth to expect: {}.", u.depth(m)));
    (format!("{what}: {name}"), format!("{note}Source: {source}. {depth}").trim_end().into())
}

struct Event<'a> {
    date: Date,
    day: &'a Day,
    key: String,
    span: (f64, f64),
    summary: String,
    note: String,
}

#[derive(Default)]
struct Lines {
    text: String,
}

impl Lines {
    /// One content line, folded where it is too long.
    fn line(&mut self, line: &str) {
        let mut room = LONGEST;
        for c in line.chars() {
            if c.len_utf8() > room {
                self.text.push_str("\r\n ");
                // The blank that marks a folded line counts.
                room = LONGEST - 1;
            }
            room -= c.len_utf8();
            self.text.push(c);
        }
        self.text.push_str("\r\n");
    }

    fn event(&mut self, event: &Event, alarm: bool) {
        let Date { year, month, day } = event.date;
        let date = format!("{year:04}{month:02}{day:02}");
        self.line("BEGIN:VEVENT");
        self.line(&format!("UID:{date}-{}-{}@restbite", mark(&event.day.title), event.key));
        self.line(&format!("DTSTAMP:{date}T000000Z"));
        self.line(&format!("DTSTART:{}", moment(event, event.span.0)));
        self.line(&format!("DTEND:{}", moment(event, event.span.1)));
        self.line(&format!("SUMMARY:{}", escaped(&event.summary)));
        if !event.note.is_empty() {
            self.line(&format!("DESCRIPTION:{}", escaped(&event.note)));
        }
        if alarm {
            self.line("BEGIN:VALARM");
            self.line("ACTION:DISPLAY");
            self.line("TRIGGER:PT0S");
            self.line(&format!("DESCRIPTION:{}", escaped(&event.summary)));
            self.line("END:VALARM");
        }
        self.line("END:VEVENT");
    }
}

/// A local time without a zone, rounded down to the second.
fn moment(event: &Event, t_s: f64) -> String {
    // A moment is worked out to far better than this.
    let s = (event.day.start_s + t_s + 1e-3).floor();
    let Date { year, month, day } = event.date.later((s / DAY_S).floor() as u32);
    let s = s.rem_euclid(DAY_S) as u32;
    let (hour, minute, second) = (s / 3600, s / 60 % 60, s % 60);
    format!("{year:04}{month:02}{day:02}T{hour:02}{minute:02}{second:02}")
}

/// A text as RFC 5545, 3.3.11, writes it.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// Letters and digits of a title, for a UID.
fn mark(title: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    title.chars().map(plain).take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_lines_are_folded_between_characters() {
        let mut out = Lines::default();
        let long = "SUMMARY:".to_string() + &"ä".repeat(100);
        out.line(&long);
        assert!(out.text.split("\r\n").all(|l| l.len() <= LONGEST));
        assert_eq!(out.text.replace("\r\n ", ""), long + "\r\n");
        assert_eq!(escaped("a, b; c\\d\ne"), "a\\, b\\; c\\\\d\\ne");
    }
}
