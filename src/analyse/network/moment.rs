//! Moments: a setting, what is broken in it, and what works then; and the lines of states that lead to one.

use super::Analysis;
use super::bits::Bits;
use super::damage::Damage;
use super::lanes::{Case, Lanes, Pass};
use super::setting::{self, Setting};
use crate::analyse::answer::{Situation, Solution};
use crate::model::{FaultIx, ItemIx, PositionIx, Start, StateIx};
use std::sync::Arc;

/// What works, in one scenario.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Outcome {
    /// As it stands.
    pub works: Bits,
    /// Of those, what is not false.
    pub truth: Bits,
    /// Of those, what does without approximate feeds.
    pub exact: Bits,
    /// Passed devices with needs of their own that conduct.
    pub coils: Bits,
    /// The same with false nodes held dead.
    pub true_coils: Bits,
}

impl Outcome {
    /// The same as an answer.
    pub fn solution(&self) -> Solution {
        Solution {
            works: self.works.to_set(),
            misleads: self.works.minus(&self.truth).to_set(),
            approximate: self.truth.minus(&self.exact).to_set(),
        }
    }
}

/// One scenario, settled.
#[derive(Debug, Clone)]
pub(super) struct Moment {
    /// Controls and givens.
    pub setting: Arc<Setting>,
    /// What is broken.
    pub damage: Damage,
    /// What works.
    pub outcome: Outcome,
}

/// The end of a line of states.
#[derive(Debug, Clone)]
pub(super) struct Stood {
    /// The last state that was reached.
    pub state: StateIx,
    /// It is the one that was asked for.
    pub reached: bool,
    /// What works there.
    pub moment: Moment,
}

impl Analysis<'_> {
    /// The setting of a situation.
    pub(super) fn setting(&self, situation: Situation) -> Setting {
        Setting::new(self.model, &self.graph.conditions, situation, self.rules)
    }

    /// What faults do in a setting.
    pub(super) fn damage(&self, faults: &[FaultIx], setting: &Setting) -> Damage {
        Damage::of(self.model, faults, self.rules, &|when, _| setting.matches(when))
    }

    /// Settles one scenario.
    pub(super) fn settle(&self, setting: Arc<Setting>, damage: Damage, start: &Bits) -> Moment {
        let case = Case { setting: &setting, damage: &damage, more: None, start };
        let outcome = self.outcomes(&[case]).pop().unwrap_or_default();
        Moment { setting, damage, outcome }
    }

    /// Settles a moment again after controls were moved.
    pub(super) fn after_moves(&self, from: &Moment, faults: &[FaultIx], moves: &[(ItemIx, PositionIx)]) -> Moment {
        let mut situation = from.setting.situation.clone();
        put(&mut situation, moves);
        let setting = Arc::new(self.setting(situation));
        let damage = self.damage(faults, &setting);
        self.settle(setting, damage, &from.outcome.works)
    }

    /// A state with faults present all along; the last state's controls changed by `set`.
    pub(super) fn line(&self, state: StateIx, faults: &[FaultIx], set: &[(ItemIx, PositionIx)]) -> Stood {
        let chain = setting::chain(self.model, state);
        let first = chain.first().copied().unwrap_or(state);
        let from_cold = Bits::new(self.model.nodes.len());
        let mut stood = self.next_state(first, faults, if first == state { set } else { &[] }, &from_cold);
        for link in chain.into_iter().skip(1) {
            if !self.leads_on(&stood, link) {
                stood.reached = false;
                return stood;
            }
            let set = if link == state { set } else { &[] };
            stood = self.next_state(link, faults, set, &stood.moment.outcome.works);
        }
        stood
    }

    fn next_state(&self, state: StateIx, faults: &[FaultIx], set: &[(ItemIx, PositionIx)], start: &Bits) -> Stood {
        let mut situation = setting::situation(self.model, state, self.rules);
        put(&mut situation, set);
        let setting = Arc::new(self.setting(situation));
        let damage = self.damage(faults, &setting);
        Stood { state, reached: true, moment: self.settle(setting, damage, start) }
    }

    /// Whether what a state asks for works at the end of the state before.
    fn leads_on(&self, before: &Stood, state: StateIx) -> bool {
        let state = &self.model[state];
        !matches!(state.start, Start::After(_)) || state.reached_if.iter().all(|n| before.moment.outcome.works.has(*n))
    }

    /// Solves scenarios in lanes, all three solutions.
    pub(super) fn outcomes(&self, cases: &[Case]) -> Vec<Outcome> {
        if cases.len() <= 64 { self.batches::<1>(cases) } else { self.batches::<4>(cases) }
    }

    fn batches<const W: usize>(&self, cases: &[Case]) -> Vec<Outcome> {
        let mut lanes = Lanes::<W>::new(&self.graph, self.rules);
        let mut outcomes = Vec::with_capacity(cases.len());
        for batch in cases.chunks(Lanes::<W>::LANES) {
            let mut read = |pass| {
                lanes.solve(self.model, batch, pass);
                (lanes.read(batch.len()), lanes.read_coils(batch.len()))
            };
            let (works, coils) = read(Pass::Works);
            let misled = batch.iter().any(Case::misleads);
            let (truth, true_coils) = if misled { read(Pass::True) } else { (works.clone(), coils.clone()) };
            let exact = if self.graph.has_approximate { read(Pass::Exact).0 } else { truth.clone() };
            let solutions = works.into_iter().zip(truth).zip(exact).zip(coils.into_iter().zip(true_coils));
            outcomes.extend(solutions.map(|(((works, truth), exact), (coils, true_coils))| Outcome {
                works,
                truth,
                exact,
                coils,
                true_coils,
            }));
        }
        outcomes
    }
}

/// Puts controls where they are told.
pub(super) fn put(situation: &mut Situation, moves: &[(ItemIx, PositionIx)]) {
    for (control, position) in moves {
        if let Some(place) = situation.positions.get_mut(control.usize()) {
            *place = *position;
        }
    }
}
