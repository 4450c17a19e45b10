//! Who hangs on whom: needs, senses, passed devices, conditions on controls, functions on their items.

use super::Analysis;
use crate::analyse::answer::Trace;
use crate::model::{MediumIx, Model, Need, NodeIx, NodeKind, When};
use std::collections::{BTreeSet, VecDeque};

/// Neighbours of each node.
#[derive(Debug, Default)]
pub(super) struct Hangs {
    /// On what a node hangs; sorted.
    pub up: Vec<Vec<NodeIx>>,
    /// What hangs on it; sorted.
    pub down: Vec<Vec<NodeIx>>,
    /// Feeds come from it.
    pub feeds: Vec<bool>,
}

impl Hangs {
    /// The neighbours in a model.
    pub fn of(model: &Model) -> Self {
        let nodes = model.nodes.len();
        let mut hangs =
            Self { up: Vec::with_capacity(nodes), down: vec![Vec::new(); nodes], feeds: vec![false; nodes] };
        for node in model.node_indices() {
            let mut above = Vec::new();
            let row = &model[node];
            row.needs.iter().chain(&row.senses).for_each(|n| hangs.need(model, n, &mut above));
            if let NodeKind::Function(item, _) = row.kind {
                above.push(model[item].node);
            }
            if let Some(off_with) = model.item_of(node).and_then(|i| model.control(i)).and_then(|c| c.off_with) {
                above.push(model[off_with].node);
            }
            above.sort_unstable();
            above.dedup();
            for a in &above {
                hangs.down[a.usize()].push(node);
            }
            hangs.up.push(above);
        }
        hangs
    }

    fn need(&mut self, model: &Model, need: &Need, above: &mut Vec<NodeIx>) {
        let controls = |when: &When| when.0.iter().map(|c| model[c.control].node).collect::<Vec<_>>();
        match need {
            Need::Feed(feed) => {
                self.feeds[feed.from.usize()] = true;
                above.push(feed.from);
                above.extend(&feed.through);
                above.extend(controls(&feed.when));
            }
            Need::When(when, _) => above.extend(controls(when)),
            _ => need.parts().iter().for_each(|part| self.need(model, part, above)),
        }
    }
}

/// Everything that is reached from some nodes along `next`, and how far it is.
pub(super) fn distances(from: &[NodeIx], next: &[Vec<NodeIx>]) -> Vec<Option<u32>> {
    let mut far = vec![None; next.len()];
    for node in from {
        far[node.usize()] = Some(0);
    }
    let mut queue: VecDeque<NodeIx> = from.iter().copied().collect();
    while let Some(node) = queue.pop_front() {
        let more = far[node.usize()].map(|f| f + 1);
        for other in &next[node.usize()] {
            if far[other.usize()].is_none() {
                far[other.usize()] = more;
                queue.push_back(*other);
            }
        }
    }
    far
}

impl Analysis<'_> {
    pub(super) fn hangs(&self) -> &Hangs {
        self.hangs.get_or_init(|| Hangs::of(self.model))
    }

    /// What a node hangs on up to its sources, and what hangs on it.
    pub fn trace(&self, node: NodeIx) -> Trace {
        let hangs = self.hangs();
        let all = |next| -> Vec<NodeIx> {
            let far = distances(&[node], next);
            self.model.node_indices().filter(|n| *n != node && far[n.usize()].is_some()).collect()
        };
        let (upstream, downstream) = (all(&hangs.up), all(&hangs.down));
        let is_source = |n: &&NodeIx| hangs.feeds[n.usize()] && self.needs_nothing(**n);
        let sources = upstream.iter().filter(is_source).copied().collect();
        Trace { node, media: self.media_of(node), sources, upstream, downstream }
    }

    fn needs_nothing(&self, node: NodeIx) -> bool {
        let row = &self.model[node];
        let item_too = match row.kind {
            NodeKind::Function(item, _) => self.model[self.model[item].node].needs.is_empty(),
            _ => true,
        };
        row.needs.is_empty() && item_too
    }

    fn media_of(&self, node: NodeIx) -> Vec<MediumIx> {
        let row = &self.model[node];
        let feeds = row.needs.iter().chain(&row.senses).flat_map(Need::feeds);
        let media: BTreeSet<MediumIx> = feeds.filter_map(|f| self.model[f.from].gives).collect();
        media.into_iter().collect()
    }

    /// The loop of feeds that keeps a node from ever working: each is fed from the next, the last from the first. The shortest one
    /// through the node itself, else the nearest that it hangs on; nothing where there is none.
    pub fn ring_of(&self, node: NodeIx) -> Vec<NodeIx> {
        let dead: BTreeSet<NodeIx> = self.never_works().into_iter().collect();
        let fed_from = |n: NodeIx| -> Vec<NodeIx> {
            let row = &self.model[n];
            let item = match row.kind {
                NodeKind::Function(item, _) => Some(self.model[item].node),
                _ => None,
            };
            let feeds = row.needs.iter().flat_map(Need::feeds).flat_map(|f| f.through.iter().chain([&f.from]));
            feeds.copied().chain(item).filter(|f| dead.contains(f)).collect()
        };
        let next: Vec<Vec<NodeIx>> =
            self.model.node_indices().map(|n| if dead.contains(&n) { fed_from(n) } else { Vec::new() }).collect();
        let far = distances(&[node], &next);
        let mut near: Vec<NodeIx> = dead.iter().copied().filter(|n| far[n.usize()].is_some()).collect();
        near.sort_by_key(|n| (far[n.usize()], *n));
        near.into_iter().find_map(|n| shortest_ring(n, &next)).unwrap_or_default()
    }
}

/// The shortest way from a node back to itself.
fn shortest_ring(node: NodeIx, next: &[Vec<NodeIx>]) -> Option<Vec<NodeIx>> {
    let mut from: Vec<Option<NodeIx>> = vec![None; next.len()];
    let mut queue = VecDeque::from([node]);
    while let Some(at) = queue.pop_front() {
        for other in &next[at.usize()] {
            if *other == node {
                let mut ring = vec![at];
                while let Some(before) = ring.last().filter(|n| **n != node).and_then(|n| from[n.usize()]) {
                    ring.push(before);
                }
                ring.reverse();
                return Some(ring);
            }
            if from[other.usize()].is_none() {
                from[other.usize()] = Some(at);
                queue.push_back(*other);
            }
        }
    }
    None
}
