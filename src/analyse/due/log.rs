//! The log of an aircraft: what its counters showed on which day, and what was done then.
//!
//! One line a day or an inspection, comma-separated, under the heading [`HEADING`]. A count that was not read is left empty; the name of an
//! inspection stands last and is one of the model's. Empty lines and lines that begin with `#` say nothing. A line that is wrong is named
//! at its exact characters, and nothing is guessed for it.

use crate::analyse::measure::Hours;
use crate::base::text::did_you_mean;
use crate::base::{Diagnostic, Diagnostics, FileId, Span};
use jiff::civil::Date;
use std::ops::Range;

/// The first line of a log.
pub const HEADING: &str = "date,tachometer,hour-meter,in-service,inspection";
/// No counter shows more, h.
pub const HIGHEST_COUNT: f64 = 100_000.0;

/// The codes of what can be wrong in a log, each explained.
pub const CODES: &[(&str, &str)] = &[
    (
        "log-backwards",
        "A log runs forwards: a day is not before the day of the line above, and a counter never shows less than it did. A counter that was exchanged begins a new log.",
    ),
    (
        "log-count-missing",
        "An inspection that comes by a count was done on this line, and the line does not say what that counter showed. Without it nothing can be counted from here.",
    ),
    ("log-date", "A date is a day of the calendar, written like 2026-05-02."),
    (
        "log-fields",
        "A line of the log has five fields, with four commas between them; a count that was not read is left empty.",
    ),
    (
        "log-heading",
        "The first line of a log is its heading, so that no column is taken for another: date,tachometer,hour-meter,in-service,inspection.",
    ),
    ("log-inspection", "The name of an inspection is one of those that the model has, letter for letter."),
    ("log-number", "A count is hours from 0 to 100000, with a point before the fraction."),
    (
        "log-too-fast",
        "A counter cannot grow by more hours than there are between two lines: each of the two days counts in full. A recording tachometer may run faster than the clock by a quarter.",
    ),
];

/// One of the three counts of hours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Count {
    /// Tachometer time.
    Tachometer,
    /// Hour-meter time.
    HourMeter,
    /// Time in service.
    Service,
}

impl Count {
    /// All three, in the order of their columns.
    pub const ALL: [Self; 3] = [Self::Tachometer, Self::HourMeter, Self::Service];

    /// The name of its column.
    pub fn column(self) -> &'static str {
        match self {
            Self::Tachometer => "tachometer",
            Self::HourMeter => "hour-meter",
            Self::Service => "in-service",
        }
    }

    /// Hours that it can count in a day.
    fn most_a_day(self) -> f64 {
        if self == Self::Tachometer { 30.0 } else { 24.0 }
    }
}

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The day.
    pub date: Date,
    /// What the counters showed, in the order of [`Count::ALL`].
    pub counts: [Option<Hours>; 3],
    /// The inspection that was done.
    pub done: Option<String>,
}

impl Entry {
    /// What a counter showed.
    pub fn count(&self, count: Count) -> Option<Hours> {
        self.counts[count as usize]
    }
}

/// A log without errors.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Log {
    /// Its lines, in their order.
    pub entries: Vec<Entry>,
}

impl Log {
    /// The last line that has a count.
    pub fn last(&self, count: Count) -> Option<&Entry> {
        self.entries.iter().rfind(|e| e.count(count).is_some())
    }

    /// By how much a count grew in a day, over the last ninety days of the log; over all of it where no two readings lie within them.
    pub fn rate_a_day(&self, count: Count) -> Option<Hours> {
        let last = self.last(count)?;
        let read = || self.entries.iter().filter(|e| e.count(count).is_some());
        let days = |e: &&Entry| super::days_between(e.date, last.date);
        let lately = read().find(|e| days(e) <= super::RATE_DAYS).filter(|e| days(e) > 0);
        let first = lately.or_else(|| read().next())?;
        let over = days(&first);
        (over > 0).then(|| {
            (last.count(count).unwrap_or_default() - first.count(count).unwrap_or_default()) * (1.0 / over as f64)
        })
    }
}

/// Reads a log. `names` are the inspections of the model, each with the count that it comes by.
///
/// # Errors
/// The codes of [`CODES`], each at its exact characters.
pub fn parse(file: FileId, text: &str, names: &[(String, Option<Count>)]) -> Result<Log, Diagnostics> {
    let mut reader = Reader { file, names, found: Diagnostics::default(), log: Log::default() };
    reader.read(text);
    if reader.found.has_errors() { Err(reader.found) } else { Ok(reader.log) }
}

struct Reader<'a> {
    file: FileId,
    names: &'a [(String, Option<Count>)],
    found: Diagnostics,
    log: Log,
}

/// A field and where it stands.
#[derive(Clone)]
struct Field<'t> {
    text: &'t str,
    at: Range<usize>,
}

impl Reader<'_> {
    fn wrong(&mut self, code: &'static str, at: Range<usize>, message: String, help: impl Into<String>) {
        self.found.push(Diagnostic::error(code, Span::new(self.file, at), message).help(help));
    }

    fn read(&mut self, text: &str) {
        let mut headed = false;
        let mut start = 0;
        for whole in text.split('\n') {
            let line = whole.trim_end_matches('\r');
            let blank = line.trim().is_empty() || line.trim_start().starts_with('#');
            match (blank, headed) {
                (true, _) => {}
                (false, false) => {
                    headed = true;
                    self.heading(line, start);
                }
                (false, true) => self.line(line, start),
            }
            start += whole.len() + 1;
        }
        if !headed {
            let message = "the log is empty".to_owned();
            self.wrong("log-heading", 0..0, message, format!("begin with the line `{HEADING}`"));
        }
    }

    fn heading(&mut self, line: &str, start: usize) {
        if line.trim_start_matches('\u{feff}').trim() != HEADING {
            let message = "the first line of a log is its heading, and this is another".to_owned();
            self.wrong("log-heading", start..start + line.len(), message, format!("begin with the line `{HEADING}`"));
        }
    }

    fn line(&mut self, line: &str, start: usize) {
        let fields = fields(line, start);
        let [date, tach, meter, service, done] = fields.as_slice() else {
            let message = format!("this line has {} fields, and a line of the log has five", fields.len());
            return self.wrong(
                "log-fields",
                start..start + line.len(),
                message,
                format!("write the fields of `{HEADING}`"),
            );
        };
        let day = self.date(date);
        let counts = [tach, meter, service].map(|field| self.count(field));
        let inspection = self.inspection(done);
        let Some(date) = day else { return };
        let whole = counts.iter().all(Result::is_ok);
        let counts = counts.map(|c| c.ok().flatten());
        self.counts_run(date, &counts, [tach, meter, service]);
        if let Some((name, Some(by))) =
            inspection.filter(|(_, by)| whole && by.is_some_and(|b| counts[b as usize].is_none()))
        {
            let message = format!("`{name}` comes by the column `{}`, and this line leaves it empty", by.column());
            self.wrong("log-count-missing", done.at.clone(), message, "write what the counter showed when it was done");
        }
        self.log.entries.push(Entry { date, counts, done: (!done.text.is_empty()).then(|| done.text.to_owned()) });
    }

    fn date(&mut self, field: &Field<'_>) -> Option<Date> {
        let Some(date) = day(field.text) else {
            let message = format!("`{}` is no day of the calendar", short(field.text));
            self.wrong("log-date", field.at.clone(), message, "write a day that there is, like 2026-05-02");
            return None;
        };
        if let Some(before) = self.log.entries.last().filter(|e| e.date > date) {
            let message = format!("{date} comes before {}, the day of the line above", before.date);
            self.wrong("log-backwards", field.at.clone(), message, "mend the day, or put the lines in their order");
        }
        Some(date)
    }

    /// A count; `Ok(None)` where it was not read, `Err` where it is wrong and was told.
    fn count(&mut self, field: &Field<'_>) -> Result<Option<Hours>, ()> {
        if field.text.is_empty() {
            return Ok(None);
        }
        let plain = field.text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        let found = field.text.parse::<f64>().ok().filter(|n| plain && (0.0..=HIGHEST_COUNT).contains(n));
        if found.is_none() {
            let message = format!("`{}` is no count of hours", short(field.text));
            self.wrong("log-number", field.at.clone(), message, "write hours from 0 to 100000, like 1203.4");
        }
        found.map(|hours| Some(Hours(hours))).ok_or(())
    }

    fn counts_run(&mut self, date: Date, counts: &[Option<Hours>; 3], fields: [&Field<'_>; 3]) {
        for (count, field) in Count::ALL.into_iter().zip(fields) {
            let before = self.log.last(count).map(|e| (e.date, e.count(count).unwrap_or_default()));
            let Some(((day, was), now)) = before.zip(counts[count as usize]) else { continue };
            let days = super::days_between(day, date) + 1;
            let name = count.column();
            if now < was {
                let message = format!("`{name}` shows {} h here and {} h on {day}", now.0, was.0);
                self.wrong("log-backwards", field.at.clone(), message, "mend the count that is wrong");
            } else if days > 0 && (now - was).0 > days as f64 * count.most_a_day() {
                let message = format!("`{name}` grows by {:.1} h from {day} to {date}", (now - was).0);
                self.wrong("log-too-fast", field.at.clone(), message, "mend the count or the day that is wrong");
            }
        }
    }

    fn inspection(&mut self, field: &Field<'_>) -> Option<(String, Option<Count>)> {
        if field.text.is_empty() {
            return None;
        }
        let known = self.names.iter().find(|(name, _)| name == field.text).cloned();
        if known.is_none() {
            let near = did_you_mean(field.text, self.names.iter().map(|(n, _)| n.as_str()));
            let help = near.map_or_else(
                || "write the name of an inspection of the model, or leave it empty".to_owned(),
                |near| format!("write `{near}`, if that is meant"),
            );
            let message = format!("the model has no inspection `{}`", short(field.text));
            self.wrong("log-inspection", field.at.clone(), message, help);
        }
        known
    }
}

/// The day of a text like `2026-05-02`, if the calendar has it.
pub fn day(text: &str) -> Option<Date> {
    let shape = text.len() == 10
        && text.char_indices().all(|(i, c)| if i == 4 || i == 7 { c == '-' } else { c.is_ascii_digit() });
    text.parse::<Date>().ok().filter(|_| shape)
}

/// A text short and plain enough for a message.
fn short(text: &str) -> String {
    text.chars().take(40).map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect()
}

/// The fields of a line, without the spaces around them; the last holds all that is left.
fn fields(line: &str, start: usize) -> Vec<Field<'_>> {
    let mut at = start;
    line.splitn(5, ',')
        .map(|raw| {
            let text = raw.trim();
            let from = at + (raw.len() - raw.trim_start().len());
            at += raw.len() + 1;
            Field { text, at: from..from + text.len() }
        })
        .collect()
}
