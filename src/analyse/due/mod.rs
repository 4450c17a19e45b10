//! What inspection falls due when.
//!
//! **Duty.** From the log of an aircraft and the intervals of its model: when each inspection was done last, at which count or on which
//! day it is due again, whether that is past, and when it comes at the rate at which the aircraft was flown lately.
//!
//! **Method.** Calendar months run to the last day of the month. An interval of hours counts from the count at which it was done; where
//! it may be overrun, the excess counts in the next interval, so the next is due from when it *was* due. The rate of a count is what it
//! grew by over the last ninety days of the log, or over all of it where no two readings lie within them.
//!
//! **Does not know** anything that is not in the log: an inspection that it does not tell of is told as not known, not as due.
//!
//! # Source
//! 14 CFR 91.409(a) (annual), (b) (100-hour, may be exceeded by at most 10 h on the way to the place of inspection, the excess counts in
//! the next 100), 91.411, 91.413, 91.207(d), 91.171 (30 days): read. Calendar months run to the last day: reprint read.

mod log;

pub use log::{CODES, Count, Entry, HEADING, HIGHEST_COUNT, Log, day, parse};

use super::measure::Hours;
use crate::model::{Inspection, InspectionBy, Interval, Model};
use jiff::Span;
use jiff::civil::Date;

/// Over so many days of the log a rate is taken.
pub const RATE_DAYS: i64 = 90;

/// When an inspection is due.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DueAt {
    /// On that day at the latest.
    Day(Date),
    /// At that count at the latest.
    Count(Count, Hours),
}

/// An inspection that the log tells of.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// When it was done last.
    pub done_on: Date,
    /// At which count, of an interval of hours.
    pub done_at: Option<Hours>,
    /// When it is due next.
    pub due: DueAt,
    /// What of the last interval was overrun and counts in this one.
    pub carried: Hours,
    /// What is left of an interval of hours at the last reading; below zero where it is past.
    pub left_h: Option<Hours>,
    /// What is left in days, from the day that was asked about: to the day, or to when the count comes at the present rate.
    pub left_days: Option<i64>,
    /// The day, or the day on which the count comes at the present rate.
    pub on: Option<Date>,
    /// It is past.
    pub past: bool,
}

/// One inspection of the model against the log.
#[derive(Debug, Clone, PartialEq)]
pub struct Due {
    /// Its name.
    pub name: String,
    /// How often, as the model has it.
    pub every: Interval,
    /// What the log tells; nothing where it does not tell of it.
    pub known: Option<Known>,
}

/// All inspections against the log, as of a day, in the order of the model.
pub fn due(model: &Model, log: &Log, on: Date) -> Vec<Due> {
    let of = |inspection: &Inspection| Due {
        name: inspection.name.clone(),
        every: inspection.every.clone(),
        known: known(inspection, log, on),
    };
    model.inspections.iter().map(of).collect()
}

/// The one that falls due first: what is past before what is to come, then by day; nothing where no day is known.
pub fn first(all: &[Due]) -> Option<&Due> {
    let dated = all.iter().filter_map(|d| d.known.as_ref().and_then(|k| k.on.map(|on| (!k.past, on, d))));
    dated.min_by(|a, b| (a.0, a.1, &a.2.name).cmp(&(b.0, b.1, &b.2.name))).map(|(_, _, due)| due)
}

fn known(inspection: &Inspection, log: &Log, on: Date) -> Option<Known> {
    let done: Vec<&Entry> = log.entries.iter().filter(|e| e.done.as_deref() == Some(&inspection.name)).collect();
    let last = *done.last()?;
    match &inspection.every {
        Interval::CalendarMonths(months) => Some(by_day(last, end_of_months(last.date, *months)?, on)),
        Interval::Days(days) => Some(by_day(last, later(last.date, i64::from(*days))?, on)),
        Interval::Hours(every) => by_hours(inspection, Hours::of(every)?, &done, log, on),
    }
}

fn by_day(last: &Entry, day: Date, on: Date) -> Known {
    Known {
        done_on: last.date,
        done_at: None,
        due: DueAt::Day(day),
        carried: Hours(0.0),
        left_h: None,
        left_days: Some(days_between(on, day)),
        on: Some(day),
        past: on > day,
    }
}

fn by_hours(inspection: &Inspection, every: Hours, done: &[&Entry], log: &Log, on: Date) -> Option<Known> {
    let count = Count::of(inspection.by)?;
    let (due, carried) = next_count(every, inspection.overrun.is_some(), done, count)?;
    let last = done.last()?;
    let reading = log.last(count)?;
    let left = due - reading.count(count)?;
    let day = log.rate_a_day(count).filter(|r| r.0 > 0.0).and_then(|rate| {
        let days = libm::floor(left / rate);
        if days.abs() > 1e6 { None } else { later(reading.date, days as i64) }
    });
    Some(Known {
        done_on: last.date,
        done_at: last.count(count),
        due: DueAt::Count(count, due),
        carried,
        left_h: Some(left),
        left_days: day.map(|d| days_between(on, d)),
        on: day,
        past: left.0 < 0.0,
    })
}

/// The count at which an inspection is due after all the times it was done, and the overrun that counts in that interval.
fn next_count(every: Hours, overrun: bool, done: &[&Entry], count: Count) -> Option<(Hours, Hours)> {
    let mut due: Option<(Hours, Hours)> = None;
    for entry in done {
        let at = entry.count(count)?;
        due = Some(match due {
            Some((was, _)) if overrun && at > was => (was + every, at - was),
            _ => (at + every, Hours(0.0)),
        });
    }
    due
}

/// The last day of the month that comes so many months after a day.
pub fn end_of_months(from: Date, months: u32) -> Option<Date> {
    let span = Span::new().try_months(i64::from(months)).ok()?;
    from.first_of_month().checked_add(span).ok().map(Date::last_of_month)
}

/// So many days after a day.
pub fn later(from: Date, days: i64) -> Option<Date> {
    from.checked_add(Span::new().try_days(days).ok()?).ok()
}

/// Days from one day to another; below zero where the other is earlier.
pub fn days_between(from: Date, to: Date) -> i64 {
    from.duration_until(to).as_hours() / 24
}

impl Count {
    /// What an inspection is counted by; nothing for the calendar.
    pub fn of(by: InspectionBy) -> Option<Self> {
        match by {
            InspectionBy::Tachometer => Some(Self::Tachometer),
            InspectionBy::HourMeter => Some(Self::HourMeter),
            InspectionBy::TimeInService => Some(Self::Service),
            InspectionBy::Calendar => None,
        }
    }
}
