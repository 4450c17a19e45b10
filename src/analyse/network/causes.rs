//! The shortest chain of causes from a fault to each thing that it touches: a search in breadth from the fault's item.

use super::bits::Bits;
use super::view::{Missing, View};
use crate::model::NodeIx;
use std::collections::{BTreeMap, VecDeque};

/// Reasons of everything that is touched.
#[derive(Debug, Default)]
pub(super) struct Causes {
    missing: BTreeMap<NodeIx, Missing>,
    /// By node: how far from the fault, and from where.
    reached: BTreeMap<NodeIx, (usize, Option<NodeIx>)>,
}

impl Causes {
    /// Works out what each of `touched` misses between the views, and the way to it from `roots`: items of faults (no second node) and
    /// what they name (with the item).
    pub fn find(touched: &Bits, roots: &[(NodeIx, Option<NodeIx>)], before: View, now: View) -> Self {
        let mut causes = Self::default();
        let mut dependents: BTreeMap<NodeIx, Vec<NodeIx>> = BTreeMap::new();
        let mut todo: Vec<NodeIx> = touched.iter().filter(|n| now.intact(*n)).collect();
        while let Some(node) = todo.pop() {
            let missing = Missing::of(node, before, now);
            for cause in &missing.causes {
                dependents.entry(*cause).or_default().push(node);
                // A passed device may have lost what it needs without having worked before.
                if !touched.has(*cause) && now.intact(*cause) && !causes.missing.contains_key(cause) {
                    causes.missing.insert(*cause, Missing::default());
                    todo.push(*cause);
                }
            }
            causes.missing.insert(node, missing);
        }
        let is_first = |n: &NodeIx| roots.iter().any(|(r, by)| r == n && by.is_none());
        let (starts, by_item): (Vec<_>, Vec<_>) = roots.iter().partition(|(_, by)| by.is_none_or(|b| is_first(&b)));
        for (function, item) in by_item {
            dependents.entry(item.unwrap_or(function)).or_default().push(function);
        }
        for list in dependents.values_mut() {
            list.sort_unstable();
        }
        let named = |n: &NodeIx| roots.iter().any(|(r, _)| r == n);
        let is_explained = |n: &NodeIx| causes.missing.get(n).is_some_and(|m| !m.causes.is_empty());
        let outside = |n: &&NodeIx| !touched.has(**n) && !named(n) && !is_explained(n);
        let from_outside: Vec<_> = dependents.keys().filter(outside).map(|n| (*n, None)).collect();
        let mut starts: Vec<(NodeIx, Option<NodeIx>)> = starts;
        starts.extend(from_outside);
        starts.sort_by_key(|(node, item)| (item.is_some(), *node));
        causes.spread(&starts, &dependents);
        causes
    }

    fn spread(&mut self, starts: &[(NodeIx, Option<NodeIx>)], dependents: &BTreeMap<NodeIx, Vec<NodeIx>>) {
        let mut queue = VecDeque::new();
        for (node, item) in starts {
            let far = usize::from(item.is_some());
            if !self.reached.contains_key(node) {
                self.reached.insert(*node, (far, *item));
                queue.push_back(*node);
            }
        }
        while let Some(node) = queue.pop_front() {
            let far = self.reached.get(&node).map_or(0, |r| r.0) + 1;
            for next in dependents.get(&node).into_iter().flatten() {
                if !self.reached.contains_key(next) {
                    self.reached.insert(*next, (far, Some(node)));
                    queue.push_back(*next);
                }
            }
        }
    }

    /// Causes of a node, the nearest to the fault first, itself not included.
    pub fn chain(&self, node: NodeIx) -> Vec<NodeIx> {
        let reached = |n: &NodeIx| self.reached.get(n).map(|(far, _)| (*far, *n));
        let nearest = self.missing.get(&node).and_then(|m| m.causes.iter().filter_map(reached).min());
        let mut at = nearest.map(|(_, n)| n).or_else(|| self.reached.get(&node).and_then(|(_, from)| *from));
        let mut chain = Vec::new();
        while let Some(cause) = at.filter(|c| !chain.contains(c)) {
            chain.push(cause);
            at = self.reached.get(&cause).and_then(|(_, from)| *from);
        }
        chain.reverse();
        chain
    }

    /// Sources and devices of a node's own feeds that stopped.
    pub fn misses(&self, node: NodeIx) -> Vec<NodeIx> {
        self.missing.get(&node).map(|m| m.feeds.clone()).unwrap_or_default()
    }
}
