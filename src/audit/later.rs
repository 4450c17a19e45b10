//! Lost later: stores that run empty and faults that follow from faults, in their order of time.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::parts::{FaultName, Lapse, Number, PlainModel};
use super::solver::but_not;
use super::states::Moment;

/// Something that comes about in time.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Event {
    Spent(Number),
    Comes(FaultName),
}

/// What has come about so far.
#[derive(Default)]
struct Past {
    spent: BTreeSet<Number>,
    faults: BTreeSet<FaultName>,
}

impl PlainModel {
    /// What works now and does not once every store is spent and every fault that follows has come.
    pub(super) fn lost_later(&self, before: &Moment, now: &Moment) -> BTreeMap<String, Lapse> {
        let mut past = Past { faults: (*now.faults).clone(), ..Past::default() };
        let mut waiting: BTreeMap<Event, Lapse> = BTreeMap::new();
        let mut happened: BTreeSet<Event> = BTreeSet::new();
        let mut when_lost: BTreeMap<Number, Lapse> = BTreeMap::new();
        let (mut current, mut clock) = (now.clone(), Lapse::Minutes(0.0));
        loop {
            for (event, lapse) in self.coming(before, &current) {
                if !happened.contains(&event) {
                    waiting.entry(event).or_insert(clock.and_then(lapse));
                }
            }
            let next = waiting.iter().min_by(|a, b| a.1.order().total_cmp(&b.1.order()));
            let Some((event, lapse)) = next.map(|(event, lapse)| (event.clone(), *lapse)) else {
                break;
            };
            waiting.remove(&event);
            happened.insert(event.clone());
            past.note(event);
            clock = lapse;
            current = self.after_all(&current, &past);
            for number in set(&but_not(&now.solution.first.works, &current.solution.first.works)) {
                when_lost.entry(number).or_insert(clock);
            }
        }
        self.in_the_end(now, &past, &when_lost)
    }

    /// Every fault that a fault leads to, one after the other.
    pub(super) fn led_to(&self, first: &FaultName) -> BTreeSet<FaultName> {
        let (mut found, mut open) = (BTreeSet::new(), vec![first]);
        while let Some(fault) = open.pop().and_then(|name| self.faults.get(name)) {
            for (next, _) in &fault.leads_to {
                if found.insert(next.clone()) {
                    open.push(next);
                }
            }
        }
        found
    }

    /// What is lost when all of it has come at once, with the time at which it first went.
    fn in_the_end(&self, now: &Moment, past: &Past, when: &BTreeMap<Number, Lapse>) -> BTreeMap<String, Lapse> {
        let end = self.after_all(now, past);
        set(&but_not(&now.solution.first.works, &end.solution.first.works))
            .into_iter()
            .map(|number| (self.nodes[number].id.clone(), when.get(&number).copied().unwrap_or(Lapse::Sometime)))
            .collect()
    }

    /// What is on its way: stores being spent that were not so before the fault, and faults that follow.
    fn coming(&self, before: &Moment, now: &Moment) -> Vec<(Event, Lapse)> {
        let mut found = Vec::new();
        for (number, node) in self.nodes.iter().enumerate() {
            if let Some(lapse) = node.lasts
                && self.being_spent(number, now)
                && !self.being_spent(number, before)
            {
                found.push((Event::Spent(number), lapse));
            }
        }
        for fault in now.faults.iter().filter_map(|name| self.faults.get(name)) {
            found.extend(fault.leads_to.iter().map(|(name, lapse)| (Event::Comes(name.clone()), *lapse)));
        }
        found
    }

    /// A store is being spent while it works, what keeps it up does not hold, and what spends it does.
    fn being_spent(&self, number: Number, moment: &Moment) -> bool {
        let (kept_by, spent_by) = (&self.nodes[number].kept_by, &self.nodes[number].spent_by);
        let kept = !kept_by.is_empty() && self.all_hold(kept_by, number, moment);
        moment.solution.first.works[number] && !kept && self.all_hold(spent_by, number, moment)
    }

    /// The same moment with spent stores dead and later faults present, from running.
    fn after_all(&self, from: &Moment, past: &Past) -> Moment {
        let mut situation = (*from.situation).clone();
        let mut changed = Vec::new();
        for fault in past.faults.difference(&from.faults).filter_map(|name| self.faults.get(name)) {
            self.add_fault(&mut situation, fault, true);
            changed.extend(self.touched(fault));
        }
        let spent: Vec<Number> = past.spent.iter().copied().collect();
        for number in self.with_functions(&spent) {
            situation.taken[number] = true;
            changed.push(number);
        }
        let solution = self.solve_again(&situation, from, &changed);
        let faults = Arc::new(past.faults.clone());
        Moment { situation: Arc::new(situation), solution, faults, ..from.clone() }
    }
}

impl Past {
    fn note(&mut self, event: Event) {
        match event {
            Event::Spent(number) => {
                self.spent.insert(number);
            }
            Event::Comes(name) => {
                self.faults.insert(name);
            }
        }
    }
}

/// The numbers that are set.
pub(super) fn set(flags: &[bool]) -> BTreeSet<Number> {
    flags.iter().enumerate().filter(|(_, is)| **is).map(|(number, _)| number).collect()
}
