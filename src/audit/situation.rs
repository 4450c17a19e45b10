//! One situation: positions, givens and faults, and what follows from them before any feed is asked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::parts::{Condition, ConditionNumber, Entry, Fault, FaultName, Node, NodeKind, Number, PlainModel};
use super::states::Moment;

/// Controls, givens and faults at one moment, with all that follows from them before any feed is asked.
#[derive(Debug, Clone)]
pub(super) struct Situation {
    /// Where each control counts as standing.
    pub(super) effective: Arc<BTreeMap<Number, String>>,
    /// Which conditions are met.
    pub(super) met: Vec<bool>,
    /// Which nodes may be passed, as far as position and trips go.
    pub(super) open: Vec<bool>,
    /// Which nodes faults take, with the functions that go along.
    pub(super) taken: Vec<bool>,
    /// Which nodes mislead.
    pub(super) misled: Vec<bool>,
    /// Which nodes are tripped.
    pub(super) tripped: Vec<bool>,
    /// The givens that hold.
    pub(super) given: Vec<bool>,
    /// Pairs of a node and what it ignores.
    pub(super) ignored: BTreeSet<(Number, Number)>,
}

impl PlainModel {
    /// What follows from positions, givens and faults alone.
    pub(super) fn situation(
        &self,
        positions: &BTreeMap<String, String>,
        givens: &BTreeMap<String, bool>,
        faults: &BTreeSet<FaultName>,
    ) -> Situation {
        let mut situation = self.intact(positions, givens);
        for fault in faults.iter().filter_map(|name| self.faults.get(name)) {
            self.add_fault(&mut situation, fault, true);
        }
        situation
    }

    /// A situation without faults.
    fn intact(&self, positions: &BTreeMap<String, String>, givens: &BTreeMap<String, bool>) -> Situation {
        let effective: BTreeMap<Number, String> = self
            .nodes
            .iter()
            .enumerate()
            .filter(|(_, node)| node.control.is_some())
            .map(|(number, node)| (number, self.effective(&node.id, positions, &mut BTreeSet::new())))
            .collect();
        let stands = |c: &Condition| effective.get(&c.control).is_some_and(|p| c.positions.contains(p));
        let met = self.conditions.iter().map(stands).collect();
        let opens = |number: Number| {
            let number = self.item_of(number);
            match (&self.nodes[number].control, effective.get(&number)) {
                (Some(control), Some(position)) => control.conducts_in.contains(position),
                _ => true,
            }
        };
        let holds = |node: &Node| match node.kind {
            NodeKind::Given { normally } => givens.get(&node.id).copied().unwrap_or(normally),
            _ => false,
        };
        Situation {
            met,
            open: (0..self.nodes.len()).map(opens).collect(),
            given: self.nodes.iter().map(holds).collect(),
            effective: Arc::new(effective),
            taken: vec![false; self.nodes.len()],
            misled: vec![false; self.nodes.len()],
            tripped: vec![false; self.nodes.len()],
            ignored: BTreeSet::new(),
        }
    }

    /// Where a control counts as standing: `off` where the control it is off with does not conduct.
    fn effective(&self, id: &str, positions: &BTreeMap<String, String>, seen: &mut BTreeSet<String>) -> String {
        let control = self.number.get(id).and_then(|n| self.nodes[*n].control.as_ref());
        let stands = positions.get(id).cloned().or_else(|| control.map(|c| c.rest.clone())).unwrap_or_default();
        let Some(parent) = control.and_then(|c| c.off_with.as_ref()) else {
            return stands;
        };
        if !seen.insert(id.to_owned()) {
            return stands;
        }
        let above = self.effective(parent, positions, seen);
        let node = self.number.get(parent).and_then(|n| self.nodes[*n].control.as_ref());
        if node.is_some_and(|c| c.conducts_in.contains(&above)) { stands } else { "off".to_owned() }
    }

    /// Adds what a fault does to a situation. Where `surely` is false, entries that depend on a control count as the
    /// pilot could best hope: harm is left out, and what is ignored is ignored.
    pub(super) fn add_fault(&self, situation: &mut Situation, fault: &Fault, surely: bool) {
        let met = situation.met.clone();
        let applies = |when: &[ConditionNumber]| {
            if surely { all_met(when, &met) } else { when.is_empty() }
        };
        let harms = |list: &[Entry<Number>]| -> Vec<Number> {
            list.iter().filter(|e| applies(&e.when)).map(|e| e.what).collect()
        };
        let gone = [harms(&fault.loses), harms(&fault.takes)].concat();
        for what in self.with_functions(&gone) {
            situation.taken[what] = true;
            situation.given[what] = false;
        }
        for what in self.with_functions(&harms(&fault.misleads)) {
            situation.misled[what] = true;
        }
        for what in self.with_functions(&harms(&fault.trips)) {
            situation.tripped[what] = true;
            situation.open[what] = false;
        }
        for (entry, whom) in &fault.ignores {
            if !surely || all_met(&entry.when, &met) {
                situation.ignored.extend(self.with_functions(whom).into_iter().map(|who| (who, entry.what)));
            }
        }
    }

    /// A fault at its worst, whatever stands where: all harm comes, nothing is ignored that depends on a control.
    pub(super) fn add_fault_at_worst(&self, situation: &mut Situation, fault: &Fault) {
        let met = std::mem::replace(&mut situation.met, vec![true; self.conditions.len()]);
        let always = fault.ignores.iter().filter(|(entry, _)| entry.when.is_empty()).cloned().collect();
        self.add_fault(situation, &Fault { ignores: always, ..fault.clone() }, true);
        situation.met = met;
    }

    /// The situation of a moment in which one control was moved and no fault looks at it.
    pub(super) fn turned(&self, now: &Moment, control: Number) -> Situation {
        let mut situation = now.situation.clone();
        let mut effective = (*situation.effective).clone();
        let off_with = |n: &Number| self.nodes[*n].control.is_some();
        let moved: Vec<Number> = self.layout.turned[control].iter().copied().filter(off_with).collect();
        for number in moved {
            let stands = self.effective(&self.nodes[number].id, &now.positions, &mut BTreeSet::new());
            let conducts = self.nodes[number].control.as_ref().is_some_and(|c| c.conducts_in.contains(&stands));
            situation.open[number] = conducts && !situation.tripped[number];
            effective.insert(number, stands);
        }
        for number in &self.layout.looked_at[control] {
            let condition = &self.conditions[*number];
            situation.met[*number] = effective.get(&condition.control).is_some_and(|p| condition.positions.contains(p));
        }
        situation.effective = Arc::new(effective);
        situation
    }

    /// Every node that a fault says something of, whatever its conditions.
    pub(super) fn touched(&self, fault: &Fault) -> Vec<Number> {
        let lists = [&fault.loses, &fault.takes, &fault.misleads, &fault.trips];
        let named: Vec<Number> = lists.into_iter().flatten().map(|entry| entry.what).collect();
        let whom: Vec<Number> = fault.ignores.iter().flat_map(|(_, whom)| whom.iter().copied()).collect();
        self.with_functions(&named).into_iter().chain(self.with_functions(&whom)).collect()
    }

    /// The item of a function; else the node itself.
    pub(super) fn item_of(&self, number: Number) -> Number {
        match self.nodes[number].kind {
            NodeKind::Function { item } => item,
            NodeKind::Item { .. } | NodeKind::Given { .. } => number,
        }
    }

    /// Whether a node lets out what it has: it stands so that it conducts, or is welded, and is not tripped.
    pub(super) fn lets_out(&self, number: Number, situation: &Situation) -> bool {
        let welded = || situation.ignored.contains(&(number, self.item_of(number)));
        !situation.tripped[number] && (situation.open[number] || welded())
    }

    /// What is named, each item with its functions.
    pub(super) fn with_functions(&self, named: &[Number]) -> BTreeSet<Number> {
        named
            .iter()
            .flat_map(|item| std::iter::once(*item).chain(self.nodes[*item].functions.iter().copied()))
            .collect()
    }
}

/// Whether all of these conditions are met.
pub(super) fn all_met(when: &[ConditionNumber], met: &[bool]) -> bool {
    when.iter().all(|c| met[*c])
}
