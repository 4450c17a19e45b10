//! What faults do in a setting, as lists of nodes.

use super::rules::{Rule, Rules};
use crate::model::{Entry, FaultIx, ItemIx, Model, NodeIx, NodeKind, When};

/// What faults take, trip, make false and ignore while the controls stand in one way.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Damage {
    /// Not intact, functions of taken items included; sorted.
    pub taken: Vec<NodeIx>,
    /// Open in every position; sorted.
    pub tripped: Vec<NodeIx>,
    /// False whatever feeds them; sorted.
    pub false_nodes: Vec<NodeIx>,
    /// Shut in: they work whatever is gone, but not truly; sorted.
    pub trapped: Vec<NodeIx>,
    /// For this node, conditions on that control or coil count as met; sorted.
    pub ignored: Vec<(NodeIx, ItemIx)>,
}

impl Damage {
    /// What these faults do, where `when` says which entries count: the second argument is true for what takes, false for what ignores or traps.
    pub fn of(model: &Model, faults: &[FaultIx], rules: Rules, when: &dyn Fn(&When, bool) -> bool) -> Self {
        let mut damage = Self::default();
        for fault in faults.iter().map(|f| &model[*f]) {
            let counts = |w: &When, takes| !rules.hold(Rule::Entries) || when(w, takes);
            let chosen = |entries: &[Entry<NodeIx>], takes| -> Vec<NodeIx> {
                entries
                    .iter()
                    .filter(|e| counts(&e.when, takes))
                    .flat_map(|e| with_functions(model, e.what, rules))
                    .collect()
            };
            damage.taken.extend(chosen(&fault.loses, true));
            if rules.hold(Rule::Trips) {
                damage.tripped.extend(chosen(&fault.trips, true));
            }
            if rules.hold(Rule::Misleads) {
                damage.false_nodes.extend(chosen(&fault.misleads, true));
            }
            if rules.hold(Rule::Traps) {
                damage.trapped.extend(chosen(&fault.traps, false));
            }
            for entry in fault.ignores.iter().filter(|e| rules.hold(Rule::Ignores) && counts(&e.when, false)) {
                let nodes = entry.what.nodes.iter().flat_map(|n| with_functions(model, *n, Rules::ALL));
                damage.ignored.extend(nodes.map(|n| (n, entry.what.what)));
            }
        }
        damage.sort();
        damage
    }

    /// The same with more nodes dead.
    pub fn and_dead(&self, model: &Model, dead: &[NodeIx]) -> Self {
        let mut damage = self.clone();
        damage.taken.extend(dead.iter().flat_map(|n| with_functions(model, *n, Rules::ALL)));
        damage.sort();
        damage
    }

    fn sort(&mut self) {
        for list in [&mut self.taken, &mut self.tripped, &mut self.false_nodes, &mut self.trapped] {
            list.sort_unstable();
            list.dedup();
        }
        self.ignored.sort_unstable();
        self.ignored.dedup();
    }
}

/// A node, and the functions of it if it is an item.
pub(super) fn with_functions(model: &Model, node: NodeIx, rules: Rules) -> Vec<NodeIx> {
    let mut nodes = vec![node];
    if let NodeKind::Item(item) = model[node].kind
        && rules.hold(Rule::Whole)
    {
        nodes.extend(&model[item].functions);
    }
    nodes
}
