//! When what was done on one day falls due: by the calendar, and by the counts that the clocks showed.

use super::Printed;
use crate::analyse::due::{Count, HIGHEST_COUNT, day, end_of_months, later};
use crate::analyse::measure::Hours;
use crate::base::text::capitalise;
use crate::compose::composer::Composer;
use crate::compose::phrase::say;
use crate::compose::say::{joined, quoted};
use crate::doc::{Block, Cell, Column, Inline, Inlines, Row, TableKind};
use crate::model::{Inspection, Interval};
use crate::parse::book::Call;
use jiff::civil::Date;

/// What a call tells of the day: hours by tachometer, by hour meter and in service, each where it says so.
struct Done {
    on: Date,
    counts: [Option<f64>; 3],
}

impl Composer<'_> {
    /// Months to their last day, days on that day, hours from the count.
    pub fn due(&mut self, call: &Call) -> Vec<Block> {
        let Some(done) = self.done(call) else { return Vec::new() };
        let model = self.model;
        let all = model.inspections.iter().enumerate();
        let rows = all.filter_map(|(at, inspection)| self.due_row(at, inspection, &done)).collect();
        let caption = self.due_caption(&done);
        let columns = vec![Column::Inspection, Column::Every, Column::DueNext];
        self.table_or_none("due", TableKind::Due, caption, columns, rows)
    }

    fn done(&mut self, call: &Call) -> Option<Done> {
        let given = call.get("done")?;
        let on = day(&given.value);
        if on.is_none() {
            self.error("call-argument", given.span, "this is no day of the calendar", "write it like `2026-05-02`");
        }
        let mut counts = [None; 3];
        for (count, argument) in Count::ALL.into_iter().zip(["tachometer", "hour_meter", "in_service"]) {
            let Some(given) = call.get(argument) else { continue };
            let hours = given.value.parse::<f64>().ok().filter(|h| (0.0..=HIGHEST_COUNT).contains(h));
            if hours.is_none() {
                let help = "write hours from 0 to 100000, like `1203.4`";
                self.error("call-argument", given.span, "this is no count of hours", help);
                return None;
            }
            counts[count as usize] = hours;
        }
        Some(Done { on: on?, counts })
    }

    fn due_caption(&mut self, done: &Done) -> Inlines {
        let fact = Inline::text(done.on.to_string());
        let of = |(count, hours): (Count, Option<f64>)| hours.map(|hours| (count, hours));
        let told: Vec<(Count, f64)> = Count::ALL.into_iter().zip(done.counts).filter_map(of).collect();
        if told.is_empty() {
            return say("caption-due", &[("fact", fact.into())]);
        }
        let runs = told.into_iter().map(|(count, hours)| {
            let hours = self.printed(&format!("due/at/{}", count.column()), hours, "h", 1);
            count_of(count, &hours)
        });
        let part = joined(runs.collect(), ", ");
        say("caption-due-counts", &[("fact", fact.into()), ("part", part.into())])
    }

    fn due_row(&mut self, at: usize, inspection: &Inspection, done: &Done) -> Option<Row> {
        let id = format!("inspection/{}", at + 1);
        let (every, due) = match &inspection.every {
            Interval::CalendarMonths(months) => {
                let day = end_of_months(done.on, *months)?;
                (self.every(at, f64::from(*months), "every-months"), vec![vec![Inline::text(day.to_string())]])
            }
            Interval::Days(days) => {
                let day = later(done.on, i64::from(*days))?;
                (self.every(at, f64::from(*days), "every-days"), vec![vec![Inline::text(day.to_string())]])
            }
            Interval::Hours(every) => {
                let every = Hours::of(every)?;
                let count = Count::of(inspection.by)?;
                let due = self.due_count(at, (count, done.counts[count as usize]? + every.0), inspection);
                (vec![self.printed(&format!("due/{at}/every"), every.0, "h", 1).inline()], due)
            }
        };
        let name = vec![quoted(format!("{id}/name"), &capitalise(&inspection.name))];
        Some(Row { about: id, cells: vec![Cell::line(name), Cell::line(every), Cell { mark: None, lines: due }] })
    }

    fn every(&mut self, at: usize, number: f64, phrase: &'static str) -> Inlines {
        let count = self.printed(&format!("due/{at}/every"), number, "", 0);
        say(phrase, &[("count", count.inline().into())])
    }

    /// The count at which it is due, and by how much that may be exceeded.
    fn due_count(&mut self, at: usize, (count, hours): (Count, f64), inspection: &Inspection) -> Vec<Inlines> {
        let hours = self.printed(&format!("due/{at}/count"), hours, "h", 1);
        let mut lines = vec![count_of(count, &hours)];
        if let Some(over) = inspection.overrun.as_ref().and_then(Hours::of) {
            let over = self.printed(&format!("due/{at}/overrun"), over.0, "h", 1);
            lines.push(say("due-overrun", &[("fact", over.inline().into())]));
        }
        lines
    }
}

/// `3237 h of tachometer time`.
fn count_of(count: Count, hours: &Printed) -> Inlines {
    let by = match count {
        Count::Tachometer => "by-tachometer",
        Count::HourMeter => "by-hour-meter",
        Count::Service => "by-time-in-service",
    };
    say("due-at", &[("fact", hours.inline().into()), ("part", say(by, &[]).into())])
}
