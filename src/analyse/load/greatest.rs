//! Circuits that feed other circuits: what they carry at most in any state, and what is lost on the way from the bus.
//!
//! **Duty.** All the loads behind a feeder are never on at once, so a feeder counts with the greatest load of any state. The drop that is
//! allowed is one from the bus to the load: that of each wire on the way, added up.

use super::{Circuit, Consumer, circuits, consumers, supply, system_voltage};
use crate::analyse::measure::{Amps, Volts};
use crate::analyse::network::Analysis;
use crate::model::{ItemIx, Kind, Model, NodeIx, StateIx};
use std::collections::BTreeSet;

/// Every circuit as [`circuits`] has it, but that one on which others hang carries the greatest load of any state.
pub fn circuits_in_states(model: &Model, analysis: &Analysis<'_>) -> Vec<Circuit> {
    let all = circuits(model);
    let consumers = consumers(model, system_voltage(model));
    let feeders = feeders(&all);
    let states: Vec<StateIx> = model.state_indices().filter(|s| analysis.state(*s).reached).collect();
    let drawing: Vec<BTreeSet<NodeIx>> = states.iter().map(|s| analysis.drawing_in(*s)).collect();
    let greatest = |circuit: &Circuit, counts: &dyn Fn(&Consumer) -> bool| {
        let behind = |c: &&Consumer| circuit.consumers.contains(&c.node) && counts(c);
        let sum = |on: &BTreeSet<NodeIx>| -> Amps {
            consumers.iter().filter(behind).filter(|c| c.is_on(on)).map(|c| c.draws).sum()
        };
        Amps(drawing.iter().map(|on| sum(on).0).fold(0.0, f64::max))
    };
    let changed = |circuit: Circuit| {
        if !feeders.contains(&circuit.item) {
            return circuit;
        }
        let continuous = greatest(&circuit, &|c| !c.intermittent);
        let total = greatest(&circuit, &|_| true);
        let wire = circuit.wire.map(|w| w.carrying(continuous, total));
        Circuit { continuous, total, wire, ..circuit }
    };
    all.into_iter().map(changed).collect()
}

/// Circuits that another circuit gets its current through: all that hangs on that one hangs on these, and more.
fn feeders(all: &[Circuit]) -> BTreeSet<ItemIx> {
    let feeds = |c: &&Circuit| all.iter().any(|other| !other.consumers.is_empty() && is_before(c, other));
    all.iter().filter(feeds).map(|c| c.item).collect()
}

fn is_before(feeder: &Circuit, circuit: &Circuit) -> bool {
    feeder.consumers.len() > circuit.consumers.len() && circuit.consumers.iter().all(|c| feeder.consumers.contains(c))
}

/// What the current of an item passes before it.
fn upstream(model: &Model, item: ItemIx) -> BTreeSet<ItemIx> {
    let mut passes: BTreeSet<ItemIx> = supply(model, model[item].node).passes.into_iter().collect();
    passes.remove(&item);
    passes
}

/// What lies ahead of the first bus: of those that hang on no other bus.
fn ahead_of_buses(model: &Model) -> BTreeSet<ItemIx> {
    let is_bus = |i: &ItemIx| model[*i].kind == Kind::Bus;
    let buses = model.item_indices().filter(is_bus).map(|bus| upstream(model, bus));
    buses.filter(|before| !before.iter().any(is_bus)).flatten().collect()
}

/// What is lost from the bus to the end of a wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BusDrop {
    /// On and on.
    pub continuous: Volts,
    /// With everything on.
    pub total: Volts,
}

/// The drop of a circuit's wire with those of the wires between it and the first bus; none where no other wire lies between.
pub fn drops_from_bus(model: &Model, all: &[Circuit], circuit: &Circuit) -> Option<BusDrop> {
    let own = circuit.wire?;
    let ahead = ahead_of_buses(model);
    let has_loads = !circuit.consumers.is_empty();
    let between = all.iter().filter(|c| has_loads && is_before(c, circuit) && !ahead.contains(&c.item));
    let wires: Vec<_> = between.filter_map(|c| c.wire).collect();
    let sum = |of: fn(&super::WireCheck) -> Volts| -> Volts { wires.iter().chain([&own]).map(of).sum() };
    (!wires.is_empty()).then(|| BusDrop { continuous: sum(|w| w.continuous_drop), total: sum(|w| w.total_drop) })
}
