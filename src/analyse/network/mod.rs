//! The feeds of a model as a flat graph, solved for many scenarios at once.
//!
//! **Duty.** Answers what works, what is false and what is approximate in a state and under faults; all that a fault does; what a node
//! hangs on; what never works.
//!
//! **Method.**
//! 1. [`graph`](self): each node, each choice and each passed device becomes a gate (and, or, at least k, or a feed that may stand by
//!    memory) in flat arrays. What a scenario decides enters by leaves: intact, closed, a condition met, a condition ignored.
//! 2. Gates are sorted by strongly connected components, so that a gate outside rings is worked once; a ring is worked from nothing
//!    upwards until it stays, which gives the least solution since gates are monotone (A. Tarski, A lattice-theoretical fixpoint
//!    theorem, 1955).
//! 3. A value is a word with one bit a scenario: 64 scenarios (or a multiple) cost about what one costs. Positions, givens, faults and
//!    starts all differ by lane.
//! 4. Sustained feeds: let go until it stays, then come alive until it stays; only gates that hang on such a feed are worked again.
//! 5. False: solved once more with false nodes dead. Approximate: once more with approximate feeds cut as well.
//! 6. Reasons are read off one settled moment, need by need, for the few nodes that were touched.
//! 7. Restoring moves: first one bound for all (every reachable position at once); only what that bound restores is searched for,
//!    with controls that it hangs on, one move, two, three, in every order, in lanes.
//!
//! **Does not know** how likely a fault is, how long a thing may be used, what a handbook says to do, or how an answer is worded. Amounts
//! (current, pressure, fuel) do not enter: a feed holds or it does not.
mod alerts;
mod backup;
mod bits;
mod causes;
mod damage;
mod drawing;
mod effects;
mod graph;
mod hangs;
mod lanes;
mod later;
mod moment;
mod moves;
mod order;
mod restore;
mod rules;
mod setting;
mod suspects;
mod view;

pub use rules::{Rule, Rules};

use super::answer::{Effects, Question, Situation, Solution, StateSolution};
use crate::analyse::battery::time_alone;
use crate::analyse::measure::Minutes;
use crate::model::{AlertIx, Asked, FaultIx, Lasts, Model, Node, NodeIx, NodeKind, Place, StateIx};
use backup::Targets;
use graph::Graph;
use hangs::Hangs;
use moment::Stood;
use std::collections::BTreeSet;
use std::sync::{Arc, OnceLock};

/// A model ready for questions; every state is solved.
#[derive(Debug)]
pub struct Analysis<'m> {
    model: &'m Model,
    rules: Rules,
    graph: Graph,
    states: Vec<Stood>,
    solutions: Vec<StateSolution>,
    /// Nodes that sense something.
    gauges: Vec<NodeIx>,
    /// Nodes that last for a time.
    stores: Vec<NodeIx>,
    hangs: OnceLock<Hangs>,
    targets: OnceLock<Targets>,
    /// Minutes that the battery of `[endurance]` lasts alone.
    alone: OnceLock<Option<f64>>,
}

impl<'m> Analysis<'m> {
    /// Makes the gates and solves every state with no faults.
    pub fn new(model: &'m Model) -> Self {
        Self::with_rules(model, Rules::ALL)
    }

    /// For tests: the same with a rule broken.
    pub fn with_rules(model: &'m Model, rules: Rules) -> Self {
        let graph = Graph::build(model, rules);
        let (hangs, targets) = (OnceLock::new(), OnceLock::new());
        let of = |test: fn(&Node) -> bool| model.node_indices().filter(|n| test(&model[*n])).collect();
        let (gauges, stores) = (of(|n| !n.senses.is_empty()), of(|n| n.lasts.is_some()));
        let (states, solutions, alone) = (Vec::new(), Vec::new(), OnceLock::new());
        let mut analysis = Self { model, rules, graph, states, solutions, gauges, stores, hangs, targets, alone };
        analysis.states = model.state_indices().map(|s| analysis.line(s, &[], &[])).collect();
        analysis.solutions = model.state_indices().map(|s| analysis.solution_of(s)).collect();
        analysis
    }

    fn solution_of(&self, state: StateIx) -> StateSolution {
        let stood = &self.states[state.usize()];
        StateSolution {
            state,
            reached: stood.reached,
            situation: stood.moment.setting.situation.clone(),
            solution: stood.moment.outcome.solution(),
        }
    }

    /// The alerts that show in a state with no faults. Where it is not reached, in the last state that was.
    pub fn alerts_in(&self, state: StateIx) -> Vec<AlertIx> {
        let at = &self.states[state.usize()].moment;
        (0..self.model.alerts.len()).map(AlertIx::new).filter(|a| self.alert_shows(*a, &[], at)).collect()
    }

    /// How long a store lasts once nothing keeps it up, min: as the model states it, or as it comes from the phases of `[endurance]`;
    /// nothing where neither tells.
    pub fn lasts_min(&self, store: NodeIx) -> Option<f64> {
        match self.model[store].lasts.as_ref()? {
            Lasts::Stated(time) => Some(time.si() / 60.0),
            Lasts::Result(_) => {
                let battery = self.model.endurance.as_ref().map(|plan| self.model[plan.battery].node);
                let worked = || time_alone(self.model, self).ok().map(Minutes::get);
                if battery == Some(store) { *self.alone.get_or_init(worked) } else { None }
            }
        }
    }

    /// The model.
    pub fn model(&self) -> &'m Model {
        self.model
    }

    /// A state with no faults. Where it is not reached, the last state that was.
    pub fn state(&self, state: StateIx) -> &StateSolution {
        &self.solutions[state.usize()]
    }

    /// All that faults do.
    pub fn effects(&self, question: &Question) -> Effects {
        self.answer(question)
    }

    /// The faults that are asked about in a state: by their `asked`, and of a given only where it holds.
    pub fn asked_in(&self, state: StateIx) -> Vec<FaultIx> {
        let place = self.model[state].place;
        let givens = setting::situation(self.model, state, self.rules).givens;
        let asked = |fault: &FaultIx| {
            let fault = &self.model[*fault];
            let here = match fault.asked {
                Asked::Always => true,
                Asked::InFlight => place == Place::InFlight,
                Asked::OnTheGround => place == Place::OnTheGround,
            };
            let holds = match self.model[fault.of].kind {
                NodeKind::Given(given) => givens.get(given.usize()).copied().unwrap_or(false),
                _ => true,
            };
            here && holds
        };
        self.model.fault_indices().filter(asked).collect()
    }

    /// What each asked fault does alone in a state, from running.
    pub fn single_faults(&self, state: StateIx) -> Vec<Effects> {
        self.answer_each(state)
    }

    /// What each fault takes in a state, from running: nodes that worked and do not, the fault's own included.
    pub fn reach(&self, state: StateIx, faults: &[FaultIx]) -> Vec<Vec<NodeIx>> {
        self.taken_by(state, faults)
    }

    /// One situation settled with faults, from what worked before (empty: from cold).
    pub fn settled(&self, situation: &Situation, faults: &[FaultIx], before: &BTreeSet<NodeIx>) -> Solution {
        let setting = Arc::new(self.setting(situation.clone()));
        let damage = self.damage(faults, &setting);
        let start = bits::Bits::of(self.model.nodes.len(), before);
        self.settle(setting, damage, &start).outcome.solution()
    }

    /// Many fault sets in a state, from running, in lanes.
    pub fn solutions(&self, state: StateIx, fault_sets: &[Vec<FaultIx>]) -> Vec<Solution> {
        let before = &self.states[state.usize()].moment;
        let damages: Vec<_> = fault_sets.iter().map(|f| self.damage(f, &before.setting)).collect();
        let case = |damage| lanes::Case { setting: &before.setting, damage, more: None, start: &before.outcome.works };
        let cases: Vec<_> = damages.iter().map(case).collect();
        self.outcomes(&cases).iter().map(moment::Outcome::solution).collect()
    }

    /// Items and functions that work in no state.
    pub fn never_works(&self) -> Vec<NodeIx> {
        if self.states.is_empty() {
            return Vec::new();
        }
        let given = |n: &NodeIx| matches!(self.model[*n].kind, NodeKind::Given(_));
        let works = |n: &NodeIx| self.states.iter().any(|s| s.moment.outcome.works.has(*n));
        self.model.node_indices().filter(|n| !given(n) && !works(n)).collect()
    }
}
