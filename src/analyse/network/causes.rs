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
        for node in touched.iter().filter(|n| now.intact(*n)) {
            let missing = Missing::of(node, before, now);
            missing.causes.iter().for_each(|c| dependents.entry(*c).or_default().push(node));
            causes.missing.insert(node, missing);
        }
        let named = |n: &NodeIx| roots.iter().any(|(r, _)| r == n);
        let from_outside = dependents.keys().filter(|n| !touched.has(**n) && !named(n)).map(|n| (*n, None));
        let mut starts: Vec<(NodeIx, Option<NodeIx>)> = roots.to_vec();
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
