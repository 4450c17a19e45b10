//! Sorts gates so that each comes after what it hangs on; gates in a ring stay together, to be worked until nothing changes.
//!
//! # Source
//! R. Tarjan, Depth-first search and linear graph algorithms, SIAM Journal on Computing 1 (1972), written without recursion.

use super::graph::{Graph, LEAF, Op};
use std::ops::Range;

/// A stretch of gates.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Run {
    /// Places of the gates.
    pub gates: Range<usize>,
    /// They hang on each other.
    pub ring: bool,
}

/// Puts the gates (children of leaves marked with [`LEAF`]) into the graph in the order of working. The first gates are those of the nodes.
pub(super) fn sort(graph: &mut Graph, gates: &[(Op, Vec<u32>)]) {
    let components = components(gates);
    let mut place = vec![0u32; gates.len()];
    components.iter().flatten().enumerate().for_each(|(i, gate)| place[*gate as usize] = i as u32);
    let leaves = graph.leaves as u32;
    let value = |child: u32| if child & LEAF == 0 { leaves + place[child as usize] } else { child & !LEAF };
    graph.works = (0..graph.first_condition).map(|node| value(node as u32)).collect();
    graph.coils.iter_mut().for_each(|(_, gate)| *gate = value(*gate));
    let mut late = vec![false; gates.len()];
    for component in &components {
        let hangs = |gate: &u32| {
            let (op, children) = &gates[*gate as usize];
            matches!(op, Op::Kept(_)) || children.iter().any(|c| c & LEAF == 0 && late[place[*c as usize] as usize])
        };
        let is_late = component.iter().any(hangs);
        let start = graph.ops.len();
        for gate in component {
            let (op, children) = &gates[*gate as usize];
            late[place[*gate as usize] as usize] = is_late;
            graph.first.push(graph.children.len() as u32);
            graph.children.extend(children.iter().map(|c| value(*c)));
            graph.ops.push(*op);
        }
        let ring = component.len() > 1 || component.iter().any(|g| gates[*g as usize].1.contains(g));
        push(&mut graph.runs, start..graph.ops.len(), ring);
        if is_late {
            push(&mut graph.late, start..graph.ops.len(), ring);
        }
    }
    graph.first.push(graph.children.len() as u32);
}

/// Adds a stretch, joined to the one before where neither is a ring.
fn push(runs: &mut Vec<Run>, gates: Range<usize>, ring: bool) {
    match runs.last_mut() {
        Some(last) if !ring && !last.ring && last.gates.end == gates.start => last.gates.end = gates.end,
        _ => runs.push(Run { gates, ring }),
    }
}

struct Search<'g> {
    gates: &'g [(Op, Vec<u32>)],
    number: Vec<u32>,
    low: Vec<u32>,
    finished: Vec<u32>,
    closed: Vec<bool>,
    stack: Vec<u32>,
    count: u32,
    done: u32,
    components: Vec<Vec<u32>>,
}

fn components(gates: &[(Op, Vec<u32>)]) -> Vec<Vec<u32>> {
    let n = gates.len();
    let mut search = Search {
        gates,
        number: vec![0; n],
        low: vec![0; n],
        finished: vec![0; n],
        closed: vec![false; n],
        stack: Vec::new(),
        count: 0,
        done: 0,
        components: Vec::new(),
    };
    (0..n as u32).for_each(|gate| search.from(gate));
    search.components
}

impl Search<'_> {
    fn from(&mut self, root: u32) {
        if self.number[root as usize] != 0 {
            return;
        }
        let mut path = vec![(root, 0)];
        self.enter(root);
        while let Some((gate, next)) = path.last_mut() {
            let (gate, child) = (*gate, self.gates[*gate as usize].1.get(*next).copied());
            *next += 1;
            match child {
                Some(child) if child & LEAF != 0 || self.closed[child as usize] => {}
                Some(child) if self.number[child as usize] == 0 => {
                    self.enter(child);
                    path.push((child, 0));
                }
                Some(child) => self.low[gate as usize] = self.low[gate as usize].min(self.number[child as usize]),
                None => {
                    path.pop();
                    self.leave(gate);
                    if let Some((above, _)) = path.last() {
                        self.low[*above as usize] = self.low[*above as usize].min(self.low[gate as usize]);
                    }
                }
            }
        }
    }

    fn enter(&mut self, gate: u32) {
        self.count += 1;
        self.number[gate as usize] = self.count;
        self.low[gate as usize] = self.count;
        self.stack.push(gate);
    }

    /// A gate is finished after its children: within a ring that is the best order to work it in.
    fn leave(&mut self, gate: u32) {
        self.done += 1;
        self.finished[gate as usize] = self.done;
        if self.low[gate as usize] != self.number[gate as usize] {
            return;
        }
        let mut component = Vec::new();
        while let Some(member) = self.stack.pop() {
            self.closed[member as usize] = true;
            component.push(member);
            if member == gate {
                break;
            }
        }
        component.sort_unstable_by_key(|g| self.finished[*g as usize]);
        self.components.push(component);
    }
}
