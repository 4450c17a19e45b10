//! Quantities, inspections and clocks: every number at its place, every sum done again as it is printed.

use super::Desk;
use crate::audit::amount::{Amount, shows};
use crate::audit::page::{Cell, Grid, Sum};
use crate::audit::speech::{bare, capital};
use crate::audit::words::Listed;

/// The most that minutes shown to a tenth can differ.
const SIGNS: (&str, &str) = (" ÷ ", " × ");

impl Desk<'_> {
    pub(super) fn check_quantities(&mut self, grid: &Grid) {
        let quantities = self.words.quantities.clone();
        self.check_listed(grid, &quantities, |desk, row, listed, place| {
            let [name, value, source] = row else { return };
            let note: Vec<String> = listed.note.iter().cloned().collect();
            desk.compare_lines(&format!("{place}, column “Number”"), name.get(1..).unwrap_or_default(), &note);
            desk.check_amount(&format!("{place}, column “Value”"), value, Some(&listed.value));
            let cite: Vec<String> = listed.cite.iter().cloned().collect();
            desk.compare_lines(&format!("{place}, column “Source”"), source, &cite);
        });
    }

    pub(super) fn check_inspections(&mut self, grid: &Grid) {
        let inspections = self.words.inspections.clone();
        self.check_listed(grid, &inspections, |desk, row, listed, place| {
            let [_, every, by, source] = row else { return };
            desk.check_interval(&format!("{place}, column “Every”"), &every.join(" "), &listed.value);
            let counted = match listed.by.as_str() {
                "tachometer" => "tachometer time",
                "hour-meter" => "hour-meter time",
                "calendar" => "the calendar",
                other => other,
            };
            desk.compare_lines(&format!("{place}, column “Counted by”"), by, &[counted.to_owned()]);
            let cite: Vec<String> = listed.cite.iter().cloned().collect();
            desk.compare_lines(&format!("{place}, column “Source”"), source, &cite);
        });
    }

    /// Rows by the first line of their first cell; each entry of the model once.
    fn check_listed(&mut self, grid: &Grid, all: &[Listed], mut each: impl FnMut(&mut Self, &[Cell], &Listed, &str)) {
        let mut left: Vec<&Listed> = all.iter().collect();
        for row in &grid.rows {
            let name = row.first().and_then(|cell| cell.first()).cloned().unwrap_or_default();
            let place = format!("{}, row “{name}”", grid.name());
            match left.iter().position(|listed| bare(&listed.name) == bare(&name)) {
                Some(at) => {
                    let listed = left.remove(at);
                    each(self, row, listed, &place);
                }
                None => self.notes.find("name-extra", &place, &name, "no such name here, or twice"),
            }
        }
        for listed in left {
            self.notes.find("name-missing", grid.name(), "nothing of it", capital(&listed.name));
        }
    }

    fn check_interval(&mut self, place: &str, says: &str, every: &str) {
        let expected = match every.split_once(' ') {
            Some((count, "calendar months" | "calendar month")) => {
                format!("{count} calendar months, to the end of the month")
            }
            Some((count, "days" | "day")) => format!("{count} days"),
            _ => return self.chosen.clone().check(says, every, place, &mut self.notes),
        };
        self.notes.report.proved.numbers += 1;
        if says != expected {
            self.notes.find("number-wrong", place, says, expected);
        }
    }

    pub(super) fn check_clocks(&mut self, grid: &Grid) {
        for row in &grid.rows {
            let [speed, clock, sum, result] = row.as_slice() else { continue };
            let [speed, clock, sum, result] = [speed, clock, sum, result].map(|cell| cell.join(" "));
            let place = grid.row_name(row);
            self.check_sum(&format!("{place}, column “Sum”"), &sum, &result);
            let (first, rest) = sum.split_once(SIGNS.0).unwrap_or((&sum, ""));
            let last = rest.rsplit(SIGNS.1).next().unwrap_or_default();
            if first != speed || last != clock {
                self.notes.find("sum-wrong", format!("{place}, column “Sum”"), &sum, format!("{speed} ÷ … × {clock}"));
            }
        }
    }

    /// A sum as it is printed, done again: speed over reference, times minutes.
    fn check_sum(&mut self, place: &str, sum: &str, result: &str) {
        let read = || {
            let (speed, rest) = sum.split_once(SIGNS.0)?;
            let (reference, minutes) = rest.split_once(SIGNS.1)?;
            let rpm = |text: &str| Amount::read(text)?.number_in("rpm");
            Some((
                rpm(speed)?,
                rpm(reference)?,
                Amount::read(minutes)?.number_in("min")?,
                Amount::read(result)?,
                reference,
            ))
        };
        let Some((speed, reference, minutes, shown, reference_text)) = read() else {
            return self.unreadable(place, format!("{sum} = {result}"), "speed ÷ reference × minutes = minutes");
        };
        if let Some(truth) = self.words.reference_speed.clone() {
            self.chosen.clone().check(reference_text, &truth, place, &mut self.notes);
        }
        self.notes.report.proved.numbers += 1;
        let minutes = speed / reference * minutes;
        if !shows(&shown, minutes) || shown.number_in("min").is_none() {
            self.notes.find("sum-wrong", place, format!("{sum} = {result}"), format!("{minutes} min"));
        }
    }

    /// A worked sum: every line with an equals sign is done again.
    pub(super) fn check_worked(&mut self, sum: &Sum) {
        let place = format!("{}, worked sum “{}”", sum.place, sum.title);
        let mut worked = 0;
        for line in &sum.lines {
            let Some((left, result)) = line.split_once(" = ") else { continue };
            let start = left.rfind(". ").map_or(0, |at| at + 2);
            let left = &left[start..];
            worked += 1;
            self.check_sum(&place, left, result);
            let says = |text: &str| sum.title.split(" for ").any(|part| part == text);
            let speed = left.split(SIGNS.0).next().unwrap_or_default();
            let minutes = left.rsplit(SIGNS.1).next().unwrap_or_default();
            if !says(speed) || !says(minutes) {
                self.notes.find("sum-wrong", &place, left, &sum.title);
            }
        }
        if worked == 0 {
            self.unreadable(&place, sum.lines.join(" / "), "a sum");
        }
    }
}
