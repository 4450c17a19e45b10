//! What follows from the needs alone: who hangs on whom, and the order of asking.

use std::collections::{BTreeMap, BTreeSet};

use super::parts::{Condition, Layout, Node, NodeKind, Number};

impl Layout {
    /// Works it out from the nodes.
    pub(super) fn of(nodes: &[Node], conditions: &[Condition], number: &BTreeMap<String, Number>) -> Self {
        let mut layout = Layout {
            passed: vec![false; nodes.len()],
            anchors: vec![false; nodes.len()],
            uses: vec![BTreeSet::new(); nodes.len()],
            users: vec![BTreeSet::new(); nodes.len()],
            ..Layout::default()
        };
        for (who, node) in nodes.iter().enumerate() {
            layout.note_feeds(who, node);
            if let NodeKind::Function { item } = node.kind {
                layout.uses[who].insert(item);
            }
        }
        for (who, uses) in layout.uses.iter().enumerate() {
            for used in uses {
                layout.users[*used].insert(who);
            }
        }
        layout.turned = vec![Vec::new(); nodes.len()];
        layout.hinges = nodes.iter().map(|node| hinges(node, nodes, conditions, number)).collect();
        for (who, hinges) in layout.hinges.iter().enumerate() {
            hinges.iter().for_each(|hinge| layout.turned[hinge.control].push(who));
        }
        layout.looked_at = vec![Vec::new(); nodes.len()];
        for control in (0..nodes.len()).filter(|n| nodes[*n].control.is_some()) {
            for above in controls_above(control, nodes, number) {
                layout.turned[above].push(control);
                let looks = conditions.iter().enumerate().filter(|(_, c)| c.control == control);
                layout.looked_at[above].extend(looks.map(|(number, _)| number));
            }
        }
        layout.order = sources_first(&layout.uses);
        layout.cones = (0..nodes.len()).map(|number| cone(number, &layout.users)).collect();
        layout
    }

    fn note_feeds(&mut self, who: Number, node: &Node) {
        let mut feeds = Vec::new();
        node.needs
            .iter()
            .chain(&node.senses)
            .chain(&node.kept_by)
            .chain(&node.spent_by)
            .for_each(|need| need.feeds(&mut feeds));
        for feed in feeds {
            self.uses[who].insert(feed.from);
            self.anchors[feed.from] |= feed.sustained;
            self.approximate |= feed.approximate;
            for passed in &feed.through {
                self.uses[who].insert(*passed);
                self.passed[*passed] = true;
            }
        }
    }
}

/// What a node looks at on controls: its conditions, the controls it comes from or passes, and those that hold them off.
fn hinges(node: &Node, nodes: &[Node], conditions: &[Condition], number: &BTreeMap<String, Number>) -> Vec<Condition> {
    let (mut feeds, mut looked) = (Vec::new(), Vec::new());
    for need in node.needs.iter().chain(&node.senses) {
        need.feeds(&mut feeds);
        need.conditions(&mut looked);
    }
    let mut found: Vec<Condition> = looked.iter().map(|n| conditions[*n].clone()).collect();
    for passed in feeds.iter().flat_map(|feed| feed.through.iter().chain([&feed.from])) {
        let device = match nodes[*passed].kind {
            NodeKind::Function { item } => item,
            NodeKind::Item { .. } | NodeKind::Given { .. } => *passed,
        };
        if let Some(control) = &nodes[device].control {
            found.push(Condition { control: device, positions: control.conducts_in.clone() });
        }
    }
    let mut asked: Vec<Number> = found.iter().map(|c| c.control).collect();
    let mut seen: BTreeSet<Number> = asked.iter().copied().collect();
    while let Some(control) = asked.pop() {
        let parent = nodes[control].control.as_ref().and_then(|c| c.off_with.as_ref()).and_then(|id| number.get(id));
        let Some((parent, control)) = parent.and_then(|p| Some((*p, nodes[*p].control.as_ref()?))) else {
            continue;
        };
        if seen.insert(parent) {
            asked.push(parent);
        }
        let open = control.positions.iter().filter(|p| !control.conducts_in.contains(*p)).cloned().collect();
        found.push(Condition { control: parent, positions: control.conducts_in.clone() });
        found.push(Condition { control: parent, positions: open });
    }
    found
}

/// A control and those that it is off with, one above the other.
fn controls_above(control: Number, nodes: &[Node], number: &BTreeMap<String, Number>) -> Vec<Number> {
    let (mut found, mut next) = (Vec::new(), Some(control));
    while let Some(here) = next.filter(|here| !found.contains(here)) {
        found.push(here);
        let parent = nodes[here].control.as_ref().and_then(|c| c.off_with.as_ref());
        next = parent.and_then(|id| number.get(id)).copied();
    }
    found
}

/// Everything that can be reached from a node by its users, itself included.
fn cone(start: Number, users: &[BTreeSet<Number>]) -> Vec<Number> {
    let mut seen = vec![false; users.len()];
    let (mut found, mut open) = (Vec::new(), vec![start]);
    while let Some(number) = open.pop() {
        if !std::mem::replace(&mut seen[number], true) {
            found.push(number);
            open.extend(&users[number]);
        }
    }
    found
}

/// Every node after what it hangs on, as far as loops allow.
fn sources_first(uses: &[BTreeSet<Number>]) -> Vec<Number> {
    let mut order = Vec::new();
    let mut seen = vec![false; uses.len()];
    for start in 0..uses.len() {
        let mut open = vec![(start, false)];
        while let Some((node, done)) = open.pop() {
            if done {
                order.push(node);
            } else if !std::mem::replace(&mut seen[node], true) {
                open.push((node, true));
                open.extend(uses[node].iter().filter(|used| !seen[**used]).map(|used| (*used, false)));
            }
        }
    }
    order
}
