//! Part of pass 6: a line that comes in where another leaves would run along it; it gives way a little.
//!
//! Only what has room for it gives way: ends of edges at boxes, lines that pass a column, and chains of devices.

use super::layers::{Layers, Slot, Stands};
use super::route::NEAR;

/// How far a line gives way, tried in turn, pt.
const STEPS: [f64; 16] = [1.5, -1.5, 2.6, -2.6, 3.4, -3.4, 4.5, -4.5, 5.5, -5.5, 6.5, -6.5, 8.0, -8.0, 10.0, -10.0];
/// Least distance of two ends at one box, and of an end from the corner of a box, pt.
const END_APART: f64 = 4.0;

/// How far an end gives way at a box whose lettering and brackets stand beside it, pt.
const MOST_AT_PARTS: f64 = 2.7;

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
    if moves_whole(&vertex.stands) {
        vertex.y += step;
        let out: Vec<usize> = layers.out_of(edge.to).collect();
        out.into_iter().for_each(|e| layers.edges[e].leaves += step);
    } else if let Some(slot) = vertex.slots.get_mut(edge.slot) {
        slot.1 += step;
    }
}

/// What has one line in and goes on with it moves as a whole.
fn moves_whole(stands: &Stands) -> bool {
    matches!(stands, Stands::Passing | Stands::Chain(..))
}

fn has_room(layers: &Layers, vertex: usize, slot: usize, step: f64) -> bool {
    let v = &layers.vertices[vertex];
    let (most, apart, corner) = match v.stands {
        Stands::Passing => return super::place::keeps_apart(layers, vertex, step, 0.5),
        Stands::Chain(..) => return super::place::keeps_apart(layers, vertex, step, 2.0),
        Stands::Plain => (f64::MAX, END_APART, END_APART),
        _ => (MOST_AT_PARTS, 2.0 * END_APART - 2.0, 2.0),
    };
    let Some((Slot::Link(_), at)) = v.slots.get(slot) else { return false };
    let to = at + step;
    let mut others = v.slots.iter().enumerate().filter(|(at, _)| *at != slot);
    step.abs() <= most && to > corner && to < v.height - corner && others.all(|(_, o)| (o.1 - to).abs() >= apart)
}
