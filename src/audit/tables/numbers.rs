//! Quantities, inspections and clocks: every number at its place, every sum done again as it is printed.

use super::Desk;
use crate::audit::amount::Amount;
use crate::audit::numbers::minutes;
use crate::audit::page::{Cell, Grid, Sum};
use crate::audit::speech::{bare, capital};
use crate::audit::words::Listed;

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
            let at = format!("{place}, column “Every”");
            desk.check_interval(&at, every.first().map_or("", String::as_str), &listed.value);
            desk.check_overrun(&at, every.get(1..).unwrap_or_default(), &listed.name);
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

    /// Legs, each with its sum; the last row may be of all legs together.
    pub(super) fn check_clocks(&mut self, grid: &Grid) {
        let (mut clock_min, mut tach_min) = (0.0, 0.0);
        for row in &grid.rows {
            let [speed, clock, sum, result] = row.as_slice() else { continue };
            let [speed, clock, sum, result] = [speed, clock, sum, result].map(|cell| cell.join(" "));
            let place = format!("{}, column “Sum”", grid.row_name(row));
            if speed == "All legs" {
                self.check_minutes(&place, &clock, clock_min);
                self.check_minutes(&place, &result, tach_min);
                continue;
            }
            tach_min += self.check_sum(&place, &sum, &result).unwrap_or(f64::NAN);
            clock_min += Amount::read(&clock).and_then(|a| a.number_in("min")).unwrap_or(f64::NAN);
            let first = sum.split(" ÷ ").next().unwrap_or_default();
            let last = sum.rsplit(" × ").next().unwrap_or_default();
            if first != speed || last != clock {
                self.notes.find("sum-wrong", &place, &sum, format!("{speed} ÷ … × {clock}"));
            }
        }
    }

    fn check_minutes(&mut self, place: &str, says: &str, truth: f64) {
        self.notes.report.proved.numbers += 1;
        let shown = Amount::read(says).filter(|a| a.number_in("min").is_some());
        if !shown.is_some_and(|a| a.shows(truth, "min")) {
            self.notes.find("sum-wrong", place, says, format!("{truth} min"));
        }
    }

    /// A sum as it is printed, done again; what it is divided by is the reference of the model. Gives the minutes.
    fn check_sum(&mut self, place: &str, sum: &str, result: &str) -> Option<f64> {
        let Some(truth) = minutes(sum) else {
            self.unreadable(
                place,
                format!("{sum} = {result}"),
                "a sum of engine speeds and minutes that gives minutes",
            );
            return None;
        };
        if let (Some(reference_is), Some((_, after))) = (self.words.reference_speed.clone(), sum.split_once(" ÷ ")) {
            let reference = after.split(" × ").next().unwrap_or_default();
            self.chosen.clone().check(reference, &reference_is, place, &mut self.notes);
        }
        self.check_minutes(place, result, truth);
        Some(truth)
    }

    /// A worked sum: every line with an equals sign is done again.
    pub(super) fn check_worked(&mut self, sum: &Sum) {
        if self.is_worked_figures(sum) {
            return;
        }
        let place = format!("{}, worked sum “{}”", sum.place, sum.title);
        let mut worked = 0;
        for line in &sum.lines {
            let Some((left, result)) = line.split_once(" = ") else { continue };
            let start = left.rfind(". ").map_or(0, |at| at + 2);
            let left = &left[start..];
            worked += 1;
            self.check_sum(&place, left, result);
            let Some((speed, minutes)) = sum.title.split_once(" for ") else { continue };
            if !left.starts_with(speed) || !left.ends_with(minutes) {
                self.notes.find("sum-wrong", &place, left, &sum.title);
            }
        }
        if worked == 0 {
            self.unreadable(&place, sum.lines.join(" / "), "a sum");
        }
    }
}
