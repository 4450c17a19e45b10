//! The clocks of flights, of a month and of a year.
//!
//! # Source
//! Turns of the engine over the reference speed: see the tachometer's maker's note in `checks`. Time in service: 14 CFR 1.1.

use super::facts::{Flight, Leg};
use super::{Want, WantedRow, figure, one};
use crate::audit::page::Grid;
use crate::audit::speech::capital;
use crate::audit::tables::Desk;

/// Minutes of one leg or sum: clock, tachometer, hour meter, service.
#[derive(Debug, Clone, Copy, Default)]
struct Clocked([f64; 4]);

impl Clocked {
    fn add(self, other: Self) -> Self {
        let mut sum = self;
        sum.0.iter_mut().zip(other.0).for_each(|(a, b)| *a += b);
        sum
    }

    fn times(self, many: f64) -> Self {
        Self(self.0.map(|m| m * many))
    }

    fn cells(self, unit: &'static str) -> Vec<Vec<Want>> {
        self.0.iter().map(|m| figure(if unit == "h" { m / 60.0 } else { *m }, unit)).collect()
    }
}

impl Desk<'_> {
    fn clocked(&mut self, leg: &Leg) -> Option<Clocked> {
        let reference = self.words.facts.reference_rpm?;
        let meter = self.words.facts.hour_meter.clone();
        let runs =
            self.answer(&leg.state).filter(|a| a.reached).is_some_and(|a| meter.is_some_and(|m| a.works.contains(&m)));
        let airborne = self.flies(&leg.state);
        let counted = |counts: bool| if counts { leg.minutes } else { 0.0 };
        Some(Clocked([leg.minutes, leg.rpm / reference * leg.minutes, counted(runs), counted(airborne)]))
    }

    /// Whether a state is in flight: as it says, else as the one that it comes from.
    pub(super) fn flies(&self, state: &str) -> bool {
        let mut at = state.to_owned();
        for _ in 0..=self.model.states.len() {
            let Some(of) = self.model.states.get(&at) else { return false };
            if of.in_flight || of.on_ground {
                return of.in_flight;
            }
            let Some(before) = of.after.as_ref().or(of.like.as_ref()) else { return false };
            at.clone_from(before);
        }
        false
    }

    fn flown(&mut self, flight: &Flight) -> Option<Vec<Clocked>> {
        flight.legs.iter().map(|leg| self.clocked(leg)).collect()
    }

    /// The flight whose name a text ends with.
    pub(super) fn flight_named(&self, text: &str) -> Option<Flight> {
        self.words.facts.flights.values().find(|f| text.ends_with(f.name.as_str())).cloned()
    }

    fn no_flight(&mut self, grid: &Grid) {
        self.notes.find("unreadable", grid.name(), &grid.caption, "a flight of the model");
    }

    pub(in crate::audit) fn check_flight_clocks(&mut self, grid: &Grid) {
        let Some(flight) = self.flight_named(&grid.caption) else { return self.no_flight(grid) };
        let Some(all) = self.flown(&flight) else { return self.no_flight(grid) };
        let mut rows: Vec<WantedRow> = Vec::new();
        for (leg, times) in flight.legs.iter().zip(&all) {
            let mut row = vec![one(Want::text(leg.name.clone())), figure(leg.rpm, "rpm")];
            row.extend(times.cells("min"));
            rows.push(row);
        }
        let mut row = vec![one(Want::text("In all")), Vec::new()];
        row.extend(all.into_iter().fold(Clocked::default(), Clocked::add).cells("min"));
        rows.push(row);
        self.expect_ordered(grid, &rows);
    }

    /// The results of the worked times of a flight.
    pub(super) fn flight_results(&mut self, name: &str) -> Option<Vec<(f64, &'static str)>> {
        let flight = self.words.facts.flights.values().find(|f| f.name == name).cloned()?;
        let all = self.flown(&flight)?;
        let sum = all.iter().copied().fold(Clocked::default(), Clocked::add);
        let mut results: Vec<(f64, &'static str)> = all.iter().map(|c| (c.0[1], "min")).collect();
        results.push((sum.0[1], "min"));
        results.extend([sum.0[2], sum.0[3]].into_iter().filter(|m| *m > 0.0).map(|m| (m, "min")));
        Some(results)
    }

    fn monthly(&mut self) -> Option<Vec<(Flight, Clocked)>> {
        let flights: Vec<Flight> = self.words.facts.flights.values().filter(|f| f.monthly > 0.0).cloned().collect();
        let mut found = Vec::new();
        for flight in flights {
            let one = self.flown(&flight)?.into_iter().fold(Clocked::default(), Clocked::add);
            let all = one.times(flight.monthly);
            found.push((flight, all));
        }
        Some(found)
    }

    pub(in crate::audit) fn check_months(&mut self, grid: &Grid) {
        let Some(flights) = self.monthly() else { return self.no_flight(grid) };
        let mut rows: Vec<WantedRow> = Vec::new();
        let mut sum = Clocked::default();
        for (flight, all) in flights {
            let mut row = vec![one(Want::text(capital(&flight.name))), figure(flight.monthly, "")];
            row.extend(all.cells("h"));
            rows.push(row);
            sum = sum.add(all);
        }
        for (name, times) in [("A month", sum), ("A year", sum.times(12.0))] {
            let mut row = vec![one(Want::text(name)), Vec::new()];
            row.extend(times.cells("h"));
            rows.push(row);
        }
        self.expect_rows(grid, rows);
    }

    /// The results of the worked ratio of the clocks.
    pub(super) fn ratio_results(&mut self) -> Option<Vec<(f64, &'static str)>> {
        let sum = self.monthly()?.into_iter().fold(Clocked::default(), |sum, (_, all)| sum.add(all));
        let [_, tach, meter, service] = sum.0;
        let ratio = tach / meter;
        Some(vec![
            (ratio, ""),
            (1.0 / ratio, ""),
            (100.0 / ratio, "h"),
            (100.0 * service / tach, "h"),
            (100.0 * service / meter, "h"),
            (4000.0 / ratio, "h"),
            (4000.0 * ratio, "h"),
        ])
    }
}
