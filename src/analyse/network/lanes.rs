//! Many scenarios solved together: one bit a lane, in words of `W` times 64.

use super::bits::Bits;
use super::damage::Damage;
use super::graph::{Graph, Op, conduction};
use super::order::Run;
use super::rules::{Rule, Rules};
use super::setting::Setting;
use crate::model::{Model, NodeIx};

/// One bit for each lane.
pub(super) type Word<const W: usize> = [u64; W];

/// One scenario: where controls stand, what is broken, and what stood before.
#[derive(Debug, Clone, Copy)]
pub(super) struct Case<'a> {
    /// Controls and givens.
    pub setting: &'a Setting,
    /// What is broken.
    pub damage: &'a Damage,
    /// What is broken too.
    pub more: Option<&'a Damage>,
    /// Nodes that worked before; empty: from cold.
    pub start: &'a Bits,
}

impl<'a> Case<'a> {
    fn damages(&self) -> impl Iterator<Item = &'a Damage> {
        std::iter::once(self.damage).chain(self.more)
    }

    /// True if something is false in it.
    pub fn misleads(&self) -> bool {
        self.damages().any(|d| !d.false_nodes.is_empty() || !d.trapped.is_empty())
    }
}

/// Which of the three solutions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pass {
    /// As it stands.
    Works,
    /// False nodes held dead.
    True,
    /// False nodes held dead and approximate feeds cut.
    Exact,
}

/// The values of one batch of lanes.
pub(super) struct Lanes<'g, const W: usize> {
    graph: &'g Graph,
    rules: Rules,
    values: Vec<Word<W>>,
    alive: Vec<Word<W>>,
}

/// A node that may give: a control or tripped device only where it conducts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Giver {
    node: NodeIx,
    closed: Option<u32>,
    stands: bool,
    ignored: Option<u32>,
}

impl Giver {
    /// A node in a setting.
    pub fn new(model: &Model, graph: &Graph, setting: &Setting, node: NodeIx) -> Self {
        let condition = conduction(model, node);
        let stands = condition.as_ref().is_none_or(|c| setting.meets(c));
        let ignored = condition.and_then(|c| graph.ignored.get(&(node, c.control)).copied());
        Self { node, closed: graph.closed.get(&node).copied(), stands, ignored }
    }

    /// A node that tells something: it need not conduct.
    pub fn of_information(node: NodeIx) -> Self {
        Self { node, closed: None, stands: true, ignored: None }
    }
}

impl<'g, const W: usize> Lanes<'g, W> {
    /// How many scenarios fit.
    pub const LANES: usize = 64 * W;

    /// Room for a batch.
    pub fn new(graph: &'g Graph, rules: Rules) -> Self {
        let (values, alive) = (vec![[0; W]; graph.values()], vec![[0; W]; graph.sustained.len()]);
        Self { graph, rules, values, alive }
    }

    /// Solves at most [`Self::LANES`] scenarios.
    pub fn solve(&mut self, model: &Model, cases: &[Case], pass: Pass) {
        self.set_leaves(model, cases, pass);
        let alike = alike(cases, |c| std::ptr::from_ref(c.start));
        for (slot, source) in self.graph.sustained.iter().enumerate() {
            self.alive[slot] = word(cases, alike, |c| c.start.has(*source));
        }
        self.settle();
    }

    /// The lanes in which a node works.
    pub fn works(&self, node: NodeIx) -> Word<W> {
        self.values[self.graph.works[node.usize()] as usize]
    }

    /// The lanes in which one of these works and gives.
    pub fn any_gives(&self, givers: &[Giver]) -> Word<W> {
        let leaf = |leaf: Option<u32>, without: u64| leaf.map_or([without; W], |l| self.values[l as usize]);
        givers.iter().fold([0; W], |all, g| {
            let closed = leaf(g.closed, u64::MAX);
            let stands = if g.stands { [u64::MAX; W] } else { leaf(g.ignored, 0) };
            or(all, and(and(self.works(g.node), closed), stands))
        })
    }

    /// What works, by lane.
    pub fn read(&self, lanes: usize) -> Vec<Bits> {
        self.gather(lanes, self.graph.works.iter().enumerate().map(|(n, value)| (NodeIx::new(n), *value)))
    }

    /// Which passed devices with needs of their own conduct, by lane.
    pub fn read_coils(&self, lanes: usize) -> Vec<Bits> {
        self.gather(lanes, self.graph.coils.iter().copied())
    }

    fn gather(&self, lanes: usize, of: impl Iterator<Item = (NodeIx, u32)>) -> Vec<Bits> {
        let mut all = vec![Bits::new(self.graph.first_condition); lanes];
        for (node, value) in of {
            let word = self.values[value as usize];
            for (lane, bits) in all.iter_mut().enumerate() {
                bits.put_if(node, word[lane / 64] >> (lane % 64) & 1);
            }
        }
        all
    }

    fn set_leaves(&mut self, model: &Model, cases: &[Case], pass: Pass) {
        let graph = self.graph;
        let nodes = graph.first_condition;
        let alike = alike(cases, |c| std::ptr::from_ref(c.setting));
        self.values[..nodes].fill([u64::MAX; W]);
        for (given, row) in model.givens.iter().enumerate() {
            let holds = |c: &Case| c.setting.situation.givens.get(given).copied().unwrap_or(row.normally);
            if self.rules.hold(Rule::Givens) {
                self.values[row.node.usize()] = word(cases, alike, holds);
            }
        }
        for condition in 0..graph.conditions.len() {
            self.values[nodes + condition] = word(cases, alike, |c| c.setting.met[condition]);
        }
        self.values[nodes + graph.conditions.len()..graph.leaves].fill([u64::MAX; W]);
        graph.ignored.values().chain(graph.trapped.values()).for_each(|leaf| self.values[*leaf as usize] = [0; W]);
        if pass == Pass::Exact {
            self.values[graph.exact] = [0; W];
        }
        for (lane, case) in cases.iter().enumerate() {
            case.damages().for_each(|damage| self.damage(lane, damage, pass));
        }
    }

    fn damage(&mut self, lane: usize, damage: &Damage, pass: Pass) {
        let (at, bit) = (lane / 64, 1u64 << (lane % 64));
        let dead = if pass == Pass::Works { &[][..] } else { &damage.false_nodes };
        for node in damage.taken.iter().chain(dead) {
            self.values[node.usize()][at] &= !bit;
        }
        for leaf in damage.tripped.iter().filter_map(|n| self.graph.closed.get(n)) {
            self.values[*leaf as usize][at] &= !bit;
        }
        let shut_in = if pass == Pass::Works { &damage.trapped[..] } else { &[] };
        for leaf in shut_in.iter().filter_map(|n| self.graph.trapped.get(n)) {
            self.values[*leaf as usize][at] |= bit;
        }
        for leaf in damage.ignored.iter().filter_map(|pair| self.graph.ignored.get(pair)) {
            self.values[*leaf as usize][at] |= bit;
        }
    }

    /// Lets go what no longer stands, then lets come alive what can.
    fn settle(&mut self) {
        let graph = self.graph;
        self.sweep(&graph.runs);
        if self.rules.hold(Rule::LetGo) {
            while self.update(and) {
                self.sweep(&graph.late);
            }
        }
        while self.update(or) {
            self.sweep(&graph.late);
        }
    }

    /// New memory of the sustained sources; true if it changed.
    fn update(&mut self, with: impl Fn(Word<W>, Word<W>) -> Word<W>) -> bool {
        let mut changed = false;
        for (slot, source) in self.graph.sustained.iter().enumerate() {
            let now = self.values[self.graph.works[source.usize()] as usize];
            let new = with(self.alive[slot], now);
            changed |= new != self.alive[slot];
            self.alive[slot] = new;
        }
        changed
    }

    fn sweep(&mut self, runs: &[Run]) {
        for run in runs {
            if run.ring { self.ring(run) } else { self.straight(run) }
        }
    }

    fn straight(&mut self, run: &Run) {
        for gate in run.gates.clone() {
            self.values[self.graph.leaves + gate] = self.value(gate);
        }
    }

    /// The least solution of a ring: from nothing upwards, until nothing changes.
    fn ring(&mut self, run: &Run) {
        let leaves = self.graph.leaves;
        let start = if self.rules.hold(Rule::Least) { [0; W] } else { [u64::MAX; W] };
        self.values[leaves + run.gates.start..leaves + run.gates.end].fill(start);
        loop {
            let mut changed = false;
            for gate in run.gates.clone() {
                let value = self.value(gate);
                changed |= value != self.values[leaves + gate];
                self.values[leaves + gate] = value;
            }
            if !changed {
                return;
            }
        }
    }

    fn value(&self, gate: usize) -> Word<W> {
        let children = self.graph.of(gate).iter().map(|c| self.values[*c as usize]);
        match self.graph.ops[gate] {
            Op::And => children.fold([u64::MAX; W], and),
            Op::Or => children.fold([0; W], or),
            Op::Kept(slot) => children.fold(self.alive[slot as usize], or),
            Op::AtLeast(count) => at_least(count as usize, children),
        }
    }
}

/// Lanes in which at least so many of the words are set: `seen[k]` says that more than `k` were.
fn at_least<const W: usize>(count: usize, words: impl Iterator<Item = Word<W>>) -> Word<W> {
    let mut seen: Vec<Word<W>> = vec![[0; W]; count];
    for word in words {
        for k in (1..count).rev() {
            seen[k] = or(seen[k], and(seen[k - 1], word));
        }
        if let Some(first) = seen.first_mut() {
            *first = or(*first, word);
        }
    }
    seen.last().copied().unwrap_or([u64::MAX; W])
}

pub(super) fn and<const W: usize>(a: Word<W>, b: Word<W>) -> Word<W> {
    std::array::from_fn(|i| a[i] & b[i])
}

pub(super) fn or<const W: usize>(a: Word<W>, b: Word<W>) -> Word<W> {
    std::array::from_fn(|i| a[i] | b[i])
}

pub(super) fn not<const W: usize>(a: Word<W>) -> Word<W> {
    a.map(|word| !word)
}

/// True if all cases share one thing.
fn alike<'a, T>(cases: &[Case<'a>], thing: impl Fn(&Case<'a>) -> *const T) -> bool {
    cases.windows(2).all(|pair| thing(&pair[0]) == thing(&pair[1]))
}

/// One bit a case; the first one's for all where they are alike.
fn word<const W: usize>(cases: &[Case], alike: bool, holds: impl Fn(&Case) -> bool) -> Word<W> {
    if alike {
        return if cases.first().is_some_and(holds) { [u64::MAX; W] } else { [0; W] };
    }
    let mut word = [0; W];
    for (lane, case) in cases.iter().enumerate() {
        word[lane / 64] |= u64::from(holds(case)) << (lane % 64);
    }
    word
}

/// Numbers of the lanes that are set.
pub(super) fn lanes_of<const W: usize>(word: Word<W>) -> impl Iterator<Item = usize> {
    (0..W).flat_map(move |i| {
        let mut rest = word[i];
        std::iter::from_fn(move || {
            let bit = (rest != 0).then(|| rest.trailing_zeros() as usize)?;
            rest &= rest - 1;
            Some(i * 64 + bit)
        })
    })
}
