//! The plain solver: one situation, its least solution, and the states of the cockpit.

use std::collections::{BTreeMap, BTreeSet};

use super::parts::{
    Condition, ConditionNumber, Entry, Fault, FaultName, Feed, NOBODY, Need, Node, NodeKind,
    Number, PlainModel,
};

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

/// Controls, givens and faults at one moment, with all that follows from them before any feed is asked.
#[derive(Debug, Clone)]
pub(super) struct Situation {
    /// Where each control counts as standing.
    pub(super) effective: BTreeMap<Number, String>,
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
    given: Vec<bool>,
    /// Pairs of a node and what it ignores.
    ignored: BTreeSet<(Number, Number)>,
}

/// What works, with what conducts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Settled {
    pub(super) works: Vec<bool>,
    pub(super) conducts: Vec<bool>,
}

/// The three solutions of one situation.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// As it stands.
    pub(super) first: Settled,
    /// With what misleads held dead.
    pub(super) truly: Vec<bool>,
    /// With what misleads held dead and approximate feeds cut.
    pub(super) exactly: Vec<bool>,
}

/// One of the three ways to solve.
#[derive(Debug, Clone, Copy)]
pub(super) struct Way {
    /// What misleads is held dead.
    pub(super) dead: bool,
    /// Approximate feeds are cut.
    pub(super) cut: bool,
}

/// As it stands.
pub(super) const AS_IT_STANDS: Way = Way {
    dead: false,
    cut: false,
};
/// With what misleads held dead.
pub(super) const TRULY: Way = Way {
    dead: true,
    cut: false,
};
const EXACTLY: Way = Way {
    dead: true,
    cut: true,
};

/// A situation with the solution it has.
#[derive(Debug, Clone)]
pub(super) struct Moment {
    pub(super) positions: BTreeMap<String, String>,
    pub(super) givens: BTreeMap<String, bool>,
    pub(super) faults: BTreeSet<FaultName>,
    pub(super) situation: Situation,
    pub(super) solution: Solution,
}

/// What the needs are held against while a solution grows.
struct Look<'s> {
    conditions: &'s [Condition],
    situation: &'s Situation,
    works: &'s [bool],
    conducts: &'s [bool],
    before: &'s [bool],
    cut: bool,
}

impl Look<'_> {
    fn ignores(&self, who: Number, what: Number) -> bool {
        self.situation.ignored.contains(&(who, what))
    }
}

impl PlainModel {
    /// Solves a named state: with `cold` the faults are there through the whole chain of `after`; else the state is
    /// settled without them and then they strike.
    ///
    /// # Errors
    /// An unknown state or fault.
    pub fn solve_state(
        &self,
        state: &str,
        faults: &[FaultName],
        cold: bool,
    ) -> Result<StateAnswer, String> {
        self.known_faults(faults)?;
        Ok(self
            .moment(state, faults, cold)?
            .map_or_else(StateAnswer::default, |m| self.answer(&m)))
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
        let start: Option<Vec<bool>> = start.map(|ids| {
            self.nodes
                .iter()
                .map(|node| ids.contains(&node.id))
                .collect()
        });
        Ok(self.answer(&self.strike(
            all,
            facts,
            faults.iter().cloned().collect(),
            start.as_deref(),
        )))
    }

    /// Every fault that is asked about in a state: of items, and of givens that hold in it.
    ///
    /// # Errors
    /// An unknown state.
    pub fn all_faults(&self, state: &str) -> Result<Vec<FaultName>, String> {
        let written = self
            .states
            .get(state)
            .ok_or_else(|| format!("no state is called \"{state}\""))?;
        let (_, givens) = self.setting(state);
        let here = if written.in_flight {
            "in flight"
        } else {
            "on the ground"
        };
        let asked = |(name, fault): &(&FaultName, &Fault)| {
            givens.get(&name.item).copied().unwrap_or(true)
                && fault
                    .asked
                    .as_deref()
                    .is_none_or(|a| a == "always" || a == here)
        };
        Ok(self
            .faults
            .iter()
            .filter(asked)
            .map(|(name, _)| name.clone())
            .collect())
    }

    pub(super) fn known_faults(&self, faults: &[FaultName]) -> Result<(), String> {
        let unknown = faults.iter().find(|name| !self.faults.contains_key(name));
        unknown.map_or(Ok(()), |name| Err(format!("no fault is called \"{name}\"")))
    }

    /// The ids of the nodes that are set.
    pub(super) fn names(&self, set: &[bool]) -> BTreeSet<String> {
        self.nodes
            .iter()
            .zip(set)
            .filter(|(_, is)| **is)
            .map(|(node, _)| node.id.clone())
            .collect()
    }

    fn answer(&self, moment: &Moment) -> StateAnswer {
        let solution = &moment.solution;
        StateAnswer {
            reached: true,
            works: self.names(&solution.first.works),
            false_nodes: self.names(&but_not(&solution.first.works, &solution.truly)),
            approximate: self.names(&but_not(&solution.truly, &solution.exactly)),
        }
    }

    fn rests(&self) -> BTreeMap<String, String> {
        let controls = self
            .nodes
            .iter()
            .filter_map(|node| Some((node.id.clone(), node.control.as_ref()?.rest.clone())));
        controls.collect()
    }

    fn normal_givens(&self) -> BTreeMap<String, bool> {
        let given = |node: &Node| match node.kind {
            NodeKind::Given { normally } => Some((node.id.clone(), normally)),
            _ => None,
        };
        self.nodes.iter().filter_map(given).collect()
    }

    /// The positions and givens of a state, after all it inherits.
    pub(super) fn setting(
        &self,
        state: &str,
    ) -> (BTreeMap<String, String>, BTreeMap<String, bool>) {
        let Some(written) = self.states.get(state) else {
            return (self.rests(), self.normal_givens());
        };
        let (mut positions, mut givens) = match (&written.after, &written.like) {
            (Some(before), _) => {
                let (mut positions, givens) = self.setting(before);
                positions
                    .iter_mut()
                    .for_each(|(id, position)| self.spring(id, position));
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
        let control = self
            .number
            .get(id)
            .and_then(|n| self.nodes[*n].control.as_ref());
        if let Some(to) = control.and_then(|c| c.springs_to.get(position)) {
            position.clone_from(to);
        }
    }

    /// A state under faults; none where it is not reached.
    pub(super) fn moment(
        &self,
        state: &str,
        faults: &[FaultName],
        cold: bool,
    ) -> Result<Option<Moment>, String> {
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
        Ok(Some(self.strike(
            before.positions,
            before.givens,
            present,
            Some(&before.solution.first.works),
        )))
    }

    /// A state solved through all that it comes after.
    fn chain(&self, state: &str, faults: &BTreeSet<FaultName>) -> Option<Moment> {
        let written = self.states.get(state)?;
        let start = match &written.after {
            None => None,
            Some(before) => {
                let works = self.chain(before, faults)?.solution.first.works;
                if !written.reached_if.iter().all(|node| works[*node]) {
                    return None;
                }
                Some(works)
            }
        };
        let (positions, givens) = self.setting(state);
        Some(self.strike(positions, givens, faults.clone(), start.as_deref()))
    }

    /// Settles positions, givens and faults from what worked before.
    pub(super) fn strike(
        &self,
        positions: BTreeMap<String, String>,
        givens: BTreeMap<String, bool>,
        faults: BTreeSet<FaultName>,
        start: Option<&[bool]>,
    ) -> Moment {
        let situation = self.situation(&positions, &givens, &faults);
        let solution = self.solve(&situation, start);
        Moment {
            positions,
            givens,
            faults,
            situation,
            solution,
        }
    }

    /// All three solutions of a situation, from one start.
    pub(super) fn solve(&self, situation: &Situation, start: Option<&[bool]>) -> Solution {
        let first = self.settle(situation, start, AS_IT_STANDS);
        let truly = if situation.misled.contains(&true) {
            self.settle(situation, start, TRULY).works
        } else {
            first.works.clone()
        };
        let exactly = if self.layout.approximate {
            self.settle(situation, start, EXACTLY).works
        } else {
            truly.clone()
        };
        Solution {
            first,
            truly,
            exactly,
        }
    }

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
    fn intact(
        &self,
        positions: &BTreeMap<String, String>,
        givens: &BTreeMap<String, bool>,
    ) -> Situation {
        let effective: BTreeMap<Number, String> = self
            .nodes
            .iter()
            .enumerate()
            .filter(|(_, node)| node.control.is_some())
            .map(|(number, node)| {
                (
                    number,
                    self.effective(&node.id, positions, &mut BTreeSet::new()),
                )
            })
            .collect();
        let stands = |c: &Condition| {
            effective
                .get(&c.control)
                .is_some_and(|p| c.positions.contains(p))
        };
        let met = self.conditions.iter().map(stands).collect();
        let opens = |(number, node): (Number, &Node)| match (&node.control, effective.get(&number))
        {
            (Some(control), Some(position)) => control.conducts_in.contains(position),
            _ => true,
        };
        let holds = |node: &Node| match node.kind {
            NodeKind::Given { normally } => givens.get(&node.id).copied().unwrap_or(normally),
            _ => false,
        };
        Situation {
            met,
            open: self.nodes.iter().enumerate().map(opens).collect(),
            given: self.nodes.iter().map(holds).collect(),
            effective,
            taken: vec![false; self.nodes.len()],
            misled: vec![false; self.nodes.len()],
            tripped: vec![false; self.nodes.len()],
            ignored: BTreeSet::new(),
        }
    }

    /// Where a control counts as standing: `off` where the control it is off with does not conduct.
    fn effective(
        &self,
        id: &str,
        positions: &BTreeMap<String, String>,
        seen: &mut BTreeSet<String>,
    ) -> String {
        let control = self
            .number
            .get(id)
            .and_then(|n| self.nodes[*n].control.as_ref());
        let stands = positions
            .get(id)
            .cloned()
            .or_else(|| control.map(|c| c.rest.clone()))
            .unwrap_or_default();
        let Some(parent) = control.and_then(|c| c.off_with.as_ref()) else {
            return stands;
        };
        if !seen.insert(id.to_owned()) {
            return stands;
        }
        let above = self.effective(parent, positions, seen);
        let node = self
            .number
            .get(parent)
            .and_then(|n| self.nodes[*n].control.as_ref());
        if node.is_some_and(|c| c.conducts_in.contains(&above)) {
            stands
        } else {
            "off".to_owned()
        }
    }

    /// Adds what a fault does to a situation. Where `surely` is false, entries that depend on a control count as the
    /// pilot could best hope: harm is left out, and what is ignored is ignored.
    pub(super) fn add_fault(&self, situation: &mut Situation, fault: &Fault, surely: bool) {
        let met = situation.met.clone();
        let applies = |when: &[ConditionNumber]| {
            if surely {
                all_met(when, &met)
            } else {
                when.is_empty()
            }
        };
        let harms = |list: &[Entry<Number>]| -> Vec<Number> {
            list.iter()
                .filter(|e| applies(&e.when))
                .map(|e| e.what)
                .collect()
        };
        for what in self
            .widened(&harms(&fault.loses))
            .into_iter()
            .chain(self.widened(&harms(&fault.takes)))
        {
            situation.taken[what] = true;
            situation.given[what] = false;
        }
        for what in self.with_functions(&harms(&fault.misleads)) {
            situation.misled[what] = true;
        }
        for what in harms(&fault.trips) {
            situation.tripped[what] = true;
            situation.open[what] = false;
        }
        for (entry, whom) in &fault.ignores {
            if !surely || all_met(&entry.when, &met) {
                situation.ignored.extend(
                    self.with_functions(whom)
                        .into_iter()
                        .map(|who| (who, entry.what)),
                );
            }
        }
    }

    /// What a fault takes: an item goes with its functions, unless some of them are named beside it.
    pub(super) fn widened(&self, named: &[Number]) -> BTreeSet<Number> {
        let mut found: BTreeSet<Number> = named.iter().copied().collect();
        for item in named {
            let functions = &self.nodes[*item].functions;
            if !functions.iter().any(|function| named.contains(function)) {
                found.extend(functions);
            }
        }
        found
    }

    fn with_functions(&self, named: &[Number]) -> BTreeSet<Number> {
        named
            .iter()
            .flat_map(|item| {
                std::iter::once(*item).chain(self.nodes[*item].functions.iter().copied())
            })
            .collect()
    }

    /// Lets go of what no longer holds itself up, then lets come alive what can; only sources of sustained feeds matter
    /// for what was before.
    pub(super) fn settle(
        &self,
        situation: &Situation,
        start: Option<&[bool]>,
        way: Way,
    ) -> Settled {
        let anchored = |works: &[bool]| both(works, &self.layout.anchors);
        let mut before = start.map_or_else(|| vec![false; self.nodes.len()], anchored);
        let mut now = self.least(situation, &before, way);
        loop {
            let kept = both(&before, &now.works);
            if kept == before {
                break;
            }
            before = kept;
            now = self.least(situation, &before, way);
        }
        while before != anchored(&now.works) {
            before = anchored(&now.works);
            now = self.least(situation, &before, way);
        }
        now
    }

    /// The least solution when a sustained feed also holds if its source is in `before`.
    fn least(&self, situation: &Situation, before: &[bool], way: Way) -> Settled {
        let intact = |n: Number| !situation.taken[n] && !(way.dead && situation.misled[n]);
        let mut works = vec![false; self.nodes.len()];
        let mut conducts = works.clone();
        let mut grown = true;
        while grown {
            grown = false;
            for &n in self.layout.order.iter().filter(|n| intact(**n)) {
                let look = Look {
                    conditions: &self.conditions,
                    situation,
                    works: &works,
                    conducts: &conducts,
                    before,
                    cut: way.cut,
                };
                let passes = self.layout.passed[n] && !conducts[n] && self.conducts(n, &look);
                let alive = !works[n] && self.works(n, &look);
                conducts[n] |= passes;
                works[n] |= alive;
                grown |= passes || alive;
            }
        }
        Settled { works, conducts }
    }

    fn works(&self, n: Number, look: &Look) -> bool {
        let node = &self.nodes[n];
        let fed = || {
            node.needs.iter().all(|need| holds(need, n, look, false))
                && node.senses.iter().all(|need| holds(need, n, look, true))
        };
        match node.kind {
            NodeKind::Given { .. } => look.situation.given[n],
            NodeKind::Item { .. } => fed(),
            NodeKind::Function { item } => look.works[item] && fed(),
        }
    }

    /// A node that is passed conducts when its position does and its own needs hold; one that ignores itself conducts.
    fn conducts(&self, n: Number, look: &Look) -> bool {
        match self.nodes[n].kind {
            NodeKind::Given { .. } => look.situation.given[n],
            _ if look.situation.tripped[n] => false,
            _ if look.ignores(n, n) => true,
            _ => {
                look.situation.open[n]
                    && self.nodes[n]
                        .needs
                        .iter()
                        .all(|need| holds(need, n, look, false))
            }
        }
    }

    /// Whether a list of needs holds in a solution.
    pub(super) fn all_hold(&self, needs: &[Need], who: Number, moment: &Moment) -> bool {
        let first = &moment.solution.first;
        let look = Look {
            conditions: &self.conditions,
            situation: &moment.situation,
            works: &first.works,
            conducts: &first.conducts,
            before: &first.works,
            cut: false,
        };
        needs.iter().all(|need| holds(need, who, &look, false))
    }

    /// Whether one feed holds in a solution.
    pub(super) fn feed_holds(&self, feed: &Feed, who: Number, moment: &Moment) -> bool {
        self.all_hold(&[Need::Feed(feed.clone())], who, moment)
    }

    /// Whether a list of needs holds for nobody in particular.
    pub(super) fn hold_at_large(&self, needs: &[Need], moment: &Moment) -> bool {
        self.all_hold(needs, NOBODY, moment)
    }
}

/// Whether a need of `who` holds; `sensed` asks for the way only, not for the source.
fn holds(need: &Need, who: Number, look: &Look, sensed: bool) -> bool {
    match need {
        Need::Feed(feed) => feed_holds(feed, who, look, sensed),
        Need::When(when) => when.iter().all(|c| condition_holds(*c, who, look)),
        Need::Any(list) => list.iter().any(|need| holds(need, who, look, sensed)),
        Need::All(list) => list.iter().all(|need| holds(need, who, look, sensed)),
        Need::AtLeast(count, list) => {
            list.iter()
                .filter(|need| holds(need, who, look, sensed))
                .count()
                >= *count
        }
    }
}

fn feed_holds(feed: &Feed, who: Number, look: &Look, sensed: bool) -> bool {
    let source = sensed
        || look.works[feed.from]
        || (feed.sustained && look.before[feed.from])
        || look.ignores(who, feed.from);
    source
        && !(look.cut && feed.approximate)
        && feed.when.iter().all(|c| condition_holds(*c, who, look))
        && feed
            .through
            .iter()
            .all(|t| look.conducts[*t] || look.ignores(who, *t))
}

fn condition_holds(condition: ConditionNumber, who: Number, look: &Look) -> bool {
    look.situation.met[condition] || look.ignores(who, look.conditions[condition].control)
}

/// Whether all of these conditions are met.
pub(super) fn all_met(when: &[ConditionNumber], met: &[bool]) -> bool {
    when.iter().all(|c| met[*c])
}

/// What is in both.
pub(super) fn both(a: &[bool], b: &[bool]) -> Vec<bool> {
    a.iter().zip(b).map(|(a, b)| *a && *b).collect()
}

/// What is in the first and not in the second.
pub(super) fn but_not(a: &[bool], b: &[bool]) -> Vec<bool> {
    a.iter().zip(b).map(|(a, b)| *a && !*b).collect()
}
