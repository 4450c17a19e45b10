//! Part of pass 3: columns by the longest way from a source; edges that pass columns are cut.

use super::layers::{Edge, Layers, Stands, Vertex, empty};
use crate::diagram::plan::{Form, Plan};
use std::collections::BTreeMap;

/// Longest way; what nothing joins stands side by side.
pub(super) fn rank(layers: &mut Layers) {
    if layers.edges.is_empty() {
        layers.vertices.iter_mut().enumerate().for_each(|(at, v)| v.column = at);
        return;
    }
    let outs = Outs::of(layers);
    for vertex in in_order(layers, &outs) {
        let least = layers.vertices[vertex].column + 1;
        for to in outs.of_vertex(vertex) {
            layers.vertices[*to].column = layers.vertices[*to].column.max(least);
        }
    }
}

/// Where the edges of each vertex end, vertex after vertex.
struct Outs {
    begins: Vec<usize>,
    ends: Vec<usize>,
}

impl Outs {
    fn of(layers: &Layers) -> Self {
        let mut begins = vec![0; layers.vertices.len() + 1];
        layers.edges.iter().for_each(|e| begins[e.from + 1] += 1);
        for vertex in 1..begins.len() {
            begins[vertex] += begins[vertex - 1];
        }
        let (mut next, mut ends) = (begins.clone(), vec![0; layers.edges.len()]);
        for edge in &layers.edges {
            ends[next[edge.from]] = edge.to;
            next[edge.from] += 1;
        }
        Self { begins, ends }
    }

    fn of_vertex(&self, vertex: usize) -> &[usize] {
        &self.ends[self.begins[vertex]..self.begins[vertex + 1]]
    }
}

/// Vertices, each after all from which its edges come.
fn in_order(layers: &Layers, outs: &Outs) -> Vec<usize> {
    let mut waits = vec![0_usize; layers.vertices.len()];
    layers.edges.iter().for_each(|e| waits[e.to] += 1);
    let mut order: Vec<usize> = (0..waits.len()).filter(|v| waits[*v] == 0).collect();
    let mut next = 0;
    while let Some(vertex) = order.get(next).copied() {
        next += 1;
        for to in outs.of_vertex(vertex) {
            waits[*to] -= 1;
            if waits[*to] == 0 {
                order.push(*to);
            }
        }
    }
    order
}

/// Makes edges shorter: a vertex with more edges out than in moves on as far as they let it, and the other way round.
pub(super) fn tighten(layers: &mut Layers) {
    let order = in_order(layers, &Outs::of(layers));
    let mut span: Vec<(Vec<usize>, Vec<usize>)> = vec![(Vec::new(), Vec::new()); layers.vertices.len()];
    for edge in &layers.edges {
        span[edge.from].1.push(edge.to);
        span[edge.to].0.push(edge.from);
    }
    let last = layers.vertices.iter().map(|v| v.column).max().unwrap_or(0);
    for _ in 0..8 {
        let mut moved = false;
        for vertex in order.iter().rev().chain(&order).copied() {
            let (ins, outs) = &span[vertex];
            let low = ins.iter().map(|v| layers.vertices[*v].column + 1).max().unwrap_or(0);
            let high = outs.iter().map(|v| layers.vertices[*v].column - 1).min().unwrap_or(last);
            let now = layers.vertices[vertex].column;
            let to = match ins.len().cmp(&outs.len()) {
                std::cmp::Ordering::Less => high,
                std::cmp::Ordering::Greater => low,
                std::cmp::Ordering::Equal => now,
            };
            moved |= to != now;
            layers.vertices[vertex].column = to;
        }
        if !moved {
            break;
        }
    }
}

/// Takers stand in the last column.
pub(super) fn takers_last(layers: &mut Layers, plan: &Plan) {
    if layers.edges.is_empty() {
        return;
    }
    let last = layers.vertices.iter().map(|v| v.column).max().unwrap_or(0);
    for vertex in &mut layers.vertices {
        if matches!(vertex.stands, Stands::Part(p) if plan.parts[p].form == Form::Taker) {
            vertex.column = last;
        }
    }
}

/// Cuts edges that pass columns; edges from one vertex share the way.
pub(super) fn pass_columns(layers: &mut Layers) {
    let mut passing: BTreeMap<(usize, usize, usize, bool), usize> = BTreeMap::new();
    for at in 0..layers.edges.len() {
        let edge = layers.edges[at].clone();
        let mut from = edge.from;
        for column in layers.vertices[edge.from].column + 1..layers.vertices[edge.to].column {
            let known = passing.get(&(edge.from, edge.medium, column, edge.own)).copied();
            from = known.unwrap_or_else(|| {
                layers.vertices.push(Vertex { column, height: 6.0, out: 3.0, ..empty(Stands::Passing) });
                let new = layers.vertices.len() - 1;
                let own = edge.own && from == edge.from;
                layers.edges.push(Edge { from, to: new, slot: 0, wedge: false, own, ..edge.clone() });
                passing.insert((edge.from, edge.medium, column, edge.own), new);
                new
            });
        }
        layers.edges[at].from = from;
        layers.edges[at].own &= from == edge.from;
    }
}
