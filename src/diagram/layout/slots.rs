//! Part of pass 5: two feeds of one part change places at its border where that saves crossings as they are drawn.

use super::build::Stock;
use super::layers::{Layers, Slot, Stands};
use super::parts::Parts;
use super::{leave, order, route};
use crate::diagram::plan::Form;
use std::collections::BTreeMap;

/// Tries every two feeds of every part; true if any changed places.
pub(super) fn untangle(layers: &mut Layers, stock: &Stock<'_>, idle: &Parts) -> bool {
    let mut changed = false;
    for column in 1..layers.columns.len() {
        let mut now = route::crossings_after(layers, column - 1);
        for vertex in layers.columns[column].clone() {
            if now > 0 {
                changed |= untangle_one(layers, (stock, idle), vertex, &mut now);
            }
        }
    }
    changed
}

fn untangle_one(layers: &mut Layers, (stock, idle): (&Stock<'_>, &Parts), vertex: usize, now: &mut usize) -> bool {
    let Stands::Part(part) = layers.vertices[vertex].stands else { return false };
    let (part, column) = (stock.shown(part, idle), layers.vertices[vertex].column);
    let links: Vec<(usize, f64)> = links(layers, vertex);
    if part.form == Form::Bar || links.len() < 2 {
        return false;
    }
    let mut keys: BTreeMap<usize, f64> = links.iter().copied().collect();
    let mut changed = false;
    for (at, (a, _)) in links.iter().enumerate() {
        for (b, _) in &links[at + 1..] {
            let (before, mut swapped) = (layers.vertices[vertex].clone(), keys.clone());
            swapped.insert(*a, keys[b]);
            swapped.insert(*b, keys[a]);
            let key = |link: usize| swapped.get(&link).copied().unwrap_or(0.0);
            order::sort_part(&mut layers.vertices[vertex], part, &key);
            if layers.vertices[vertex].slots == before.slots {
                continue; // They stand in different rows, and nothing moved.
            }
            leave_before(layers, column);
            let then = route::crossings_after(layers, column - 1);
            if then < *now {
                (*now, keys, changed) = (then, swapped, true);
            } else {
                layers.vertices[vertex] = before;
                leave_before(layers, column);
            }
        }
    }
    changed
}

/// Feeds that come in at a vertex, with their heights.
fn links(layers: &Layers, vertex: usize) -> Vec<(usize, f64)> {
    let link = |(slot, y): &(Slot, f64)| if let Slot::Link(link) = slot { Some((*link, *y)) } else { None };
    layers.vertices[vertex].slots.iter().filter_map(link).collect()
}

/// Bars of the column before let their feeds leave anew.
fn leave_before(layers: &mut Layers, column: usize) {
    for vertex in layers.columns[column - 1].clone() {
        if layers.vertices[vertex].is_bar {
            leave::leave_one(layers, vertex);
        }
    }
}
