//! What draws current, from which sources and through what; each state's load, and each circuit's wire.
//!
//! # Source
//! FAA AC 43.13-1B: paragraph 11-35 for four fifths; Tables 11-3 and 11-9 for wires; Table 11-6 for the drop allowed.

use super::{Want, WantedRow, figure, one};
use crate::audit::page::Grid;
use crate::audit::parts::{NodeKind, Number, PlainModel};
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

/// Something that draws.
pub(super) struct Consumer {
    pub(super) id: String,
    pub(super) amps: f64,
    /// It is on while one of these works.
    on_with: Vec<Number>,
    /// Batteries and alternators at the ends of its feeds.
    pub(super) sources: BTreeSet<Number>,
    /// Items that its current passes.
    pub(super) passes: BTreeSet<Number>,
}

impl Consumer {
    pub(super) fn is_on(&self, works: impl Fn(Number) -> bool) -> bool {
        self.on_with.iter().any(|n| works(*n))
    }
}

impl PlainModel {
    fn is_source(&self, item: Number) -> bool {
        ["battery", "alternator", "generator"].iter().any(|kind| self.nodes[item].is_kind(kind))
    }

    /// Alternators and generators.
    pub(super) fn makers(&self) -> Vec<Number> {
        let is_one = |n: &Number| self.nodes[*n].is_kind("alternator") || self.nodes[*n].is_kind("generator");
        (0..self.nodes.len()).filter(is_one).collect()
    }

    /// Where a node gets electricity from, and by way of what.
    fn electric(&self, node: Number) -> Vec<(Number, &[Number])> {
        let mut feeds = Vec::new();
        self.nodes[node].needs.iter().for_each(|need| need.feeds(&mut feeds));
        let live = feeds.into_iter().filter(|f| self.nodes[f.from].gives.as_deref() == Some("electricity"));
        live.map(|f| (f.from, f.through.as_slice())).collect()
    }

    fn is_item(&self, number: Number) -> bool {
        matches!(self.nodes[number].kind, NodeKind::Item { .. })
    }

    /// The nodes through which something gets its current: itself, else those of its functions that are fed.
    fn fed(&self, node: Number) -> Vec<Number> {
        let own = !self.electric(node).is_empty();
        let functions: Vec<Number> =
            self.nodes[node].functions.iter().copied().filter(|f| !self.electric(*f).is_empty()).collect();
        if own || functions.is_empty() { vec![node] } else { functions }
    }

    fn follow(&self, consumer: &mut Consumer) {
        let mut open: Vec<Number> = consumer.on_with.iter().flat_map(|n| [*n, self.item_of(*n)]).collect();
        let mut seen: BTreeSet<Number> = BTreeSet::new();
        while let Some(at) = open.pop() {
            if !seen.insert(at) {
                continue;
            }
            for (from, through) in self.electric(at) {
                let items = through.iter().map(|t| self.item_of(*t)).filter(|i| self.is_item(*i));
                consumer.passes.extend(items);
                let source = self.item_of(from);
                if !self.is_item(source) {
                    continue;
                }
                if self.is_source(source) {
                    consumer.sources.insert(source);
                } else {
                    consumer.passes.insert(source);
                    open.push(from);
                }
            }
        }
    }
}

impl Desk<'_> {
    /// The voltage of the system: the highest of its alternators, else of its batteries.
    fn system_volts(&self) -> Option<f64> {
        let of = |kinds: &[&str]| {
            let items = self.words.items().filter(|(_, t)| kinds.contains(&t.kind.as_str()));
            items.filter_map(|(id, _)| self.words.facts.quantity(id, "voltage", "V")).reduce(f64::max)
        };
        of(&["alternator", "generator"]).or_else(|| of(&["battery"]))
    }

    /// Everything that says what it draws.
    pub(super) fn consumers(&self, volts: Option<f64>) -> Vec<Consumer> {
        let (facts, model) = (&self.words.facts, self.model);
        let of = |(number, node): (Number, &crate::audit::parts::Node)| {
            let watts = || Some(facts.quantity(&node.id, "draws", "W")? / volts.filter(|v| *v > 0.0)?);
            let amps = facts.quantity(&node.id, "draws", "A").or_else(watts)?;
            let (sources, passes) = (BTreeSet::new(), BTreeSet::new());
            let mut consumer = Consumer { id: node.id.clone(), amps, on_with: model.fed(number), sources, passes };
            model.follow(&mut consumer);
            Some(consumer)
        };
        model.nodes.iter().enumerate().filter_map(of).collect()
    }

    /// For what share of the time something draws in a state.
    pub(super) fn duty(&self, id: &str, state: &str) -> f64 {
        self.words.facts.of.get(id).map_or(1.0, |f| f.duty_in.get(state).copied().unwrap_or(f.duty))
    }

    fn is_momentary(&self, id: &str) -> bool {
        self.words.facts.of.get(id).is_some_and(|f| f.intermittent)
    }

    /// Whether nodes work in a state.
    fn works_in(&mut self, state: &str) -> BTreeSet<Number> {
        let answer = self.answer(state);
        let works = answer.iter().filter(|a| a.reached).flat_map(|a| a.works.iter());
        works.filter_map(|id| self.model.number.get(id)).copied().collect()
    }

    pub(in crate::audit) fn check_loads(&mut self, grid: &Grid) {
        let states: Vec<(String, LoadIn)> = self.loaded_states();
        let names: Vec<&String> = states.iter().filter_map(|(id, _)| self.words.states.get(id)).collect();
        let headings: Vec<&String> = grid.headings.iter().skip(2).collect();
        if names.iter().collect::<BTreeSet<_>>() != headings.iter().collect::<BTreeSet<_>>() || names.len() != headings.len() {
            let says = headings.iter().map(|h| h.as_str()).collect::<Vec<_>>().join(", ");
            let expected = names.iter().map(|n| n.as_str()).collect::<Vec<_>>().join(", ");
            return self.notes.find("state-wrong", grid.name(), says, expected);
        }
        let find = |heading: &String| states.iter().find(|(id, _)| self.words.states.get(id) == Some(heading));
        let ordered: Vec<&(String, LoadIn)> = headings.into_iter().filter_map(find).collect();
        let rows = self.load_rows(&ordered);
        self.expect_rows(grid, rows);
    }

    /// States in which an alternator works, with what works there of what it can carry.
    fn loaded_states(&mut self) -> Vec<(String, LoadIn)> {
        let consumers = self.consumers(self.system_volts());
        let makers = self.model.makers();
        let ids: Vec<String> = self.words.states.keys().cloned().collect();
        let mut found = Vec::new();
        for id in ids {
            let works = self.works_in(&id);
            let alive = makers.iter().filter(|m| works.contains(m));
            let rating: f64 = alive
                .filter_map(|m| self.words.facts.quantity(&self.model.nodes[*m].id, "rating", "A"))
                .sum();
            if rating <= 0.0 {
                continue;
            }
            let carried = consumers.iter().filter(|c| makers.iter().any(|m| c.sources.contains(m)));
            let on = carried.filter(|c| c.is_on(|n| works.contains(&n))).map(|c| (c.id.clone(), c.amps)).collect();
            found.push((id, LoadIn { rating, on }));
        }
        found
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
        let steady = |load: &LoadIn| -> f64 {
            load.on.iter().filter(|(id, _)| !self.is_momentary(id)).map(|(_, amps)| amps).sum()
        };
        let mut sum = |name: &str, unit: &'static str, of: &dyn Fn(&str, &LoadIn) -> f64| {
            let cells = states.iter().map(|(state, load)| figure(of(state, load), unit));
            rows.push([one(Want::text(name)), Vec::new()].into_iter().chain(cells).collect());
        };
        sum("Continuous load", "A", &|_, load| steady(load));
        sum("Mean load by duty", "A", &|state, load| {
            load.on.iter().map(|(id, amps)| amps * self.duty(id, state)).sum()
        });
        sum("Four fifths of the rating", "A", &|_, load| load.rating * 0.8);
        sum("Continuous load over rating", "%", &|_, load| 100.0 * steady(load) / load.rating);
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
        let steady: f64 = load.on.iter().filter(|(id, _)| !self.is_momentary(id)).map(|(_, amps)| amps).sum();
        Some(vec![(steady, "A"), (load.rating * 0.8, "A"), (100.0 * steady / load.rating, "%")])
    }

    pub(in crate::audit) fn check_circuits(&mut self, grid: &Grid) {
        let rows: Vec<WantedRow> = self.circuits().iter().map(|c| self.circuit_row(c)).collect();
        self.expect_rows(grid, rows);
    }

    fn circuits(&self) -> Vec<Circuit> {
        let consumers = self.consumers(self.system_volts());
        let facts = &self.words.facts;
        let mut found = Vec::new();
        for (id, _) in self.words.items() {
            let rated = self.words.protects(id).then(|| facts.quantity(id, "rating", "A")).flatten();
            let wire = facts.of.get(id).and_then(|f| f.wire.clone());
            let Some(number) = self.model.number.get(id).filter(|_| rated.is_some() || wire.is_some()) else { continue };
            let on: Vec<&Consumer> = consumers.iter().filter(|c| c.passes.contains(number) || c.id == *id).collect();
            let steady = on.iter().filter(|c| !self.is_momentary(&c.id)).map(|c| c.amps).sum();
            found.push(Circuit { id: id.clone(), rated, steady, all: on.iter().map(|c| c.amps).sum(), wire });
        }
        found
    }

    fn circuit_row(&self, circuit: &Circuit) -> WantedRow {
        let number = |n: Option<f64>| n.map_or_else(Vec::new, |n| figure(n, "A"));
        let both = |steady: f64, moments: f64, unit: &'static str| {
            let mut cell = figure(steady, unit);
            if circuit.all > circuit.steady {
                cell.push(Want::said("# for moments", vec![(moments, unit)]));
            }
            cell
        };
        let name = one(Want::text(capital(&self.words.name(&circuit.id))));
        let mut row = vec![name, number(circuit.rated), both(circuit.steady, circuit.all, "A")];
        let Some((gauge, feet)) = &circuit.wire else {
            row.resize(8, Vec::new());
            return row;
        };
        let Some((_, ohm, breaker, fuse)) = WIRES.iter().find(|(size, ..)| size == gauge) else { return row };
        let kind = self.words.things.get(&circuit.id).map_or("", |t| t.kind.as_str());
        let largest = if kind == "breaker" { *breaker } else { fuse.filter(|_| kind == "fuse") };
        row.push(one(Want::text(gauge.clone())));
        row.push(number(largest));
        row.push(figure(*feet, "ft"));
        let drop = |amps: f64| ohm / 1000.0 * feet * amps;
        row.push(both(drop(circuit.steady), drop(circuit.all), "V"));
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
        let named = |c: &&Circuit| crate::audit::speech::bare(&self.words.name(&c.id)) == crate::audit::speech::bare(name);
        let circuit = circuits.iter().find(named)?;
        let (gauge, feet) = circuit.wire.as_ref()?;
        let (_, ohm, ..) = WIRES.iter().find(|(size, ..)| size == gauge)?;
        Some(vec![(ohm / 1000.0 * feet * circuit.steady, "V")])
    }
}

/// What an alternator may carry in a state: its rating, and what is on.
struct LoadIn {
    rating: f64,
    on: Vec<(String, f64)>,
}

impl LoadIn {
    fn amps(&self, id: &str) -> Option<f64> {
        self.on.iter().find(|(other, _)| other == id).map(|(_, amps)| *amps)
    }
}

struct Circuit {
    id: String,
    rated: Option<f64>,
    steady: f64,
    all: f64,
    wire: Option<(String, f64)>,
}
