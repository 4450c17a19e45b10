//! Fuel by tank, with its reserves, and on one tank.
//!
//! # Source
//! 14 CFR 91.151: 30 min of reserve by day, 45 by night. Six pounds a gallon: common rule.

use super::{Want, WantedRow, figure, one};
use crate::audit::amount::Amount;
use crate::audit::page::Grid;
use crate::audit::speech::{bare, capital};
use crate::audit::tables::Desk;

/// A time that is counted on, down to whole minutes.
fn down(minutes: f64) -> f64 {
    (minutes + 1e-6).floor()
}

/// Fuel that has to be carried, up to a tenth of a gallon.
fn up(gallons: f64) -> f64 {
    (gallons * 10.0 - 1e-6).ceil() / 10.0
}

impl Desk<'_> {
    /// The longest flight that keeps its reserve, from full tanks at a rate that a chapter names, min.
    pub(in crate::audit) fn longest(&self, light: &str) -> Option<f64> {
        let usable: f64 = self.fuel_tanks().iter().map(|t| t.2).sum();
        let kept = if light == "day" { 30.0 } else { 45.0 };
        Some(down(usable / self.called_rate("reserves")? * 60.0 - kept))
    }

    /// Tanks that give fuel: id, what each holds, what of it is usable, gal.
    pub(in crate::audit) fn fuel_tanks(&self) -> Vec<(String, f64, f64)> {
        let gallons = |id: &str, key: &str| {
            let pounds = || self.words.facts.quantity(id, key, "lb").map(|lb| lb / 6.0);
            self.words.facts.quantity(id, key, "gal").or_else(pounds)
        };
        let tank = |node: &crate::audit::parts::Node| {
            let is_one = node.is_kind("tank") && node.gives.as_deref() == Some("fuel");
            let holds = gallons(&node.id, "capacity").filter(|_| is_one)?;
            Some((node.id.clone(), holds, gallons(&node.id, "usable").unwrap_or(holds)))
        };
        self.model.nodes.iter().filter_map(tank).collect()
    }

    /// The rate that stands at the end of a caption: it has to be a consumption of the model.
    fn rate_in(&mut self, grid: &Grid) -> Option<f64> {
        let shown = grid.caption.rsplit_once(" at ").map(|(_, rate)| rate.to_owned());
        let called: Vec<String> =
            self.book.iter().flat_map(|c| &c.calls).filter_map(|c| c.get("rate").map(str::to_owned)).collect();
        let quantities = self.words.quantities.iter().filter(|q| called.contains(&q.id));
        let rates: Vec<f64> = quantities.filter_map(|q| Amount::read(&q.value)?.number_in("gph")).collect();
        let rate = rates.into_iter().find(|rate| shown.as_ref().is_some_and(|s| super::shows(s, *rate, "gph", 1.0)));
        if rate.is_none() {
            self.notes.find("figure-wrong", grid.name(), &grid.caption, "a consumption of the model");
        }
        rate
    }

    pub(in crate::audit) fn check_tanks(&mut self, grid: &Grid) {
        let Some(rate) = self.rate_in(grid) else { return };
        let tanks = self.fuel_tanks();
        let row = |name: String, holds: f64, usable: f64| {
            vec![
                one(Want::text(name)),
                figure(holds, "gal"),
                figure(usable, "gal"),
                figure(down(usable / rate * 60.0), "min"),
            ]
        };
        let mut rows: Vec<WantedRow> =
            tanks.iter().map(|(id, holds, usable)| row(capital(&self.words.name(id)), *holds, *usable)).collect();
        let sum = |of: fn(&(String, f64, f64)) -> f64| tanks.iter().map(of).sum();
        rows.push(row("In all".to_owned(), sum(|t| t.1), sum(|t| t.2)));
        self.expect_rows(grid, rows);
    }

    /// The times in minutes that calls name under a key.
    fn times_called(&self, call: &str, key: &str, of: Option<&str>) -> Vec<f64> {
        let calls = self.book.iter().flat_map(|c| &c.calls).filter(|c| c.name == call);
        let calls = calls.filter(|c| of.is_none_or(|of| c.of == of));
        calls.filter_map(|c| c.get(key)).flat_map(|t| t.split_whitespace().filter_map(|m| m.parse().ok())).collect()
    }

    pub(in crate::audit) fn check_reserves(&mut self, grid: &Grid) {
        let Some(rate) = self.rate_in(grid) else { return };
        let needs = |minutes: f64| figure(up(minutes / 60.0 * rate), "gal");
        let row = |trip: &f64| vec![figure(*trip, "min"), needs(trip + 30.0), needs(trip + 45.0)];
        let rows: Vec<WantedRow> = self.times_called("reserves", "trips", None).iter().map(row).collect();
        self.expect_ordered(grid, &rows);
    }

    pub(in crate::audit) fn check_one_tank(&mut self, grid: &Grid) {
        let Some(rate) = self.rate_in(grid) else { return };
        let tanks = self.fuel_tanks();
        let named = |(id, ..): &&(String, f64, f64)| {
            let begins = grid.caption.strip_prefix("On ").and_then(|rest| rest.split_once(" alone from full, at "));
            begins.is_some_and(|(name, _)| bare(name) == bare(&self.words.name(id)))
        };
        let Some((selected, _, usable)) = tanks.iter().find(named) else {
            return self.notes.find("unreadable", grid.name(), &grid.caption, "a tank");
        };
        let others: Vec<f64> = tanks.iter().filter(|(id, ..)| id != selected).map(|t| t.2).collect();
        let row = |minutes: &f64| {
            let left = (usable - minutes / 60.0 * rate).max(0.0);
            let all = || others.iter().copied().chain([left]);
            let apart = all().fold(f64::MIN, f64::max) - all().fold(f64::MAX, f64::min);
            vec![figure(*minutes, "min"), figure(left, "gal"), figure(apart * 6.0, "lb")]
        };
        let times = self.times_called("one_tank", "times", Some(selected));
        let rows: Vec<WantedRow> = times.iter().map(row).collect();
        self.expect_ordered(grid, &rows);
    }

    fn called_rate(&self, call: &str) -> Option<f64> {
        let id = self.book.iter().flat_map(|c| &c.calls).find(|c| c.name == call)?.get("rate")?.to_owned();
        let quantity = self.words.quantities.iter().find(|q| q.id == id)?;
        Amount::read(&quantity.value)?.number_in("gph")
    }

    /// The results of the worked fuel of a flight.
    pub(super) fn reserve_results(&mut self, trip: &str) -> Option<Vec<(f64, &'static str)>> {
        let rate = self.called_rate("reserves")?;
        let trip = Amount::read(trip)?.number_in("min")?;
        Some([30.0, 45.0].map(|kept| (up((trip + kept) / 60.0 * rate), "gal")).to_vec())
    }

    /// The results of the worked time on one tank.
    pub(super) fn one_tank_results(&mut self, name: &str) -> Option<Vec<(f64, &'static str)>> {
        let rate = self.called_rate("one_tank")?;
        let tanks = self.fuel_tanks();
        let (selected, _, usable) = tanks.iter().find(|(id, ..)| bare(&self.words.name(id)) == bare(name))?;
        let fullest = tanks.iter().filter(|(id, ..)| id != selected).map(|t| t.2).reduce(f64::max);
        let mut results = vec![(down(usable / rate * 60.0), "min")];
        results.extend(fullest.map(|gallons| (gallons * 6.0, "lb")));
        Some(results)
    }
}
