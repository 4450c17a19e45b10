//! Part of pass 6: a line that comes in where another leaves would run along it; it gives way a little.
//!
//! Only vertices that have room for it give way: ends of edges at plain boxes, and lines that pass a column.

use super::layers::{Layers, Stands};
use super::route::NEAR;

/// How far a line gives way, tried in turn, pt.
const STEPS: [f64; 16] = [1.5, -1.5, 2.6, -2.6, 3.4, -3.4, 4.5, -4.5, 5.5, -5.5, 6.5, -6.5, 8.0, -8.0, 10.0, -10.0];
/// Least distance of two ends at one box, and of an end from the corner of a box, pt.
const END_APART: f64 = 4.0;

/// Parts the lines that come to a column from those that leave the column before.
pub(super) fn part(layers: &mut Layers, column: usize) {
    let mut leaving: Vec<(f64, usize)> = layers.columns[column - 1]
        .iter()
        .flat_map(|v| layers.out_of(*v))
        .map(|e| (layers.edges[e].leaves, layers.edges[e].from))
        .collect();
    leaving.sort_by(|a, b| a.0.total_cmp(&b.0));
    let edges: Vec<usize> = layers.columns[column].iter().flat_map(|v| layers.ins(*v).collect::<Vec<_>>()).collect();
    for edge in edges {
        give_way(layers, edge, &leaving);
    }
}

fn near(leaving: &[(f64, usize)], y: f64, but: usize) -> bool {
    let begin = leaving.partition_point(|(l, _)| *l < y - NEAR);
    leaving[begin..].iter().take_while(|(l, _)| *l < y + NEAR).any(|(_, from)| *from != but)
}

fn give_way(layers: &mut Layers, at: usize, leaving: &[(f64, usize)]) {
    let edge = layers.edges[at].clone();
    let y = layers.enters(&edge);
    if (y - edge.leaves).abs() < 0.05 || !near(leaving, y, edge.from) {
        return;
    }
    let free = |step: &&f64| !near(leaving, y + **step, edge.from) && has_room(layers, edge.to, edge.slot, **step);
    let Some(step) = STEPS.iter().find(free) else { return };
    let vertex = &mut layers.vertices[edge.to];
    if vertex.stands == Stands::Passing {
        vertex.y += step;
        let out: Vec<usize> = layers.out_of(edge.to).collect();
        out.into_iter().for_each(|e| layers.edges[e].leaves += step);
    } else if let Some(slot) = vertex.slots.get_mut(edge.slot) {
        slot.1 += step;
    }
}

fn has_room(layers: &Layers, vertex: usize, slot: usize, step: f64) -> bool {
    let v = &layers.vertices[vertex];
    match v.stands {
        Stands::Passing => super::place::keeps_apart(layers, vertex, step, 0.5),
        Stands::Plain => {
            let Some(to) = v.slots.get(slot).map(|s| s.1 + step) else { return false };
            let mut others = v.slots.iter().enumerate().filter(|(at, _)| *at != slot);
            to > END_APART && to < v.height - END_APART && others.all(|(_, o)| (o.1 - to).abs() >= END_APART)
        }
        _ => false,
    }
}
