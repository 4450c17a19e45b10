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
    let feeders = feeders(model, &all);
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

/// Circuits that another circuit gets its current through.
fn feeders(model: &Model, all: &[Circuit]) -> BTreeSet<ItemIx> {
    let own: BTreeSet<ItemIx> = all.iter().map(|c| c.item).collect();
    let passed = |c: &Circuit| upstream(model, c.item);
    all.iter().flat_map(passed).filter(|i| own.contains(i)).collect()
}

/// What the current of an item passes before it.
fn upstream(model: &Model, item: ItemIx) -> BTreeSet<ItemIx> {
    let mut passes: BTreeSet<ItemIx> = supply(model, model[item].node).passes.into_iter().collect();
    passes.remove(&item);
    passes
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
    let passes = upstream(model, circuit.item);
    let is_bus = |i: &&ItemIx| model[**i].kind == Kind::Bus;
    let is_first = |i: &&ItemIx| !upstream(model, **i).iter().any(|u| model[*u].kind == Kind::Bus);
    let before: BTreeSet<ItemIx> =
        passes.iter().filter(is_bus).filter(is_first).flat_map(|bus| upstream(model, *bus)).collect();
    if !passes.iter().any(|i| model[*i].kind == Kind::Bus) {
        return None;
    }
    let between = all.iter().filter(|c| passes.contains(&c.item) && !before.contains(&c.item));
    let wires: Vec<_> = between.filter_map(|c| c.wire).collect();
    let sum = |of: fn(&super::WireCheck) -> Volts| -> Volts { wires.iter().chain([&own]).map(of).sum() };
    (!wires.is_empty()).then(|| BusDrop { continuous: sum(|w| w.continuous_drop), total: sum(|w| w.total_drop) })
}
