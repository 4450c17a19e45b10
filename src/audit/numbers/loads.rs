//! Each state's load, and each circuit's wire.
//!
//! # Source
//! FAA AC 43.13-1B: paragraph 11-35 for four fifths; Tables 11-3 and 11-9 for wires; Table 11-6 for the drop allowed.

use super::supply::Consumer;
use super::{Want, WantedRow, figure, one};
use crate::audit::page::Grid;
use crate::audit::parts::Number;
use crate::audit::speech::capital;
use crate::audit::tables::Desk;
use std::collections::BTreeSet;

/// Size; ohm for a thousand feet; greatest breaker; greatest fuse.
const WIRES: &[(&str, f64, Option<f64>, Option<f64>)] = &[
    ("24", 28.40, None, None),
    ("22", 16.20, Some(5.0), Some(5.0)),
    ("20", 9.88, Some(7.5), Some(5.0)),
    ("18", 6.23, Some(10.0), Some(10.0)),
    ("16", 4.81, Some(15.0), Some(10.0)),
    ("14", 3.06, Some(20.0), Some(15.0)),
    ("12", 2.02, Some(30.0), Some(20.0)),
    ("10", 1.26, Some(40.0), Some(30.0)),
    ("8", 0.70, Some(50.0), Some(50.0)),
    ("6", 0.44, Some(80.0), Some(70.0)),
    ("4", 0.28, Some(100.0), Some(70.0)),
    ("2", 0.18, Some(125.0), Some(100.0)),
    ("1", 0.15, None, Some(150.0)),
    ("0", 0.12, None, Some(150.0)),
    ("00", 0.09, None, None),
    ("000", 0.07, None, None),
    ("0000", 0.06, None, None),
];

impl Desk<'_> {
    fn is_momentary(&self, id: &str) -> bool {
        self.words.facts.of.get(id).is_some_and(|f| f.intermittent)
    }

    pub(in crate::audit) fn check_loads(&mut self, grid: &Grid) {
        let states: Vec<(String, LoadIn)> = self.loaded_states();
        let names: Vec<&String> = states.iter().filter_map(|(id, _)| self.words.states.get(id)).collect();
        let headings: Vec<&String> = grid.headings.iter().skip(2).collect();
        if names.iter().collect::<BTreeSet<_>>() != headings.iter().collect::<BTreeSet<_>>()
            || names.len() != headings.len()
        {
            let says = headings.iter().map(|h| h.as_str()).collect::<Vec<_>>().join(", ");
            let expected = names.iter().map(|n| n.as_str()).collect::<Vec<_>>().join(", ");
            return self.notes.find("state-wrong", grid.name(), says, expected);
        }
        let find = |heading: &String| states.iter().find(|(id, _)| self.words.states.get(id) == Some(heading));
        let ordered: Vec<&(String, LoadIn)> = headings.into_iter().filter_map(find).collect();
        let rows = self.load_rows(&ordered);
        self.expect_rows(grid, rows);
    }

    /// States in which an alternator works, with what is on there of what it can carry.
    fn loaded_states(&self) -> Vec<(String, LoadIn)> {
        let ids: Vec<String> = self.words.states.keys().cloned().collect();
        let loads = ids.into_iter().filter_map(|id| self.load_in(&id).map(|load| (id, load)));
        loads.filter(|(_, load)| load.rating > 0.0).collect()
    }

    /// What is on in a state of what an alternator can carry; nothing of a state that is not reached.
    pub(in crate::audit) fn load_in(&self, state: &str) -> Option<LoadIn> {
        let moment = self.model.moment(state, &[], false).ok()??;
        let (works, drawing) = (&moment.solution.first.works, self.model.drawing(&moment));
        // While a starter turns, the alternator turns too slowly to carry anything.
        if (0..works.len()).any(|n| works[n] && self.model.nodes[n].is_kind("starter")) {
            return None;
        }
        let makers = self.model.makers();
        let rated = |m: &&Number| works[**m];
        let ratings = makers.iter().filter(rated).filter_map(|m| {
            self.words.facts.quantity(&self.model.nodes[*m].id, "rating", "A") //
        });
        let carried = |c: &&Consumer| makers.is_empty() || makers.iter().any(|m| c.sources.contains(m));
        let consumers = self.consumers(self.system_volts());
        let on: Vec<(String, f64)> =
            consumers.iter().filter(carried).filter(|c| c.is_on(&drawing)).map(|c| (c.id.clone(), c.amps)).collect();
        let steady = on.iter().filter(|(id, _)| !self.is_momentary(id)).map(|(_, amps)| amps).sum();
        Some(LoadIn { rating: ratings.sum(), steady, on })
    }

    fn load_rows(&self, states: &[&(String, LoadIn)]) -> Vec<WantedRow> {
        let all: BTreeSet<&String> = states.iter().flat_map(|(_, load)| load.on.iter().map(|(id, _)| id)).collect();
        let mut rows = Vec::new();
        for id in all {
            let amps = states.iter().find_map(|(_, load)| load.amps(id)).unwrap_or_default();
            let mut row = vec![one(Want::text(capital(&self.words.name(id)))), figure(amps, "A")];
            for (state, load) in states {
                row.push(load.amps(id).map_or_else(Vec::new, |amps| one(self.load_cell(id, state, amps))));
            }
            rows.push(row);
        }
        let mut sum = |name: &str, unit: &'static str, of: &dyn Fn(&str, &LoadIn) -> f64| {
            let cells = states.iter().map(|(state, load)| figure(of(state, load), unit));
            rows.push([one(Want::text(name)), Vec::new()].into_iter().chain(cells).collect());
        };
        sum("Continuous load", "A", &|_, load| load.steady);
        sum("Mean load by duty", "A", &|state, load| {
            load.on.iter().map(|(id, amps)| amps * self.duty(id, state)).sum()
        });
        sum("Four fifths of the rating", "A", &|_, load| load.rating * 0.8);
        sum("Continuous load over rating", "%", &|_, load| 100.0 * load.steady / load.rating);
        rows
    }

    fn load_cell(&self, id: &str, state: &str, amps: f64) -> Want {
        let duty = self.duty(id, state);
        match (self.is_momentary(id), (duty - 1.0).abs() < 1e-12) {
            (true, _) => Want::said("# for moments, duty #", vec![(amps, "A"), (duty, "")]),
            (false, false) => Want::said("#, duty #", vec![(amps, "A"), (duty, "")]),
            (false, true) => Want::number(amps, "A"),
        }
    }

    /// The results of the worked load of a state.
    pub(super) fn load_results(&mut self, state: &str) -> Option<Vec<(f64, &'static str)>> {
        let states = self.loaded_states();
        let (_, load) = states.iter().find(|(id, _)| self.words.states.get(id).is_some_and(|name| name == state))?;
        Some(vec![(load.steady, "A"), (load.rating * 0.8, "A"), (100.0 * load.steady / load.rating, "%")])
    }

    pub(in crate::audit) fn check_circuits(&mut self, grid: &Grid) {
        let circuits = self.circuits();
        let rows: Vec<WantedRow> =
            circuits.iter().map(|c| self.circuit_row(c, self.drop_from_bus(&circuits, c))).collect();
        self.expect_rows(grid, rows);
    }

    /// Whether an alternator works in any state.
    pub(in crate::audit) fn has_loads(&self) -> bool {
        !self.loaded_states().is_empty()
    }

    /// Whether the wire of any circuit drops something on and on.
    pub(super) fn drops_anything(&self) -> bool {
        self.circuits().iter().any(|c| c.wire.is_some() && c.steady > 0.0)
    }

    fn circuits(&self) -> Vec<Circuit> {
        let consumers = self.consumers(self.system_volts());
        let facts = &self.words.facts;
        let mut found = Vec::new();
        for (id, _) in self.words.items() {
            let rated = self.words.protects(id).then(|| facts.quantity(id, "rating", "A")).flatten();
            let wire = facts.of.get(id).and_then(|f| f.wire.clone());
            let Some(number) = self.model.number.get(id).filter(|_| rated.is_some() || wire.is_some()) else {
                continue;
            };
            let on: Vec<&Consumer> = consumers.iter().filter(|c| c.passes.contains(number) || c.id == *id).collect();
            let steady = on.iter().filter(|c| !self.is_momentary(&c.id)).map(|c| c.amps).sum();
            let behind = on.iter().map(|c| c.id.clone()).collect();
            let all = on.iter().map(|c| c.amps).sum();
            found.push(Circuit { id: id.clone(), number: *number, rated, steady, all, wire, behind });
        }
        self.count_feeders_by_state(&consumers, &mut found);
        found
    }

    /// A circuit that others get their current through never carries all at once: it counts with the greatest load of any state.
    fn count_feeders_by_state(&self, consumers: &[Consumer], found: &mut [Circuit]) {
        let sets: Vec<BTreeSet<String>> = found.iter().map(|c| c.behind.clone()).filter(|b| !b.is_empty()).collect();
        let feeds = |c: &&Circuit| sets.iter().any(|set| set.is_subset(&c.behind) && *set != c.behind);
        let feeders: BTreeSet<Number> = found.iter().filter(feeds).map(|c| c.number).collect();
        let states = self.words.states.keys().filter_map(|s| self.model.moment(s, &[], false).ok().flatten());
        let drawing: Vec<Vec<bool>> = states.map(|moment| self.model.drawing(&moment)).collect();
        for circuit in found.iter_mut().filter(|c| feeders.contains(&c.number)) {
            let behind: Vec<&Consumer> = consumers.iter().filter(|c| circuit.behind.contains(&c.id)).collect();
            let greatest = |counts: &dyn Fn(&Consumer) -> bool| {
                let sum = |on: &Vec<bool>| -> f64 {
                    behind.iter().filter(|c| counts(c) && c.is_on(on)).map(|c| c.amps).sum()
                };
                drawing.iter().map(sum).fold(0.0, f64::max)
            };
            circuit.steady = greatest(&|c| !self.is_momentary(&c.id));
            circuit.all = greatest(&|_| true);
        }
    }

    /// Drop from the first bus to the end of a circuit's wire, where other wires lie between: on and on, and with everything on.
    fn drop_from_bus(&self, circuits: &[Circuit], circuit: &Circuit) -> Option<(f64, f64)> {
        let own = circuit.drops()?;
        let is_bus = |n: &Number| self.model.nodes[*n].is_kind("bus");
        let buses = (0..self.model.nodes.len()).filter(is_bus).map(|bus| self.model.passed_before(bus));
        let ahead: BTreeSet<Number> = buses.filter(|passed| !passed.iter().any(is_bus)).flatten().collect();
        let carries = |c: &&Circuit| circuit.behind.is_subset(&c.behind) && circuit.behind != c.behind;
        let between =
            circuits.iter().filter(carries).filter(|c| !circuit.behind.is_empty() && !ahead.contains(&c.number));
        let drops: Vec<(f64, f64)> = between.filter_map(Circuit::drops).collect();
        let sum = |of: fn(&(f64, f64)) -> f64| drops.iter().map(of).sum::<f64>();
        (!drops.is_empty()).then(|| (own.0 + sum(|d| d.0), own.1 + sum(|d| d.1)))
    }

    fn circuit_row(&self, circuit: &Circuit, from_bus: Option<(f64, f64)>) -> WantedRow {
        let number = |n: Option<f64>| n.map_or_else(Vec::new, |n| figure(n, "A"));
        let both = |steady: f64, moments: f64, unit: &'static str| {
            let mut cell = figure(steady, unit);
            if circuit.all > circuit.steady {
                cell.push(Want::said("# for moments", vec![(moments, unit)]));
            }
            cell
        };
        let name = one(Want::text(capital(&self.words.name(&circuit.id))));
        let known = |cell: Vec<Want>| if circuit.behind.is_empty() { Vec::new() } else { cell };
        let mut row = vec![name, number(circuit.rated), known(both(circuit.steady, circuit.all, "A"))];
        let Some((gauge, feet)) = &circuit.wire else {
            row.resize(8, Vec::new());
            return row;
        };
        let Some((_, _, breaker, fuse)) = WIRES.iter().find(|(size, ..)| size == gauge) else { return row };
        let kind = self.words.things.get(&circuit.id).map_or("", |t| t.kind.as_str());
        let largest = if kind == "breaker" { *breaker } else { fuse.filter(|_| kind == "fuse") };
        row.push(one(Want::text(gauge.clone())));
        row.push(number(largest));
        row.push(figure(*feet, "ft"));
        let (steady, all) = circuit.drops().unwrap_or_default();
        let mut drop = both(steady, all, "V");
        let counts = |(steady, moments): (f64, f64)| if circuit.all > circuit.steady { moments } else { steady };
        drop.extend(from_bus.map(|both| Want::said("# from the bus", vec![(counts(both), "V")])));
        row.push(known(drop));
        row.push(self.allowed_drop().map_or_else(Vec::new, |(steady, moments)| both(steady, moments, "V")));
        row
    }

    fn allowed_drop(&self) -> Option<(f64, f64)> {
        match self.system_volts()? {
            v if (12.0..=14.5).contains(&v) => Some((0.5, 1.0)),
            v if (24.0..=29.0).contains(&v) => Some((1.0, 2.0)),
            _ => None,
        }
    }

    /// The result of the worked drop of a circuit.
    pub(super) fn drop_results(&mut self, name: &str) -> Option<Vec<(f64, &'static str)>> {
        let circuits = self.circuits();
        let named =
            |c: &&Circuit| crate::audit::speech::bare(&self.words.name(&c.id)) == crate::audit::speech::bare(name);
        let circuit = circuits.iter().find(named)?;
        Some(vec![(circuit.drops()?.0, "V")])
    }
}

/// What is on in a state of what an alternator can carry.
pub(in crate::audit) struct LoadIn {
    /// Of the alternators that work, A; nothing where none does.
    pub(in crate::audit) rating: f64,
    /// All that is on for more than moments, A.
    pub(in crate::audit) steady: f64,
    on: Vec<(String, f64)>,
}

impl LoadIn {
    fn amps(&self, id: &str) -> Option<f64> {
        self.on.iter().find(|(other, _)| other == id).map(|(_, amps)| *amps)
    }
}

struct Circuit {
    id: String,
    number: Number,
    rated: Option<f64>,
    steady: f64,
    all: f64,
    wire: Option<(String, f64)>,
    /// What draws through it.
    behind: BTreeSet<String>,
}

impl Circuit {
    /// Drop of its wire on and on, and with everything on, V.
    fn drops(&self) -> Option<(f64, f64)> {
        let (gauge, feet) = self.wire.as_ref()?;
        let (_, ohm, ..) = WIRES.iter().find(|(size, ..)| size == gauge)?;
        let drop = |amps: f64| ohm / 1000.0 * feet * amps;
        Some((drop(self.steady), drop(self.all)))
    }
}
