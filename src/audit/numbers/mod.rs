//! Sums and tables of numbers: worked out afresh by plain formulas from the embedded model, and held against what is printed.
//!
//! A table's number is within half of its last shown digit. A worked sum is done again as it is printed, each line within half of the
//! last digit of its result; and since a worked sum goes on with rounded numbers, its results are within two last digits of the model's.

mod air;
mod battery;
mod called;
mod due;
mod facts;
mod flights;
mod fuel;
mod loads;
mod needles;
mod store;
mod sum;
mod supply;

pub(super) use air::{airspeed, altitude, impact, points, pressure};
pub(super) use battery::work_out_times;
pub(super) use facts::{Facts, Flight};
pub(super) use loads::LoadIn;
pub(super) use sum::minutes;

use super::page::{Cell, Grid, Sum};
use super::speech::bare;
use super::tables::Desk;

/// What one line of a cell should say: each `#` of the pattern is the next number with its unit.
#[derive(Debug, Clone)]
pub(super) struct Want {
    pattern: String,
    numbers: Vec<(f64, &'static str)>,
}

impl Want {
    /// Words alone.
    pub(super) fn text(text: impl Into<String>) -> Self {
        Self { pattern: text.into(), numbers: Vec::new() }
    }

    /// A number alone.
    pub(super) fn number(number: f64, unit: &'static str) -> Self {
        Self { pattern: "#".to_owned(), numbers: vec![(number, unit)] }
    }

    /// Words with numbers in them.
    pub(super) fn said(pattern: &str, numbers: Vec<(f64, &'static str)>) -> Self {
        Self { pattern: pattern.to_owned(), numbers }
    }

    fn is_said_by(&self, text: &str) -> bool {
        if self.numbers.is_empty() {
            return bare(text) == bare(&self.pattern);
        }
        let mut literals = self.pattern.split('#');
        let Some(mut rest) = literals.next().and_then(|first| text.strip_prefix(first)) else { return false };
        for ((number, unit), literal) in self.numbers.iter().zip(literals) {
            let end = if literal.is_empty() { Some(rest.len()) } else { rest.find(literal) };
            let Some(end) = end else { return false };
            if !shows(&rest[..end], *number, unit, 1.0) {
                return false;
            }
            rest = &rest[end + literal.len()..];
        }
        rest.is_empty()
    }

    fn told(&self) -> String {
        let mut text = self.pattern.clone();
        for (number, unit) in &self.numbers {
            text = text.replacen('#', format!("{number:.4} {unit}").trim_end(), 1);
        }
        text
    }
}

/// Whether a text shows a number in that unit, within so many halves of its last digit.
pub(super) fn shows(text: &str, truth: f64, unit: &str, halves: f64) -> bool {
    let digits = if unit.is_empty() { Some(text) } else { text.strip_suffix(unit).and_then(|t| t.strip_suffix(' ')) };
    let Some((number, half)) = digits.and_then(sum::number) else { return false };
    (number - truth).abs() <= half * halves + 1e-9 * truth.abs().max(1.0)
}

/// A row as it should be: of each cell its lines.
pub(super) type WantedRow = Vec<Vec<Want>>;

/// One line of a cell of one line.
pub(super) fn one(want: Want) -> Vec<Want> {
    vec![want]
}

/// Whether a text is that number, rounded to its last digit.
pub(in crate::audit) fn says(text: &str, number: f64, unit: &'static str) -> bool {
    Want::number(number, unit).is_said_by(text)
}

/// A cell of one number.
pub(super) fn figure(number: f64, unit: &'static str) -> Vec<Want> {
    vec![Want::number(number, unit)]
}

impl Desk<'_> {
    /// The numbers that stand in a line below a table of numbers.
    pub(super) fn told_below(&self, of: &str, aspect: &str) -> Option<(f64, &'static str)> {
        match (of, aspect) {
            ("numbers/air/same", "airspeed") => Some((2.0, "kt")),
            ("numbers/air/same", "altitude") => Some((20.0, "ft")),
            ("numbers/air/same", "vertical") => Some((20.0, "ft/min")),
            ("numbers/air/stop", "airspeed") => Some((0.0, "kt")),
            ("numbers/fuel/longest", light) => Some((self.longest(light)?, "min")),
            ("numbers/fuel/all", "usable") => Some((self.fuel_tanks().iter().map(|t| t.2).sum(), "gal")),
            _ => None,
        }
    }

    /// Holds a table against its rows, in any order; each has to be there once.
    pub(super) fn expect_rows(&mut self, grid: &Grid, rows: Vec<WantedRow>) {
        let mut left = rows;
        for row in &grid.rows {
            let place = grid.row_name(row);
            let first = row.first().cloned().unwrap_or_default();
            match left.iter().position(|wanted| wanted.first().is_some_and(|cell| fits(&first, cell))) {
                Some(at) => {
                    let wanted = left.remove(at);
                    self.expect_row(grid, &place, row, &wanted);
                }
                None => self.notes.find("row-extra", place, first.join(" / "), "no such row, or twice"),
            }
        }
        for wanted in left {
            let name = wanted.first().map(|cell| told(cell)).unwrap_or_default();
            self.notes.find("row-missing", grid.name(), "no such row", name);
        }
    }

    /// Holds a table against its rows in their order.
    pub(super) fn expect_ordered(&mut self, grid: &Grid, rows: &[WantedRow]) {
        if grid.rows.len() != rows.len() {
            let code = if grid.rows.len() < rows.len() { "row-missing" } else { "row-extra" };
            self.notes.find(code, grid.name(), format!("{} rows", grid.rows.len()), format!("{} rows", rows.len()));
            return;
        }
        for (row, wanted) in grid.rows.iter().zip(rows) {
            self.expect_row(grid, &grid.row_name(row), row, wanted);
        }
    }

    fn expect_row(&mut self, grid: &Grid, place: &str, row: &[Cell], wanted: &WantedRow) {
        if row.len() != wanted.len() {
            let says = format!("{} cells", row.len());
            return self.notes.find("unreadable", place, says, format!("{} cells", wanted.len()));
        }
        for ((cell, want), heading) in row.iter().zip(wanted).zip(&grid.headings) {
            self.notes.report.proved.numbers += want.iter().map(|w| w.numbers.len()).sum::<usize>();
            if !fits(cell, want) {
                self.notes.find("figure-wrong", format!("{place}, column “{heading}”"), cell.join(" / "), told(want));
            }
        }
    }

    /// Checks a worked sum of the physics, known by its title; says whether it is one.
    pub(super) fn is_worked_figures(&mut self, sum: &Sum) -> bool {
        let between = |first: &str, last: &str| {
            let rest = sum.title.strip_prefix(first)?.strip_suffix(last)?;
            Some(rest.to_owned())
        };
        let results = if between("Time on ", " alone").is_some() {
            self.battery_results()
        } else if between("", " with everything off").is_some() {
            self.drain_results()
        } else if between("", " with the master left on").is_some() {
            self.left_on_results()
        } else if let Some(state) = between("Continuous load in the state ", "") {
            self.load_results(&state)
        } else if let Some(circuit) = between("Voltage drop of the wire behind ", "") {
            self.drop_results(&circuit)
        } else if let Some(flight) = between("Times of one ", "") {
            self.flight_results(&flight)
        } else if sum.title == "What the ratio of the two clocks does" {
            self.ratio_results()
        } else if sum.title.contains(": worked for the end of the leg “") {
            self.blocked_results(&sum.title)
        } else if let Some(trip) = between("Fuel for a flight of ", "") {
            self.reserve_results(&trip)
        } else if let Some(tank) = between("", " alone") {
            self.one_tank_results(&tank)
        } else {
            return false;
        };
        self.check_figures_worked(sum, results);
        true
    }

    /// A worked sum: each line done again as it is printed, and its result held against the model's.
    pub(super) fn check_figures_worked(&mut self, sum: &Sum, results: Option<Vec<(f64, &'static str)>>) {
        let place = format!("{}, worked sum “{}”", sum.place, sum.title);
        let Some(results) = results else {
            return self.notes.find("unreadable", place, &sum.title, "a sum of the model");
        };
        // What is rounded to one side lies within a whole digit of its sum, and is exactly what it has to be.
        let sided = sum.title.starts_with("Fuel for a flight of ") || sum.title.ends_with(" alone");
        let sided = sided && !sum.title.starts_with("Time on ");
        let (sum_halves, truth_halves) = if sided { (2.0, 1.0) } else { (1.0, 4.0) };
        let lines: Vec<(&str, &str)> = sum.lines.iter().filter_map(|line| line.split_once(" = ")).collect();
        if lines.len() != results.len() {
            let says = format!("{} lines", lines.len());
            return self.notes.find("sum-wrong", place, says, format!("{} lines", results.len()));
        }
        for ((left, result), (truth, unit)) in lines.into_iter().zip(results) {
            self.notes.report.proved.numbers += 1;
            let start = left.rfind(". ").map_or(0, |at| at + 2);
            let printed = &left[start..];
            if !sum::comes_to(printed, result, sum_halves) {
                self.notes.find("sum-wrong", &place, format!("{printed} = {result}"), "a result of this sum");
            }
            if !shows(result, truth, unit, truth_halves) {
                self.notes.find("figure-wrong", &place, result, format!("{truth:.4} {unit}"));
            }
        }
    }
}

fn fits(cell: &[String], want: &[Want]) -> bool {
    cell.len() == want.len() && cell.iter().zip(want).all(|(line, want)| want.is_said_by(line))
}

fn told(cell: &[Want]) -> String {
    cell.iter().map(Want::told).collect::<Vec<_>>().join(" / ")
}
