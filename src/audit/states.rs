//! The states of the cockpit: what they inherit, how they follow each other, and faults that strike in them.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::parts::{Fault, FaultName, Node, NodeKind, PlainModel};
use super::situation::{PositionNumber, Situation};
use super::solver::{Solution, but_not};

/// What holds in one state or situation. Nodes are named by id: items, `item.function`, givens.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct StateAnswer {
    /// Whether the state is reached; where it is not, nothing else is said.
    pub reached: bool,
    /// What works, truly or not.
    pub works: BTreeSet<String>,
    /// What works and misleads.
    pub false_nodes: BTreeSet<String>,
    /// What works truly, but only by an approximate feed.
    pub approximate: BTreeSet<String>,
}

/// A situation with the solution it has.
#[derive(Debug, Clone)]
pub(super) struct Moment {
    pub(super) positions: Arc<Vec<PositionNumber>>,
    pub(super) givens: Arc<BTreeMap<String, bool>>,
    pub(super) faults: Arc<BTreeSet<FaultName>>,
    pub(super) situation: Arc<Situation>,
    pub(super) solution: Solution,
}

/// The end of a line of states.
#[derive(Debug, Clone)]
pub(super) struct Stood {
    /// The last state that is reached.
    pub(super) state: String,
    /// Whether it is the one that was asked for.
    pub(super) reached: bool,
    /// What holds in it.
    pub(super) moment: Moment,
}

impl PlainModel {
    /// Solves a named state: with `cold` the faults are there through the whole chain of `after`; else the state is
    /// settled without them and then they strike.
    ///
    /// # Errors
    /// An unknown state or fault.
    pub fn solve_state(&self, state: &str, faults: &[FaultName], cold: bool) -> Result<StateAnswer, String> {
        self.known_faults(faults)?;
        Ok(self.moment(state, faults, cold)?.map_or_else(StateAnswer::default, |m| self.answer(&m)))
    }

    /// Solves a situation told by the position of every control (its `rest` where not said), by every given (as it
    /// normally is where not said), by faults, and by what worked before; none means from cold.
    ///
    /// # Errors
    /// An unknown fault.
    pub fn solve_situation(
        &self,
        positions: &BTreeMap<String, String>,
        givens: &BTreeMap<String, bool>,
        faults: &[FaultName],
        start: Option<&BTreeSet<String>>,
    ) -> Result<StateAnswer, String> {
        self.known_faults(faults)?;
        let (mut all, mut facts) = (self.rests(), self.normal_givens());
        all.extend(positions.clone());
        facts.extend(givens.clone());
        let start: Option<Vec<bool>> = start.map(|ids| self.nodes.iter().map(|node| ids.contains(&node.id)).collect());
        Ok(self.answer(&self.strike(self.numbered(&all), facts, faults.iter().cloned().collect(), start.as_deref())))
    }

    /// Every fault that is asked about in a state: of items, and of givens that hold in it.
    ///
    /// # Errors
    /// An unknown state.
    pub fn all_faults(&self, state: &str) -> Result<Vec<FaultName>, String> {
        let written = self.states.get(state).ok_or_else(|| format!("no state is called \"{state}\""))?;
        let (_, givens) = self.setting(state);
        let here = if written.in_flight { "in flight" } else { "on the ground" };
        let asked = |(name, fault): &(&FaultName, &Fault)| {
            givens.get(&name.item).copied().unwrap_or(true)
                && fault.asked.as_deref().is_none_or(|a| a == "always" || a == here)
        };
        Ok(self.faults.iter().filter(asked).map(|(name, _)| name.clone()).collect())
    }

    /// The states on the ground, each after the one that it comes from, else by id.
    pub(super) fn on_ground(&self) -> Vec<String> {
        let mut order = Vec::new();
        self.visit(None, &mut order);
        order.retain(|id| self.states.get(id).is_some_and(|state| state.on_ground));
        order
    }

    fn visit(&self, parent: Option<&String>, order: &mut Vec<String>) {
        for (id, state) in &self.states {
            if state.after.as_ref().or(state.like.as_ref()) == parent && !order.contains(id) {
                order.push(id.clone());
                self.visit(Some(id), order);
            }
        }
    }

    pub(super) fn known_faults(&self, faults: &[FaultName]) -> Result<(), String> {
        let unknown = faults.iter().find(|name| !self.faults.contains_key(name));
        unknown.map_or(Ok(()), |name| Err(format!("no fault is called \"{name}\"")))
    }

    /// The ids of the nodes that are set.
    pub(super) fn names(&self, set: &[bool]) -> BTreeSet<String> {
        self.nodes.iter().zip(set).filter(|(_, is)| **is).map(|(node, _)| node.id.clone()).collect()
    }

    fn answer(&self, moment: &Moment) -> StateAnswer {
        let solution = &moment.solution;
        StateAnswer {
            reached: true,
            works: self.names(&solution.first.works),
            false_nodes: self.names(&but_not(&solution.first.works, &solution.truly.works)),
            approximate: self.names(&but_not(&solution.truly.works, &solution.exactly.works)),
        }
    }

    fn rests(&self) -> BTreeMap<String, String> {
        let controls =
            self.nodes.iter().filter_map(|node| Some((node.id.clone(), node.control.as_ref()?.rest.clone())));
        controls.collect()
    }

    pub(super) fn normal_givens(&self) -> BTreeMap<String, bool> {
        let given = |node: &Node| match node.kind {
            NodeKind::Given { normally } => Some((node.id.clone(), normally)),
            _ => None,
        };
        self.nodes.iter().filter_map(given).collect()
    }

    /// The positions and givens of a state, after all it inherits.
    pub(super) fn setting(&self, state: &str) -> (BTreeMap<String, String>, BTreeMap<String, bool>) {
        let Some(written) = self.states.get(state) else {
            return (self.rests(), self.normal_givens());
        };
        let (mut positions, mut givens) = match (&written.after, &written.like) {
            (Some(before), _) => {
                let (mut positions, givens) = self.setting(before);
                for (id, position) in &mut positions {
                    self.spring(id, position);
                }
                (positions, givens)
            }
            (None, Some(like)) => self.setting(like),
            (None, None) => (self.rests(), self.normal_givens()),
        };
        positions.extend(written.controls.clone());
        givens.extend(written.givens.clone());
        (positions, givens)
    }

    /// A position that does not stay gives way to the one it springs to.
    pub(super) fn spring(&self, id: &str, position: &mut String) {
        let control = self.number.get(id).and_then(|n| self.nodes[*n].control.as_ref());
        if let Some(to) = control.and_then(|c| c.springs_to.get(position)) {
            position.clone_from(to);
        }
    }

    /// A state under faults; none where it is not reached.
    pub(super) fn moment(&self, state: &str, faults: &[FaultName], cold: bool) -> Result<Option<Moment>, String> {
        if !self.states.contains_key(state) {
            return Err(format!("no state is called \"{state}\""));
        }
        let present: BTreeSet<FaultName> = faults.iter().cloned().collect();
        if cold || present.is_empty() {
            return Ok(self.chain(state, &present));
        }
        let Some(before) = self.chain(state, &BTreeSet::new()) else {
            return Ok(None);
        };
        Ok(Some(self.struck(&before, present)))
    }

    /// A state solved through all that it comes after; none where that line breaks off.
    fn chain(&self, state: &str, faults: &BTreeSet<FaultName>) -> Option<Moment> {
        self.line(state, faults).filter(|stood| stood.reached).map(|stood| stood.moment)
    }

    /// A state, or the last one before it that is reached, with faults there all along; none of an unknown state.
    pub(super) fn line(&self, state: &str, faults: &BTreeSet<FaultName>) -> Option<Stood> {
        let written = self.states.get(state)?;
        let start = match &written.after {
            None => None,
            Some(before) => {
                let stood = self.line(before, faults)?;
                let works = &stood.moment.solution.first.works;
                if !stood.reached || !written.reached_if.iter().all(|node| works[*node]) {
                    return Some(Stood { reached: false, ..stood });
                }
                Some(works.clone())
            }
        };
        let (positions, givens) = self.setting(state);
        let moment = self.strike(self.numbered(&positions), givens, faults.clone(), start.as_deref());
        Some(Stood { state: state.to_owned(), reached: true, moment })
    }

    /// Settles positions, givens and faults from what worked before.
    pub(super) fn strike(
        &self,
        positions: Vec<PositionNumber>,
        givens: BTreeMap<String, bool>,
        faults: BTreeSet<FaultName>,
        start: Option<&[bool]>,
    ) -> Moment {
        let situation = self.situation(&positions, &givens, &faults);
        let solution = self.solve(&situation, start);
        Moment {
            positions: Arc::new(positions),
            givens: Arc::new(givens),
            faults: Arc::new(faults),
            situation: Arc::new(situation),
            solution,
        }
    }

    /// Faults that strike in a moment, from running.
    pub(super) fn struck(&self, before: &Moment, faults: BTreeSet<FaultName>) -> Moment {
        let mut situation = (*before.situation).clone();
        let mut changed = Vec::new();
        for fault in
            faults.iter().filter(|name| !before.faults.contains(*name)).filter_map(|name| self.faults.get(name))
        {
            self.add_fault(&mut situation, fault, true);
            changed.extend(self.touched(fault));
        }
        let solution = self.solve_again(&situation, before, &changed);
        let faults = Arc::new(&*before.faults | &faults);
        Moment { faults, situation: Arc::new(situation), solution, ..before.clone() }
    }
}
