//! Pass 4. Before: columns in any order. After: few edges cross; slots of a part stand as their feeds come.

use super::layers::{Layers, Slot, Stands, arrange};
use crate::diagram::plan::Plan;

/// Sweeps there and back.
const SWEEPS: usize = 12;

/// Orders every column by the middle of its neighbours, there and back, and keeps the best order seen.
pub(super) fn improve(layers: &mut Layers, plan: &Plan) {
    let mut best = (crossings(layers), layers.columns.clone());
    for sweep in 0..SWEEPS {
        let forward = sweep % 2 == 0;
        let count = layers.columns.len();
        for step in 1..count {
            let column = if forward { step } else { count - 1 - step };
            sort_column(layers, column, forward);
        }
        let now = crossings(layers);
        if now < best.0 {
            best = (now, layers.columns.clone());
        }
    }
    layers.columns = best.1;
    swap_neighbours(layers);
    sort_slots(layers, plan);
}

/// Place of each vertex in its column.
fn places(layers: &Layers) -> Vec<f64> {
    let mut places = vec![0.0; layers.vertices.len()];
    for column in &layers.columns {
        for (at, vertex) in column.iter().enumerate() {
            places[*vertex] = at as f64;
        }
    }
    places
}

fn sort_column(layers: &mut Layers, column: usize, forward: bool) {
    let places = places(layers);
    let middle = |vertex: usize| {
        let near: Vec<f64> = layers
            .edges
            .iter()
            .filter(|e| if forward { e.to == vertex } else { e.from == vertex })
            .map(|e| places[if forward { e.from } else { e.to }] + 0.01 * e.slot as f64)
            .collect();
        if near.is_empty() { places[vertex] } else { near.iter().sum::<f64>() / near.len() as f64 }
    };
    let mut order: Vec<(f64, usize)> = layers.columns[column].iter().map(|v| (middle(*v), *v)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    layers.columns[column] = order.into_iter().map(|(_, v)| v).collect();
}

/// Edges that cross, over all pairs between the same columns.
fn crossings(layers: &Layers) -> usize {
    let places = places(layers);
    let ends = |e: &super::layers::Edge| (places[e.from], places[e.to] + 0.01 * e.slot as f64);
    let mut count = 0;
    for (at, a) in layers.edges.iter().enumerate() {
        for b in layers.edges.iter().skip(at + 1) {
            let same = layers.vertices[a.from].column == layers.vertices[b.from].column;
            let ((a1, a2), (b1, b2)) = (ends(a), ends(b));
            count += usize::from(same && (a1 - b1) * (a2 - b2) < 0.0);
        }
    }
    count
}

/// Swaps neighbours of a column as long as that helps.
fn swap_neighbours(layers: &mut Layers) {
    let mut now = crossings(layers);
    for _ in 0..4 {
        let before = now;
        for column in 0..layers.columns.len() {
            for at in 1..layers.columns[column].len() {
                layers.columns[column].swap(at - 1, at);
                let swapped = crossings(layers);
                if swapped < now {
                    now = swapped;
                } else {
                    layers.columns[column].swap(at - 1, at);
                }
            }
        }
        if now == before {
            break;
        }
    }
}

fn sort_slots(layers: &mut Layers, plan: &Plan) {
    let places = places(layers);
    for vertex in 0..layers.vertices.len() {
        let Stands::Part(part) = layers.vertices[vertex].stands else { continue };
        let comes = |link: usize| {
            let slot = layers.vertices[vertex].slots.iter().position(|(s, _)| *s == Slot::Link(link));
            let edge = layers.edges.iter().find(|e| e.to == vertex && Some(e.slot) == slot);
            edge.map_or(0.0, |e| places[e.from])
        };
        let part = &plan.parts[part];
        let mut sorted = layers.vertices[vertex].clone();
        if part.form == crate::diagram::plan::Form::Taker {
            sort_taker(&mut sorted, &comes);
        } else {
            arrange(&mut sorted, part, &comes);
        }
        layers.vertices[vertex] = sorted;
    }
}

fn sort_taker(vertex: &mut super::layers::Vertex, comes: &dyn Fn(usize) -> f64) {
    let mut heights: Vec<f64> = vertex.slots.iter().map(|s| s.1).collect();
    heights.sort_by(f64::total_cmp);
    let key = |slot: &Slot| if let Slot::Link(link) = slot { comes(*link) } else { 0.0 };
    let mut order: Vec<usize> = (0..vertex.slots.len()).collect();
    order.sort_by(|a, b| key(&vertex.slots[*a].0).total_cmp(&key(&vertex.slots[*b].0)));
    for (height, slot) in heights.into_iter().zip(order) {
        vertex.slots[slot].1 = height;
    }
}
