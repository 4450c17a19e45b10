//! The time on the battery alone: ampere minutes by phase.
//!
//! # Source
//! Ampere minutes by phase: as installation manuals of avionics work it; the page stands beside the test against it.

use super::store::{On, Store, Worked};
use super::supply::Consumer;
use super::{Want, WantedRow, figure, one};
use crate::audit::page::Grid;
use crate::audit::parts::{FaultName, Lapse, Number, PlainModel};
use crate::audit::situation::NO_POSITION;
use crate::audit::speech::capital;
use crate::audit::tables::Desk;
use crate::audit::words::Words;
use std::collections::{BTreeMap, BTreeSet};

/// The whole of it.
struct Spent {
    names: Vec<String>,
    lasts: Vec<Option<f64>>,
    on: Vec<On>,
    worked: Vec<Worked>,
}

impl Spent {
    fn total(&self) -> f64 {
        self.worked.iter().map(|w| w.minutes).sum()
    }
}

/// The time of a battery whose `lasts` is a result: that of the phases, down to whole minutes.
pub(in crate::audit) fn work_out_times(model: &mut PlainModel, words: &mut Words) {
    let Some(battery) = words.facts.plan.as_ref().map(|p| p.battery.clone()) else { return };
    let Some(number) = model.number.get(&battery).copied() else { return };
    if model.nodes[number].lasts != Some(Lapse::Sometime) {
        return;
    }
    let Some(minutes) = Desk::new(model, words, &[]).minutes_alone(&[]) else { return };
    let whole = (minutes + 1e-6).floor();
    model.nodes[number].lasts = Some(Lapse::Minutes(whole));
    if let Some(thing) = words.things.get_mut(&battery) {
        thing.amounts.insert("lasts".to_owned(), format!("{whole} min"));
    }
}

impl Desk<'_> {
    /// The battery of `[endurance]` and the state in which the alternator is lost.
    pub(in crate::audit) fn battery_plan(&self) -> Option<(String, String)> {
        let plan = self.words.facts.plan.as_ref()?;
        Some((plan.battery.clone(), plan.state.clone().or_else(|| self.reference.clone())?))
    }

    fn store(&self, battery: &str) -> Option<Store> {
        let rated_ah = self.words.facts.quantity(battery, "capacity", "Ah")?;
        let says = self.words.facts.of.get(battery)?.discharge.clone().unwrap_or_default();
        let (usable, exponent) = (says.usable.unwrap_or(1.0), says.exponent.unwrap_or(1.0));
        Some(Store { rated_ah, usable, exponent, over_h: says.over_h.filter(|_| exponent > 1.0) })
    }

    fn carried_by(&self, battery: &str) -> Vec<Consumer> {
        let volts = self.words.facts.quantity(battery, "voltage", "V");
        let number = self.model.number.get(battery).copied();
        let carried = |c: &Consumer| number.is_some_and(|n| c.sources.contains(&n));
        self.consumers(volts).into_iter().filter(carried).collect()
    }

    /// What is on in each phase once every alternator is lost, with these items left off throughout.
    fn on_by_phase(&mut self, shed: &[String]) -> Option<Vec<On>> {
        let (battery, state) = self.battery_plan()?;
        let (mut positions, givens) = self.model.setting(&state);
        let before = self.model.moment(&state, &[], false).ok()??;
        for item in shed {
            let number = *self.model.number.get(item)?;
            if let Some(control) = &self.model.nodes[number].control {
                let opens = |p: &&String| !control.conducts_in.contains(*p);
                let off = control.positions.iter().find(|p| *p == "off").filter(opens);
                if let Some(position) = off.or_else(|| control.positions.iter().find(opens)) {
                    positions.insert(item.clone(), position.clone());
                }
            }
        }
        let lost = self.model.makers().into_iter().map(|m| FaultName::from_text(&self.model.nodes[m].id));
        let lost: BTreeSet<FaultName> = lost.filter(|f| self.model.faults.contains_key(f)).collect();
        let consumers = self.carried_by(&battery);
        let phases = self.words.facts.plan.as_ref()?.phases.clone();
        let mut all = Vec::new();
        for phase in &phases {
            positions.extend(phase.controls.clone().into_iter().filter(|(c, _)| !shed.contains(c)));
            let numbered = self.model.numbered(&positions);
            let start = &before.solution.first.works;
            let moment = self.model.strike(numbered, givens.clone(), lost.clone(), Some(start));
            let drawing = self.model.drawing(&moment);
            let is_shed = |c: &Consumer| shed.iter().any(|s| c.id == *s || c.id.split('.').next() == Some(s.as_str()));
            let on = consumers.iter().filter(|c| c.is_on(&drawing) && !is_shed(c));
            all.push(on.map(|c| (c.id.clone(), c.amps * self.duty(&c.id, &state))).collect());
        }
        Some(all)
    }

    /// The time on the battery with nothing more left off than the phases say, min.
    pub(in crate::audit) fn minutes_on_battery(&mut self) -> Option<f64> {
        Some(self.spent(&[])?.total())
    }

    fn spent(&mut self, shed: &[String]) -> Option<Spent> {
        let (battery, _) = self.battery_plan()?;
        let store = self.store(&battery)?;
        let on = self.on_by_phase(shed)?;
        let phases = &self.words.facts.plan.as_ref()?.phases;
        let lasts: Vec<Option<f64>> = phases.iter().map(|p| p.lasts_min).collect();
        let worked = store.spend(&on, &lasts)?;
        Some(Spent { names: phases.iter().map(|p| p.name.clone()).collect(), lasts, on, worked })
    }

    /// Minutes from the loss of every alternator until the battery is empty or the last phase ends, with these items left off
    /// throughout.
    pub(in crate::audit) fn minutes_alone(&mut self, shed: &[String]) -> Option<f64> {
        self.spent(shed).map(|spent| spent.total())
    }

    fn no_battery(&mut self, grid: &Grid) {
        self.notes.find("unreadable", grid.name(), &grid.caption, "a battery that can be worked out");
    }

    pub(in crate::audit) fn check_phase_loads(&mut self, grid: &Grid) {
        let Some(spent) = self.spent(&[]) else { return self.no_battery(grid) };
        if grid.headings.get(1..).is_none_or(|headings| headings != spent.names) {
            return self.notes.find("state-wrong", grid.name(), grid.headings.join(", "), spent.names.join(", "));
        }
        let all: BTreeSet<&String> = spent.on.iter().flat_map(BTreeMap::keys).collect();
        let mut rows: Vec<WantedRow> = Vec::new();
        for id in all {
            let cells = spent.on.iter().map(|on| on.get(id).map_or_else(Vec::new, |amps| figure(*amps, "A")));
            rows.push(std::iter::once(one(Want::text(capital(&self.words.name(id))))).chain(cells).collect());
        }
        let sums = spent.on.iter().map(|on| figure(on.values().sum(), "A"));
        rows.push(std::iter::once(one(Want::text("Mean current"))).chain(sums).collect());
        self.expect_rows(grid, rows);
    }

    pub(in crate::audit) fn check_phases(&mut self, grid: &Grid) {
        let Some(spent) = self.spent(&[]) else { return self.no_battery(grid) };
        let row = |(name, w): (&String, &Worked)| {
            let takes = w.counts_as * w.minutes;
            let name = one(Want::text(name.clone()));
            vec![name, figure(w.amps, "A"), figure(w.counts_as, "A"), figure(w.minutes, "min"), figure(takes, "A·min")]
        };
        let mut rows: Vec<WantedRow> = spent.names.iter().zip(&spent.worked).map(row).collect();
        let takes = spent.worked.iter().map(|w| w.counts_as * w.minutes).sum();
        let all = one(Want::text("In all"));
        rows.push(vec![all, Vec::new(), Vec::new(), figure(spent.total(), "min"), figure(takes, "A·min")]);
        self.expect_ordered(grid, &rows);
    }

    /// What is left off is read from the rows; what it gives is worked out.
    pub(in crate::audit) fn check_stages(&mut self, grid: &Grid) {
        let called = self.book.iter().flat_map(|c| &c.calls).filter(|c| c.name == "stages");
        let wanted: Vec<Vec<String>> = called.map(|c| c.of.split_whitespace().map(str::to_owned).collect()).collect();
        let shed = wanted.into_iter().find(|w: &Vec<String>| w.len() + 2 == grid.rows.len());
        let Some(shed) = shed else {
            return self.notes.find("row-missing", grid.name(), format!("{} rows", grid.rows.len()), "a row for each");
        };
        let mut rows: Vec<WantedRow> = Vec::new();
        let Some(nothing) = self.minutes_with_all_on(1.0) else { return self.no_battery(grid) };
        rows.push(vec![one(Want::text("Nothing left off at all")), figure(nothing, "min"), Vec::new()]);
        for count in 0..=shed.len() {
            let Some(spent) = self.spent(&shed[..count]) else { return self.no_battery(grid) };
            let total = spent.total();
            let last = count.checked_sub(1).map(|at| capital(&self.words.name(&shed[at])));
            let name = last.unwrap_or_else(|| "What the phases leave off".to_owned());
            rows.push(vec![one(Want::text(name)), figure(total, "min"), figure(total - nothing, "min")]);
        }
        self.expect_ordered(grid, &rows);
    }

    /// Minutes with all that is on at the loss of the alternator left on to the end, with this share of what the battery gives.
    pub(in crate::audit) fn minutes_with_all_on(&mut self, share: f64) -> Option<f64> {
        let (battery, state) = self.battery_plan()?;
        let store = self.store(&battery)?;
        let (positions, givens) = self.model.setting(&state);
        let before = self.model.moment(&state, &[], false).ok()??;
        let lost = self.model.makers().into_iter().map(|m| FaultName::from_text(&self.model.nodes[m].id));
        let lost: BTreeSet<FaultName> = lost.filter(|f| self.model.faults.contains_key(f)).collect();
        let start = &before.solution.first.works;
        let moment = self.model.strike(self.model.numbered(&positions), givens, lost, Some(start));
        let drawing = self.model.drawing(&moment);
        let on = self.carried_by(&battery).into_iter().filter(|c| c.is_on(&drawing));
        let amps: f64 = on.map(|c| c.amps * self.duty(&c.id, &state)).sum();
        Some(store.rated_ah * store.usable * share * 60.0 / store.counts_as(amps))
    }

    pub(in crate::audit) fn check_cold(&mut self, grid: &Grid) {
        let rows = self.cold_rows();
        match rows {
            Some(rows) => self.expect_ordered(grid, &rows),
            None => self.no_battery(grid),
        }
    }

    /// What the battery gives at each temperature that the model tells.
    fn cold(&self) -> Vec<(f64, f64)> {
        let battery = self.battery_plan().map(|(battery, _)| battery).unwrap_or_default();
        let says = self.words.facts.of.get(&battery).and_then(|f| f.discharge.as_ref());
        says.map(|d| d.cold.clone()).unwrap_or_default()
    }

    /// Whether the model tells what the battery gives in the cold.
    pub(in crate::audit) fn has_cold(&self) -> bool {
        !self.cold().is_empty()
    }

    fn cold_rows(&mut self) -> Option<Vec<WantedRow>> {
        let (battery, _) = self.battery_plan()?;
        let (whole, on) = (self.store(&battery)?, self.on_by_phase(&[])?);
        let phases = self.words.facts.plan.as_ref()?.phases.clone();
        let lasts: Vec<Option<f64>> = phases.iter().map(|p| p.lasts_min).collect();
        let mut rows = Vec::new();
        for (celsius, share) in self.cold() {
            let store = Store { usable: whole.usable * share, ..whole };
            let worked = store.spend(&on, &lasts)?;
            let mut time = figure(worked.iter().map(|w| w.minutes).sum(), "min");
            let short = worked.iter().zip(&lasts).position(|(w, l)| l.is_some_and(|l| w.minutes < l * (1.0 - 1e-9)));
            time.extend(
                short.map(|at| Want::text(format!("Empty in the phase “{}”, before its end.", phases[at].name))),
            );
            let counted = figure(store.rated_ah * store.usable * 60.0, "A·min");
            let all_on = figure(self.minutes_with_all_on(share)?, "min");
            rows.push(vec![figure(celsius, "°C"), counted, time, all_on]);
        }
        Some(rows)
    }

    pub(in crate::audit) fn check_gains(&mut self, grid: &Grid) {
        let rows = self.gain_rows();
        match rows {
            Some(rows) => self.expect_rows(grid, rows),
            None => self.no_battery(grid),
        }
    }

    /// Each load that carries no other's current, alone left out of all phases.
    fn gain_rows(&mut self) -> Option<Vec<WantedRow>> {
        let (battery, _) = self.battery_plan()?;
        let (store, whole) = (self.store(&battery)?, self.spent(&[])?);
        let open = whole.lasts.iter().position(Option::is_none)?;
        let carriers: BTreeSet<Number> = self.consumers(None).into_iter().flat_map(|c| c.passes).collect();
        let ids: BTreeSet<&String> = whole.on.iter().flat_map(BTreeMap::keys).collect();
        let mut rows = Vec::new();
        for id in ids {
            let item = self.model.number.get(id).map(|n| self.model.item_of(*n));
            if item.is_some_and(|i| carriers.contains(&i)) {
                continue;
            }
            let less: Vec<On> =
                whole.on.iter().map(|on| on.clone().into_iter().filter(|(other, _)| other != id).collect()).collect();
            let Some(worked) = store.spend(&less, &whole.lasts) else { continue };
            let gained = worked.iter().map(|w| w.minutes).sum::<f64>() - whole.total();
            if gained < 0.05 {
                continue;
            }
            let amps = whole.on[open].get(id).copied().filter(|amps| *amps > 0.0);
            let name = one(Want::text(capital(&self.words.name(id))));
            let amps = amps.map_or_else(|| one(Want::text("off by then")), |amps| figure(amps, "A"));
            rows.push(vec![name, amps, figure(gained, "min")]);
        }
        Some(rows)
    }

    /// The results of the worked time on the battery.
    pub(super) fn battery_results(&mut self) -> Option<Vec<(f64, &'static str)>> {
        let (battery, _) = self.battery_plan()?;
        let (store, spent) = (self.store(&battery)?, self.spent(&[])?);
        let usable = store.rated_ah * store.usable;
        let mut results = vec![(usable, "Ah"), (usable * 60.0, "A·min")];
        results.extend(store.over_h.map(|h| (store.rated_ah / h, "A")));
        let mut fixed = 0.0;
        for (worked, lasts) in spent.worked.iter().zip(&spent.lasts) {
            if worked.counts_as > worked.amps {
                results.push((worked.counts_as, "A"));
            }
            if let Some(minutes) = lasts {
                fixed += worked.counts_as * minutes;
                results.push((worked.counts_as * minutes, "A·min"));
            }
        }
        if fixed <= usable * 60.0 {
            let open = spent.lasts.iter().position(Option::is_none)?;
            if spent.lasts.len() > 1 {
                results.push((usable * 60.0 - fixed, "A·min"));
            }
            results.push((spent.worked[open].minutes, "min"));
            results.push((spent.total(), "min"));
        }
        Some(results)
    }

    /// The results of the worked standing drain.
    pub(super) fn drain_results(&mut self) -> Option<Vec<(f64, &'static str)>> {
        let (battery, _) = self.battery_plan()?;
        let store = self.store(&battery)?;
        let rests = |n: &crate::audit::parts::Node| n.control.as_ref().map_or(NO_POSITION, |c| c.number_of(&c.rest));
        let positions = self.model.nodes.iter().map(rests).collect();
        let moment = self.model.strike(positions, self.model.normal_givens(), BTreeSet::new(), None);
        let drawing = self.model.drawing(&moment);
        let on: Vec<f64> = self
            .carried_by(&battery)
            .iter()
            .filter(|c| c.is_on(&drawing))
            .map(|c| c.amps * self.words.facts.of.get(&c.id).map_or(1.0, |f| f.duty))
            .collect();
        let (amps, mut results) = (on.iter().sum::<f64>(), Vec::new());
        if on.len() > 1 {
            results.push((amps, "A"));
        }
        let hours = store.rated_ah / amps;
        results.extend([(hours, "h"), (hours / 24.0, "days")]);
        Some(results)
    }

    /// What is on where the master is left on after a flight: in a state of the ground in which nothing makes electricity, no starter
    /// turns, and a contactor draws; of more than one that in which least is on. Each consumer that the battery carries, with its mean current.
    fn left_on(&self, battery: &str) -> Option<(String, Vec<(String, f64)>)> {
        let carried = self.carried_by(battery);
        let mut least: Option<(String, Vec<(String, f64)>)> = None;
        let amps = |on: &[(String, f64)]| on.iter().map(|(_, amps)| amps).sum::<f64>();
        for state in self.words.states.keys().cloned() {
            let Ok(Some(moment)) = self.model.moment(&state, &[], false) else { continue };
            let works = &moment.solution.first.works;
            let turned = |n: &Number| works[*n];
            let starter = (0..works.len()).filter(|n| self.model.nodes[*n].is_kind("starter")).any(|n| works[n]);
            if starter || self.model.makers().iter().any(turned) || self.flies(&state) {
                continue;
            }
            let drawing = self.model.drawing(&moment);
            let on = carried.iter().filter(|c| c.is_on(&drawing));
            let on: Vec<(String, f64)> = on.map(|c| (c.id.clone(), c.amps * self.duty(&c.id, &state))).collect();
            let is_less = least.as_ref().is_none_or(|(_, least)| amps(&on) < amps(least));
            if is_less && on.iter().any(|(id, _)| self.is_coil(id)) {
                least = Some((state, on));
            }
        }
        least
    }

    fn is_coil(&self, id: &str) -> bool {
        self.words.things.get(id).is_some_and(|t| t.kind == "contactor")
    }

    /// The results of the worked times with the master left on.
    pub(super) fn left_on_results(&mut self) -> Option<Vec<(f64, &'static str)>> {
        let (battery, _) = self.battery_plan()?;
        let store = self.store(&battery)?;
        let (_, on) = self.left_on(&battery)?;
        let coils: f64 = on.iter().filter(|(id, _)| self.is_coil(id)).map(|(_, amps)| amps).sum();
        let all: f64 = on.iter().map(|(_, amps)| amps).sum();
        Some(vec![(store.rated_ah / coils, "h"), (store.rated_ah / all, "h")])
    }
}
