//! The needs of a model as gates in flat arrays, sorted so that a gate comes after what it hangs on, rings apart.

use super::order::{self, Run};
use super::rules::{Rule, Rules};
use crate::model::{Condition, Feed, ItemIx, Model, Need, NodeIx, NodeKind, When};
use std::collections::{BTreeMap, BTreeSet};

/// What a gate does with its children.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Op {
    /// All; of none: true.
    And,
    /// One at least; of none: false.
    Or,
    /// So many at least.
    AtLeast(u32),
    /// Its child, or that sustained source stood before (the place in `sustained`).
    Kept(u32),
}

/// The gates. Values 0.. are leaves, set from outside; then come the gates in the order of working.
#[derive(Debug, Clone, Default)]
pub(super) struct Graph {
    /// Number of leaves. The first ones are, in node order: the node is intact (a given: and holds).
    pub leaves: usize,
    /// By gate.
    pub ops: Vec<Op>,
    /// By gate: where its children begin; one more at the end.
    pub first: Vec<u32>,
    /// Values of all gates' children.
    pub children: Vec<u32>,
    /// Stretches of gates, in order.
    pub runs: Vec<Run>,
    /// Those of them that hang on a sustained feed.
    pub late: Vec<Run>,
    /// By node: the value that says that it works.
    pub works: Vec<u32>,
    /// Passed devices with needs of their own, and the value that says that they conduct.
    pub coils: Vec<(NodeIx, u32)>,
    /// Sources of sustained feeds.
    pub sustained: Vec<NodeIx>,
    /// Conditions, and the leaf of the first.
    pub conditions: Vec<Condition>,
    /// The leaf of the first condition.
    pub first_condition: usize,
    /// Leaf of a device that may trip: it is closed.
    pub closed: BTreeMap<NodeIx, u32>,
    /// Leaf of a pair that a fault may make: conditions on that item count as met for this node.
    pub ignored: BTreeMap<(NodeIx, ItemIx), u32>,
    /// Leaf of a node that a fault may shut in: it is.
    pub trapped: BTreeMap<NodeIx, u32>,
    /// Leaf: approximate feeds count.
    pub exact: usize,
    /// True if there are approximate feeds.
    pub has_approximate: bool,
}

/// Marks a child that is a leaf, while building.
pub(super) const LEAF: u32 = 1 << 31;

struct Builder<'m> {
    model: &'m Model,
    rules: Rules,
    graph: Graph,
    gates: Vec<(Op, Vec<u32>)>,
    condition_leaf: BTreeMap<Condition, u32>,
    slots: BTreeMap<NodeIx, u32>,
    passed: Vec<Option<u32>>,
    own: Vec<Vec<u32>>,
}

impl Graph {
    /// The gates of a model.
    pub fn build(model: &Model, rules: Rules) -> Self {
        let mut builder = Builder::new(model, rules);
        for node in model.node_indices() {
            let own: Vec<u32> = model[node].needs.iter().map(|n| builder.need(n, node, true)).collect();
            let own = builder.unless_ignored(own, node, model.item_of(node));
            builder.own.push(own);
        }
        for node in model.node_indices() {
            builder.works(node);
        }
        builder.finish_passed();
        let Builder { mut graph, gates, .. } = builder;
        order::sort(&mut graph, &gates);
        graph
    }

    /// Number of values.
    pub fn values(&self) -> usize {
        self.leaves + self.ops.len()
    }

    /// Children of a gate.
    pub fn of(&self, gate: usize) -> &[u32] {
        &self.children[self.first[gate] as usize..self.first[gate + 1] as usize]
    }
}

impl<'m> Builder<'m> {
    fn new(model: &'m Model, rules: Rules) -> Self {
        let nodes = model.nodes.len();
        let mut graph = Graph { leaves: nodes, first_condition: nodes, ..Graph::default() };
        let conditions = conditions(model);
        let condition_leaf =
            conditions.iter().enumerate().map(|(i, c)| (c.clone(), (nodes + i) as u32 | LEAF)).collect();
        graph.leaves += conditions.len();
        graph.conditions = conditions;
        for node in trippable(model) {
            graph.closed.insert(node, graph.leaves as u32);
            graph.leaves += 1;
        }
        for pair in ignorable(model) {
            graph.ignored.insert(pair, graph.leaves as u32);
            graph.leaves += 1;
        }
        for node in trappable(model) {
            graph.trapped.insert(node, graph.leaves as u32);
            graph.leaves += 1;
        }
        graph.exact = graph.leaves;
        graph.leaves += 1;
        let gates = vec![(Op::And, Vec::new()); nodes];
        let passed = vec![None; nodes];
        Self {
            model,
            rules,
            graph,
            gates,
            condition_leaf,
            slots: BTreeMap::new(),
            passed,
            own: Vec::with_capacity(nodes),
        }
    }

    fn add(&mut self, op: Op, children: Vec<u32>) -> u32 {
        if let (Op::And | Op::Or, [only]) = (op, children.as_slice()) {
            return *only;
        }
        self.gates.push((op, children));
        self.gates.len() as u32 - 1
    }

    /// The gate of a need; as a sense (`with_source` false) the sources do not count.
    fn need(&mut self, need: &Need, owner: NodeIx, with_source: bool) -> u32 {
        match need {
            Need::Feed(feed) => self.feed(feed, owner, with_source),
            Need::When(when, _) => {
                let children = self.when(when, owner);
                self.add(Op::And, children)
            }
            Need::Any(of, _) => self.choice(Op::Or, of, owner, with_source),
            Need::All(of, _) => self.choice(Op::And, of, owner, with_source),
            Need::AtLeast { of, .. } if !self.rules.hold(Rule::AtLeast) => self.choice(Op::Or, of, owner, with_source),
            Need::AtLeast { count, of, .. } => self.choice(Op::AtLeast(*count as u32), of, owner, with_source),
        }
    }

    fn choice(&mut self, op: Op, of: &[Need], owner: NodeIx, with_source: bool) -> u32 {
        let children = of.iter().map(|n| self.need(n, owner, with_source)).collect();
        self.add(op, children)
    }

    fn feed(&mut self, feed: &Feed, owner: NodeIx, with_source: bool) -> u32 {
        let mut children = self.when(&feed.when, owner);
        if with_source {
            children.push(self.source(feed));
            if self.rules.hold(Rule::Sources) {
                children.extend(self.as_source(feed.from, owner));
            }
        }
        if feed.approximate.is_some() && self.rules.hold(Rule::Approximate) {
            self.graph.has_approximate = true;
            children.push(self.graph.exact as u32 | LEAF);
        }
        if self.rules.hold(Rule::Through) {
            for through in &feed.through {
                children.push(self.pass(*through, owner));
            }
        }
        self.add(Op::And, children)
    }

    /// A control or a device that may trip, as a source: not tripped, and in a position that conducts.
    fn as_source(&mut self, from: NodeIx, owner: NodeIx) -> Vec<u32> {
        let mut children: Vec<u32> = self.graph.closed.get(&from).map(|leaf| leaf | LEAF).into_iter().collect();
        if let Some(condition) = conduction(self.model, from) {
            let stands = self.condition(&condition, owner);
            children.extend(self.unless_ignored(vec![stands], from, Some(condition.control)));
        }
        children
    }

    fn source(&mut self, feed: &Feed) -> u32 {
        let from = feed.from.usize() as u32;
        if !feed.sustained || !self.rules.hold(Rule::Sustained) {
            return from;
        }
        let sustained = &mut self.graph.sustained;
        let slot = *self.slots.entry(feed.from).or_insert_with(|| {
            sustained.push(feed.from);
            sustained.len() as u32 - 1
        });
        self.add(Op::Kept(slot), vec![from])
    }

    fn when(&mut self, when: &When, owner: NodeIx) -> Vec<u32> {
        if !self.rules.hold(Rule::Guards) {
            return Vec::new();
        }
        when.0.iter().map(|c| self.condition(c, owner)).collect()
    }

    fn condition(&mut self, condition: &Condition, owner: NodeIx) -> u32 {
        let leaf = self.condition_leaf.get(condition).copied().unwrap_or(LEAF);
        match self.graph.ignored.get(&(owner, condition.control)) {
            Some(ignored) => self.add(Op::Or, vec![leaf, *ignored | LEAF]),
            None => leaf,
        }
    }

    /// The gate that says that a device conducts for the node that it feeds.
    fn pass(&mut self, device: NodeIx, owner: NodeIx) -> u32 {
        let item = self.model.item_of(device);
        let shared = self.passed[device.usize()].unwrap_or_else(|| {
            self.gates.push((Op::And, Vec::new()));
            self.gates.len() as u32 - 1
        });
        self.passed[device.usize()] = Some(shared);
        let ignored = item.and_then(|item| self.graph.ignored.get(&(owner, item)).copied());
        let Some(ignored) = ignored.filter(|_| self.model.item_of(owner) != item) else { return shared };
        let whole = self.whole(device);
        let either = self.add(Op::Or, vec![shared, ignored | LEAF]);
        let mut children = whole;
        children.push(either);
        self.add(Op::And, children)
    }

    /// Leaves: the device is intact, and not tripped.
    fn whole(&self, device: NodeIx) -> Vec<u32> {
        let mut leaves = vec![device.usize() as u32 | LEAF];
        leaves.extend(self.graph.closed.get(&device).map(|leaf| leaf | LEAF));
        leaves
    }

    /// Fills the gates of passed devices: whole, in a position that conducts, and its own needs hold.
    fn finish_passed(&mut self) {
        for device in self.model.node_indices() {
            let Some(gate) = self.passed[device.usize()] else { continue };
            let mut children = self.whole(device);
            if self.rules.hold(Rule::Coils) {
                children.extend(&self.own[device.usize()]);
            }
            if let Some(condition) = conduction(self.model, device) {
                let leaf = self.condition_leaf.get(&condition).copied().unwrap_or(LEAF);
                let stands = self.unless_ignored(vec![leaf], device, Some(condition.control));
                children.extend(stands);
            }
            self.gates[gate as usize] = (Op::And, children);
            if !self.model[device].needs.is_empty() {
                self.graph.coils.push((device, gate));
            }
        }
    }

    /// All of these, or the node ignores its own item.
    fn unless_ignored(&mut self, all: Vec<u32>, node: NodeIx, item: Option<ItemIx>) -> Vec<u32> {
        let ignored = item.and_then(|item| self.graph.ignored.get(&(node, item)).copied());
        match ignored {
            Some(leaf) if !all.is_empty() => {
                let held = self.add(Op::And, all);
                vec![self.add(Op::Or, vec![held, leaf | LEAF])]
            }
            _ => all,
        }
    }

    fn works(&mut self, node: NodeIx) {
        let model = self.model;
        let mut children = vec![node.usize() as u32 | LEAF];
        children.extend(&self.own[node.usize()]);
        if self.rules.hold(Rule::Senses) {
            for sense in &model[node].senses {
                children.push(self.need(sense, node, false));
            }
        }
        if let NodeKind::Function(item, _) = model[node].kind
            && self.rules.hold(Rule::Functions)
        {
            children.push(model[item].node.usize() as u32);
        }
        let trapped = self.graph.trapped.get(&node).copied();
        self.gates[node.usize()] = match trapped {
            Some(leaf) => (Op::Or, vec![self.add(Op::And, children), leaf | LEAF]),
            None => (Op::And, children),
        };
    }
}

/// The condition under which a passed device conducts, if it is a control.
pub(super) fn conduction(model: &Model, device: NodeIx) -> Option<Condition> {
    let item = model.item_of(device)?;
    let control = model.control(item)?;
    Some(Condition { control: item, positions: control.conducts_in.clone() })
}

/// Calls with every feed and every free condition of needs and senses.
fn walk<'m>(need: &'m Need, on: &mut dyn FnMut(&'m When, &[NodeIx])) {
    match need {
        Need::Feed(feed) => {
            on(&feed.when, &feed.through);
            on(&feed.when, &[feed.from]);
        }
        Need::When(when, _) => on(when, &[]),
        _ => need.parts().iter().for_each(|part| walk(part, on)),
    }
}

fn conditions(model: &Model) -> Vec<Condition> {
    let mut found = BTreeSet::new();
    for node in &model.nodes {
        for need in node.needs.iter().chain(&node.senses) {
            walk(need, &mut |when, devices| {
                found.extend(when.0.iter().cloned());
                found.extend(devices.iter().filter_map(|d| conduction(model, *d)));
            });
        }
    }
    found.into_iter().collect()
}

fn trippable(model: &Model) -> BTreeSet<NodeIx> {
    let tripped = model.faults.iter().flat_map(|f| f.trips.iter().map(|e| e.what));
    tripped.flat_map(|n| super::damage::with_functions(model, n, Rules::ALL)).collect()
}

fn trappable(model: &Model) -> BTreeSet<NodeIx> {
    let trapped = model.faults.iter().flat_map(|f| f.traps.iter().map(|e| e.what));
    trapped.flat_map(|n| super::damage::with_functions(model, n, Rules::ALL)).collect()
}

fn ignorable(model: &Model) -> BTreeSet<(NodeIx, ItemIx)> {
    let entries = model.faults.iter().flat_map(|f| f.ignores.iter().map(|e| &e.what));
    let pairs = entries.flat_map(|i| i.nodes.iter().map(move |n| (*n, i.what)));
    let with_functions = |(n, what): (NodeIx, ItemIx)| {
        super::damage::with_functions(model, n, Rules::ALL).into_iter().map(move |n| (n, what))
    };
    pairs.flat_map(with_functions).collect()
}
