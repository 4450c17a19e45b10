//! One situation: positions, givens and faults, and what follows from them before any feed is asked.

use std::collections::{BTreeMap, BTreeSet};

use super::parts::{Condition, ConditionNumber, Control, Entry, Fault, FaultName, Node, NodeKind, Number, PlainModel};
use super::states::Moment;

/// The number of a position: its place in the list of its control's positions.
pub(super) type PositionNumber = usize;

/// The position of what is no control, or of no such name.
pub(super) const NO_POSITION: PositionNumber = usize::MAX;

/// Controls, givens and faults at one moment, with all that follows from them before any feed is asked.
#[derive(Debug, Clone)]
pub(super) struct Situation {
    /// Where each control counts as standing.
    pub(super) effective: Vec<PositionNumber>,
    /// Which conditions are met.
    pub(super) met: Vec<bool>,
    /// Which nodes may be passed, as far as position and trips go.
    pub(super) open: Vec<bool>,
    /// Which nodes faults take, with the functions that go along.
    pub(super) taken: Vec<bool>,
    /// Which nodes mislead.
    pub(super) misled: Vec<bool>,
    /// Which nodes are shut in: they work whatever is gone, but not truly.
    pub(super) trapped: Vec<bool>,
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
        positions: &[PositionNumber],
        givens: &BTreeMap<String, bool>,
        faults: &BTreeSet<FaultName>,
    ) -> Situation {
        let mut situation = self.intact(positions, givens);
        for fault in faults.iter().filter_map(|name| self.faults.get(name)) {
            self.add_fault(&mut situation, fault, true);
        }
        situation
    }

    /// Positions by number, for every node; a control that is not named stands at rest.
    pub(super) fn numbered(&self, positions: &BTreeMap<String, String>) -> Vec<PositionNumber> {
        let stands = |node: &Node| {
            let control = node.control.as_ref()?;
            Some(control.number_of(positions.get(&node.id).unwrap_or(&control.rest)))
        };
        self.nodes.iter().map(|node| stands(node).unwrap_or(NO_POSITION)).collect()
    }

    /// A situation without faults.
    fn intact(&self, positions: &[PositionNumber], givens: &BTreeMap<String, bool>) -> Situation {
        let effective: Vec<PositionNumber> =
            (0..self.nodes.len()).map(|number| self.effective(number, positions, &mut Vec::new())).collect();
        let opens = |number: Number| {
            let item = self.item_of(number);
            self.nodes[item].control.is_none() || self.conducts_at(item, effective[item])
        };
        let holds = |node: &Node| match node.kind {
            NodeKind::Given { normally } => givens.get(&node.id).copied().unwrap_or(normally),
            _ => false,
        };
        Situation {
            met: self.conditions.iter().map(|c| self.stands_in(c, &effective)).collect(),
            open: (0..self.nodes.len()).map(opens).collect(),
            given: self.nodes.iter().map(holds).collect(),
            effective,
            taken: vec![false; self.nodes.len()],
            misled: vec![false; self.nodes.len()],
            trapped: vec![false; self.nodes.len()],
            tripped: vec![false; self.nodes.len()],
            ignored: BTreeSet::new(),
        }
    }

    /// Whether a control conducts in a position.
    fn conducts_at(&self, number: Number, position: PositionNumber) -> bool {
        self.nodes[number]
            .control
            .as_ref()
            .is_some_and(|c| c.name_of(position).is_some_and(|p| c.conducts_in.contains(p)))
    }

    /// Whether the control of a condition stands in one of its positions.
    pub(super) fn stands_in(&self, condition: &Condition, effective: &[PositionNumber]) -> bool {
        let control = self.nodes[condition.control].control.as_ref();
        let stands = control.and_then(|c| c.name_of(effective[condition.control]));
        stands.is_some_and(|position| condition.positions.contains(position))
    }

    /// Where a control counts as standing: `off` where the control it is off with does not conduct.
    fn effective(&self, number: Number, positions: &[PositionNumber], seen: &mut Vec<Number>) -> PositionNumber {
        let stands = positions[number];
        let Some(control) = &self.nodes[number].control else { return NO_POSITION };
        let Some(parent) = control.off_with.as_ref().and_then(|id| self.number.get(id)) else { return stands };
        if seen.contains(&number) {
            return stands;
        }
        seen.push(number);
        let above = self.effective(*parent, positions, seen);
        if self.conducts_at(*parent, above) { stands } else { control.number_of("off") }
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
        let shut_in = fault.traps.iter().filter(|e| !surely || all_met(&e.when, &met)).map(|e| e.what);
        for what in self.with_functions(&shut_in.collect::<Vec<_>>()) {
            situation.trapped[what] = true;
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
    pub(super) fn turned(&self, now: &Moment, positions: &[PositionNumber], control: Number) -> Situation {
        let mut situation = (*now.situation).clone();
        let is_control = |n: &&Number| self.nodes[**n].control.is_some();
        for number in self.layout.turned[control].iter().filter(is_control) {
            let stands = self.effective(*number, positions, &mut Vec::new());
            situation.effective[*number] = stands;
            for part in [*number].iter().chain(&self.nodes[*number].functions) {
                situation.open[*part] = self.conducts_at(*number, stands) && !situation.tripped[*part];
            }
        }
        for number in &self.layout.looked_at[control] {
            situation.met[*number] = self.stands_in(&self.conditions[*number], &situation.effective);
        }
        situation
    }

    /// Every node that a fault says something of, whatever its conditions.
    pub(super) fn touched(&self, fault: &Fault) -> Vec<Number> {
        let lists = [&fault.loses, &fault.takes, &fault.misleads, &fault.traps, &fault.trips];
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

impl Control {
    /// The number of a position of it.
    pub(super) fn number_of(&self, position: &str) -> PositionNumber {
        self.positions.iter().position(|p| p == position).unwrap_or(NO_POSITION)
    }

    /// The name of a position of it.
    pub(super) fn name_of(&self, position: PositionNumber) -> Option<&String> {
        self.positions.get(position)
    }
}

impl Situation {
    /// Whether anything in it may work and be false.
    pub(super) fn may_be_false(&self) -> bool {
        self.misled.contains(&true) || self.trapped.contains(&true)
    }
}

/// Whether all of these conditions are met.
pub(super) fn all_met(when: &[ConditionNumber], met: &[bool]) -> bool {
    when.iter().all(|c| met[*c])
}
