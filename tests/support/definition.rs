//! The meaning of a model worked out as its definition says, slowly, one node at a time.

use ribstitch::model::{Condition, FaultIx, ItemIx, Model, Need, NodeIx, NodeKind, PositionIx, Start, StateIx, When};
use std::collections::BTreeSet;

/// Sets of nodes.
pub type Nodes = BTreeSet<NodeIx>;

/// Where everything stands.
#[derive(Debug, Clone)]
pub struct Stand {
    pub positions: Vec<PositionIx>,
    pub givens: Vec<bool>,
}

/// What works, what of it is false, what of it is approximate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    pub works: Nodes,
    pub misleads: Nodes,
    pub approximate: Nodes,
}

/// One scenario.
struct Scene<'m> {
    model: &'m Model,
    stand: Stand,
    dead: Nodes,
    /// Shut in: they work, as it stands.
    shut_in: Nodes,
    tripped: Nodes,
    ignored: BTreeSet<(NodeIx, ItemIx)>,
    exact_only: bool,
}

/// Where everything stands in a state.
pub fn stand(model: &Model, state: StateIx) -> Stand {
    let row = &model[state];
    let mut stand = match row.start {
        Start::Cold => Stand {
            positions: model.items.iter().map(|i| i.control.as_ref().map_or(PositionIx::new(0), |c| c.rest)).collect(),
            givens: model.givens.iter().map(|g| g.normally).collect(),
        },
        Start::Like(other) => stand(model, other),
        Start::After(other) => {
            let mut before = stand(model, other);
            for (item, control) in model.controls() {
                let now = before.positions[item.usize()];
                for (from, to) in &control.springs_to {
                    if *from == now {
                        before.positions[item.usize()] = *to;
                    }
                }
            }
            before
        }
    };
    row.controls.iter().for_each(|(c, p)| stand.positions[c.usize()] = *p);
    row.givens.iter().for_each(|(g, holds)| stand.givens[g.usize()] = *holds);
    stand
}

/// A state with faults there all along: the last state that is reached, and its answer.
pub fn from_cold(model: &Model, state: StateIx, faults: &[FaultIx]) -> (StateIx, Answer) {
    let Start::After(before) = model[state].start else {
        return (state, solve(model, &stand(model, state), faults, &Nodes::new()));
    };
    let (last, answer) = from_cold(model, before, faults);
    if last != before || !model[state].reached_if.iter().all(|n| answer.works.contains(n)) {
        return (last, answer);
    }
    (state, solve(model, &stand(model, state), faults, &answer.works))
}

/// The answer of one scenario.
pub fn solve(model: &Model, stand: &Stand, faults: &[FaultIx], start: &Nodes) -> Answer {
    let mut scene = Scene {
        model,
        stand: stand.clone(),
        dead: Nodes::new(),
        shut_in: Nodes::new(),
        tripped: Nodes::new(),
        ignored: BTreeSet::new(),
        exact_only: false,
    };
    let mut false_nodes = Nodes::new();
    for fault in faults.iter().map(|f| &model[*f]) {
        let chosen = |entries: &[ribstitch::model::Entry<NodeIx>]| -> Vec<NodeIx> {
            let met = entries.iter().filter(|e| scene.matches(&e.when, None));
            met.flat_map(|e| whole(model, e.what)).collect()
        };
        let (loses, trips, misleads) = (chosen(&fault.loses), chosen(&fault.trips), chosen(&fault.misleads));
        let traps = chosen(&fault.traps);
        let ignores: Vec<_> = fault.ignores.iter().filter(|e| scene.matches(&e.when, None)).collect();
        for entry in &ignores {
            let nodes = entry.what.nodes.iter().flat_map(|n| whole(model, *n));
            scene.ignored.extend(nodes.map(|n| (n, entry.what.what)));
        }
        scene.dead.extend(loses);
        scene.tripped.extend(trips);
        scene.shut_in.extend(traps);
        false_nodes.extend(misleads);
    }
    // Conditions of entries are about controls alone, so what is ignored above changes none of them.
    let works = scene.settle(start);
    scene.dead.extend(false_nodes);
    scene.shut_in.clear();
    let truth = scene.settle(start);
    scene.exact_only = true;
    let exact = scene.settle(start);
    let minus = |a: &Nodes, b: &Nodes| a.difference(b).copied().collect();
    Answer { misleads: minus(&works, &truth), approximate: minus(&truth, &exact), works }
}

fn whole(model: &Model, node: NodeIx) -> Vec<NodeIx> {
    match model[node].kind {
        NodeKind::Item(item) => std::iter::once(node).chain(model[item].functions.iter().copied()).collect(),
        _ => vec![node],
    }
}

impl Scene<'_> {
    fn effective(&self, item: ItemIx) -> PositionIx {
        let put = self.stand.positions[item.usize()];
        let Some(control) = self.model.control(item) else { return put };
        let off = control.off_with.is_some_and(|above| !self.in_conducting_position(above));
        if off { control.forced() } else { put }
    }

    fn in_conducting_position(&self, item: ItemIx) -> bool {
        self.model.control(item).is_none_or(|c| c.conducts_in.contains(&self.effective(item)))
    }

    fn ignores(&self, owner: Option<NodeIx>, item: ItemIx) -> bool {
        owner.is_some_and(|o| self.ignored.contains(&(o, item)))
    }

    fn meets(&self, condition: &Condition, owner: Option<NodeIx>) -> bool {
        self.ignores(owner, condition.control) || condition.positions.contains(&self.effective(condition.control))
    }

    fn matches(&self, when: &When, owner: Option<NodeIx>) -> bool {
        when.0.iter().all(|c| self.meets(c, owner))
    }

    fn settle(&self, start: &Nodes) -> Nodes {
        let mut memory = start.clone();
        loop {
            let kept: Nodes = memory.intersection(&self.least(&memory)).copied().collect();
            if kept == memory {
                break;
            }
            memory = kept;
        }
        loop {
            let alive = self.least(&memory);
            if alive == memory {
                return alive;
            }
            memory = alive;
        }
    }

    /// From nothing upwards: nodes that work, and nodes whose own needs hold.
    fn least(&self, memory: &Nodes) -> Nodes {
        let (mut works, mut held) = (Nodes::new(), Nodes::new());
        loop {
            let judge = Judge { scene: self, works: &works, held: &held, memory };
            let now_held: Nodes = self.model.node_indices().filter(|n| judge.own_needs_hold(*n)).collect();
            let now_works: Nodes = self.model.node_indices().filter(|n| judge.works(*n)).collect();
            if now_held == held && now_works == works {
                return works;
            }
            (works, held) = (now_works, now_held);
        }
    }
}

struct Judge<'a> {
    scene: &'a Scene<'a>,
    works: &'a Nodes,
    held: &'a Nodes,
    memory: &'a Nodes,
}

impl Judge<'_> {
    fn own_needs_hold(&self, node: NodeIx) -> bool {
        let own = self.scene.model.item_of(node).is_some_and(|i| self.scene.ignores(Some(node), i));
        own || self.scene.model[node].needs.iter().all(|n| self.holds(n, node, true))
    }

    fn works(&self, node: NodeIx) -> bool {
        let scene = self.scene;
        let by_kind = match scene.model[node].kind {
            NodeKind::Given(given) => scene.stand.givens[given.usize()],
            NodeKind::Function(item, _) => self.works.contains(&scene.model[item].node),
            NodeKind::Item(_) => true,
        };
        let senses = || scene.model[node].senses.iter().all(|n| self.holds(n, node, false));
        let fed = by_kind && !scene.dead.contains(&node) && self.held.contains(&node) && senses();
        fed || scene.shut_in.contains(&node)
    }

    fn conducts(&self, device: NodeIx, owner: NodeIx) -> bool {
        let scene = self.scene;
        let item = scene.model.item_of(device);
        let ignored = item.is_some_and(|i| scene.ignores(Some(owner), i));
        let closed = !scene.dead.contains(&device) && !scene.tripped.contains(&device);
        closed && (ignored || (self.held.contains(&device) && self.stands(device)))
    }

    fn stands(&self, device: NodeIx) -> bool {
        let conducting = |i| self.scene.ignores(Some(device), i) || self.scene.in_conducting_position(i);
        self.scene.model.item_of(device).is_none_or(conducting)
    }

    fn gives(&self, from: NodeIx, owner: NodeIx) -> bool {
        let ignored = self.scene.model.item_of(from).is_some_and(|i| self.scene.ignores(Some(owner), i));
        !self.scene.tripped.contains(&from) && (ignored || self.stands(from))
    }

    fn holds(&self, need: &Need, owner: NodeIx, fed: bool) -> bool {
        match need {
            Need::When(when, _) => self.scene.matches(when, Some(owner)),
            Need::Any(of, _) => of.iter().any(|n| self.holds(n, owner, fed)),
            Need::All(of, _) => of.iter().all(|n| self.holds(n, owner, fed)),
            Need::AtLeast { count, of, .. } => of.iter().filter(|n| self.holds(n, owner, fed)).count() >= *count,
            Need::Feed(feed) => {
                let stood = feed.sustained && self.memory.contains(&feed.from);
                let source = (self.works.contains(&feed.from) || stood) && self.gives(feed.from, owner);
                let cut = self.scene.exact_only && feed.approximate.is_some();
                !cut && (!fed || source)
                    && self.scene.matches(&feed.when, Some(owner))
                    && feed.through.iter().all(|d| self.conducts(*d, owner))
            }
        }
    }
}
