//! What was done on one day falls due, by the calendar and by the counts of the clocks.
//!
//! # Source
//! 14 CFR 91.409(b): the 100 hours may be exceeded on the way to the place of inspection. Calendar months run to their last day.

use super::{Want, WantedRow, one, shows};
use crate::audit::amount::Amount;
use crate::audit::book::Call;
use crate::audit::page::Grid;
use crate::audit::speech::capital;
use crate::audit::tables::Desk;
use crate::audit::words::Listed;

/// How a call names a count, how the model does, and how it is printed.
const COUNTS: [(&str, &str, &str); 3] = [
    ("tachometer", "tachometer", "tachometer time"),
    ("hour_meter", "hour-meter", "hour-meter time"),
    ("in_service", "time in service", "time in service"),
];

impl Desk<'_> {
    pub(in crate::audit) fn check_due(&mut self, grid: &Grid) {
        let calls = self.book.iter().flat_map(|c| &c.calls).filter(|c| c.name == "due");
        let called = calls.filter(|call| is_captioned(&grid.caption, call)).cloned().next();
        let Some((date, call)) = called.and_then(|call| Some((Day::read(call.get("done")?)?, call))) else {
            return self.notes.find("unreadable", grid.name(), &grid.caption, "the day and the counts of a call");
        };
        let rows: Vec<WantedRow> = self.words.inspections.iter().filter_map(|l| self.due_row(l, date, &call)).collect();
        self.expect_rows(grid, rows);
    }

    /// By how much an inspection may be exceeded, below how often it is.
    pub(in crate::audit) fn check_overrun(&mut self, place: &str, says: &[String], name: &str) {
        let over = self.words.facts.overruns.get(name);
        let want: Vec<Want> = over.map(|h| Want::said("Exceeded by at most #.", vec![(*h, "h")])).into_iter().collect();
        self.notes.report.proved.numbers += want.len();
        if !super::fits(says, &want) {
            self.notes.find("number-wrong", place, says.join(" / "), super::told(&want));
        }
    }

    fn due_row(&self, listed: &Listed, date: Day, call: &Call) -> Option<WantedRow> {
        let (count, what) = listed.value.split_once(' ')?;
        let whole = || count.parse::<u32>().ok();
        let (every, due) = match what {
            "calendar months" | "calendar month" => {
                let every = format!("{count} calendar months, to the end of the month");
                (Want::text(every), one(Want::text(date.end_of_months(whole()?).told())))
            }
            "days" | "day" => (Want::text(format!("{count} days")), one(Want::text(date.days_on(whole()?).told()))),
            _ => {
                let every = Amount::read(&listed.value)?.number_in("h")?;
                let (key, _, printed) = COUNTS.iter().find(|(_, by, _)| *by == listed.by)?;
                let at: f64 = call.get(key)?.parse().ok()?;
                let mut lines = one(Want::said(&format!("# of {printed}"), vec![(at + every, "h")]));
                if let Some(over) = self.words.facts.overruns.get(&listed.name) {
                    lines.push(Want::said("Exceeded by at most #.", vec![(*over, "h")]));
                }
                (Want::number(every, "h"), lines)
            }
        };
        Some(vec![one(Want::text(capital(&listed.name))), one(every), due])
    }
}

/// `Done on 2026-01-31, …`: the day of the call, and after `with ` each of its counts.
fn is_captioned(caption: &str, call: &Call) -> bool {
    let Some(rest) = call.get("done").and_then(|day| caption.strip_prefix(&format!("Done on {day}, "))) else {
        return false;
    };
    let told: Vec<(f64, &str)> =
        COUNTS.iter().filter_map(|(key, _, printed)| Some((call.get(key)?.parse::<f64>().ok()?, *printed))).collect();
    if told.is_empty() {
        return rest == "by the calendar: the last day on which each holds";
    }
    let Some(counts) = rest.strip_prefix("with ").and_then(|r| r.strip_suffix(": when each is due next")) else {
        return false;
    };
    let pieces: Vec<&str> = counts.split(", ").collect();
    let fits = |(piece, (hours, printed)): (&&str, &(f64, &str))| {
        piece.strip_suffix(printed).and_then(|p| p.strip_suffix(" of ")).is_some_and(|p| shows(p, *hours, "h", 1.0))
    };
    pieces.len() == told.len() && pieces.iter().zip(&told).all(fits)
}

/// A day of the calendar.
#[derive(Clone, Copy)]
struct Day {
    year: u32,
    month: u32,
    day: u32,
}

impl Day {
    fn read(text: &str) -> Option<Self> {
        let parts: Vec<u32> = text.split('-').filter_map(|p| p.parse().ok()).collect();
        let [year, month, day] = parts.as_slice() else { return None };
        let known = Self { year: *year, month: *month, day: *day };
        ((1..=12).contains(month) && (1..=known.length()).contains(day)).then_some(known)
    }

    /// Days of its month; a year of a century is a leap year where 400 divides it.
    fn length(self) -> u32 {
        let leap = self.year % 4 == 0 && (self.year % 100 != 0 || self.year % 400 == 0);
        match self.month {
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => 31,
        }
    }

    fn end_of_months(self, months: u32) -> Self {
        let all = self.year * 12 + self.month - 1 + months;
        let end = Self { year: all / 12, month: all % 12 + 1, day: 1 };
        Self { day: end.length(), ..end }
    }

    fn days_on(self, days: u32) -> Self {
        let mut at = Self { day: self.day + days, ..self };
        while at.day > at.length() {
            at.day -= at.length();
            at = if at.month == 12 {
                Self { year: at.year + 1, month: 1, ..at }
            } else {
                Self { month: at.month + 1, ..at }
            };
        }
        at
    }

    fn told(self) -> String {
        format!("{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}
